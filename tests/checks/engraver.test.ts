// The files in the hands of a general engraver, LilyPond (Debian package lilypond): it must read from them what we wrote.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseMidi } from 'midi-file';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chartToMusicXml, toMusicXml } from '../../src/export';
import { positionName } from '../../src/instrument';
import { readChart } from '../../src/pipeline';
import { walked } from '../pipeline/request';

const canRun = (program: string): boolean => spawnSync(program, ['--version']).status === 0;
const missing = ['musicxml2ly', 'lilypond'].filter((program) => !canRun(program));
const need = missing.length > 0 ? '; needs lilypond (Debian package lilypond)' : '';

describe.skipIf(missing.length > 0)(`a general engraver reads${need}`, () => {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'ramble-engraver-'));
  });
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });

  /** Runs to the end, or fails the test with what was said. */
  function run(program: string, args: readonly string[]): void {
    const { status, stderr } = spawnSync(program, args, { cwd: folder, encoding: 'utf8' });
    if (status !== 0) throw new Error(`${program}: ${stderr}`);
  }
  /** The file as the engraver's own text. */
  function converted(name: string, xml: string): string {
    writeFileSync(join(folder, `${name}.musicxml`), xml);
    run('musicxml2ly', ['-m', `${name}.musicxml`, '-o', `${name}.ly`]);
    return readFileSync(join(folder, `${name}.ly`), 'utf8');
  }

  it('a study: pitches where they sound, chords, fingers, strings, positions and tempo', () => {
    const { timeline, line } = walked(
      'Title: Read Elsewhere\nKey: Bb\nTempo: 138\n\n| Bb6 G7b9 | Cm7 F7 | Dm7b5 G7alt | Cmaj7/E Ebdim7 |',
      { take: { seed: 4, temperature: 1 } },
    );
    const ly = converted('study', toMusicXml(timeline, line, { positionName, withDevices: true }));
    // Its lines are broken wherever they are full.
    const onOneLine = (part: RegExp): string => part.exec(ly)![0].replace(/\s+/g, ' ');
    const music = onOneLine(/VoiceOne = [\s\S]*?\n {4}\}/);
    const chords = onOneLine(/Chords = [\s\S]*?\n {4}\}/);

    // A finger is -1, an open string \open, the thumb \thumb; a string is \3.
    const fingers = [...music.matchAll(/-(\d)(?=\s+\\\d)|\\(open|thumb)/g)].map(
      ([, digit, sign]) => digit ?? (sign === 'open' ? '0' : 'T'),
    );
    expect(fingers).toEqual(line.notes.map(({ placement }) => placement.finger));
    const strings = [...music.matchAll(/\\([1-5])\b/g)].map(([, string]) => Number(string));
    expect(strings).toEqual(line.notes.map(({ placement }) => placement.string));

    const symbols = [...chords.matchAll(/\b([a-g](?:es|is|s)?)\d[\d*]*(:[^ ]*?)?(\/[a-g]\w*)?(?= )/g)].map(
      ([, root, kind = '', bass = '']) => root! + kind + bass,
    );
    // An altered chord by its tones, the fifth taken out (^5); /+ adds a bass that is no lowest chord tone.
    expect(symbols).toEqual([
      ...['bes:6', 'g:7.9-', 'c:m7', 'f:7', 'd:dim5m7', 'g:7.9-.9+.11+.13-^5', 'c:maj7/+e', 'es:dim7'],
    ]);
    const words = [...music.matchAll(/_ "([^"]+)"/g)].map(([, name]) => name);
    expect(words.length).toBeGreaterThan(0);
    expect(words).toEqual(words.filter((name) => /^(half|[IV]+½?)$/.test(name!)));
    expect(music).toMatch(/\\tempo "Swing" 4=138/);
    expect(ly).toContain('"Read Elsewhere"');

    run('lilypond', ['-s', '-o', 'study', 'study.ly']);
    expect(readFileSync(join(folder, 'study.pdf')).subarray(0, 5).toString('latin1')).toBe('%PDF-');
    const { header, tracks } = parseMidi(readFileSync(join(folder, 'study.midi')));
    const sounds = tracks.at(-1)!.reduce<{ tick: number; notes: { midi: number; quarters: number }[] }>(
      ({ tick, notes }, event) => {
        const now = tick + event.deltaTime;
        const isOn = event.type === 'noteOn' && event.velocity > 0;
        return {
          tick: now,
          notes: isOn ? [...notes, { midi: event.noteNumber, quarters: now / header.ticksPerBeat! }] : notes,
        };
      },
      { tick: 0, notes: [] },
    ).notes;
    expect(sounds.map(({ midi }) => midi)).toEqual(line.notes.map(({ midi }) => midi));
    // Its score for sound plays the chord symbols first, then the staff.
    sounds.forEach(({ quarters }, index) => {
      expect(quarters - sounds[0]!.quarters).toBeCloseTo(line.notes[index]!.tick / 480, 1);
    });
  }, 240_000);

  it('a chart: its repeats and both endings', () => {
    const { chart } = readChart(
      'Key: C\nTempo: 96\n\n|: C6 | Am7 | Dm7 G7 |1. C6 | G7 :|2. C6 | C6 ||\n| F7 | C6 |',
    );
    const ly = converted('chart', chartToMusicXml(chart));
    const bars = /VoiceOne = [\s\S]*?\n {4}\S[^\n]*\}\n/.exec(ly)![0];
    const shape = bars
      .replaceAll(/% \d+|\\barNumberCheck #\d+|\\tempo "[^"]*" \S+/g, ' ')
      .replaceAll(/R1|r2 r2/g, '*')
      .replaceAll(/\\repeat\s+volta 2 \{/g, 'R(')
      .replaceAll(/\\alternative \{ \{/g, 'A(')
      .replaceAll(/[^*RA()}]|relative/g, '');
    // Three bars, two for the first ending, two for the second, two more.
    expect(shape.replaceAll('}', ')').slice(shape.indexOf('R('))).toMatch(
      /^R\(\*{3}\)A\(\*\*\).*\*\*\)\)\*\*\)$/,
    );
    expect(bars).toContain('4=96');
  }, 240_000);
});
