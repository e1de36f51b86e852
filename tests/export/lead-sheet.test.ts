// What a reader of the page sees of an exported chart or line: nothing twice, nothing that the text says already.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import abcjs from 'abcjs';
import { describe, expect, it } from 'vitest';
import { chartToAbc, chartToMusicXml, toMusicXml } from '../../src/export';
import { positionName } from '../../src/instrument';
import { importText, readChart } from '../../src/pipeline';
import { walked } from '../pipeline/request';

const chartOf = (text: string): ReturnType<typeof readChart>['chart'] => readChart(text).chart;
const count = (text: string, part: string | RegExp): number => text.split(part).length - 1;

describe('a lead sheet', () => {
  const silent = chartOf('| C7 | N.C. | N.C. / / F7 | N.C. | N.C. |');

  it('says N.C. where the silence begins, and reads the same again', () => {
    expect(count(chartToMusicXml(silent), '>none</kind>')).toBe(2);
    expect(count(chartToAbc(silent), '"N.C."')).toBe(2);
    for (const text of [chartToMusicXml(silent), chartToAbc(silent)]) {
      const symbols = importText(text).chart.bars.map(({ chords }) =>
        chords.map(({ chord, offset }) => `${chord?.symbol ?? 'N.C.'}@${offset}`),
      );
      expect(symbols).toEqual([['C7@0'], ['N.C.@0'], ['N.C.@0', 'F7@1440'], ['N.C.@0'], ['N.C.@0']]);
    }
  });

  it('begins with N.C. where the tune does', () => {
    expect(count(chartToMusicXml(chartOf('| N.C. | C7 |')), '>none</kind>')).toBe(1);
  });

  it('leaves no degree to be printed beside the text that says it', () => {
    const xml = chartToMusicXml(chartOf('| C7alt | Dm7b5 | G7b9b13 | C6/9 |'));
    expect(count(xml, '<degree>')).toBe(0);
    expect(count(xml, '<degree print-object="no">')).toBeGreaterThan(5);
    expect(xml).toContain('<kind text="7alt">');
  });

  it('has no signs in quotation marks but chords and words, and keeps its similes', () => {
    const chart = chartOf('Title: 50 % more\n[A]\n| C7 | % | F7 | G7 | %% |');
    const abc = chartToAbc(chart);
    expect([...abc.matchAll(/"([^"]*)"/g)].filter(([, text]) => text!.includes('%'))).toEqual([]);
    const { bars } = importText(abc).chart;
    expect(bars.map(({ simile }) => simile)).toEqual([null, 1, null, null, 2, 2]);
    expect(bars.map(({ section }) => section)).toEqual(['A', null, null, null, null, null]);
  });

  it('shows an independent reader the chords of every bar and no other texts', () => {
    const abc = chartToAbc(chartOf('[A]\n| C7 | % | F7 Bb7 | N.C. |\n[B]\n| N.C. | G7alt |'));
    const [tune] = abcjs.parseOnly(abc);
    const chords = tune.lines.flatMap(({ staff }) =>
      (staff ?? []).flatMap(({ voices }) =>
        (voices ?? []).flat().flatMap((element) => ('chord' in element ? (element.chord ?? []) : [])),
      ),
    );
    expect(chords.map(({ name }) => name.replaceAll('♭', 'b'))).toEqual([
      'C7',
      'C7',
      'F7',
      'Bb7',
      'N.C.',
      'G7alt',
    ]);
    expect(tune.lines.length).toBeGreaterThan(0);
    expect(abc).toContain('P:A\n');
    expect(abc).toContain('P:B\n');
  });
});

/** Another program's reading of MusicXML, Debian package lilypond; null where it is not installed. */
function asLilypond(xml: string): string | null {
  const folder = mkdtempSync(join(tmpdir(), 'ramble-'));
  try {
    writeFileSync(join(folder, 'line.musicxml'), xml);
    execFileSync('musicxml2ly', ['-o', join(folder, 'line.ly'), join(folder, 'line.musicxml')], {
      stdio: 'ignore',
    });
    return readFileSync(join(folder, 'line.ly'), 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe('a line on the page', () => {
  const { timeline, line } = walked('Key: G\n[A]\n| G6 | D7 | G6 | D7 |');
  const xml = toMusicXml(timeline, line, { positionName });

  it('tells an open string once', () => {
    const open = line.notes.filter(({ placement }) => placement.finger === '0').length;
    expect(open).toBeGreaterThan(0);
    expect(count(xml, '<open-string/>')).toBe(open);
    expect(count(xml, '<fingering>0</fingering>')).toBe(0);
  });

  it('has the fingers and strings that it was given, as an independent program reads it', ({ skip }) => {
    const read = asLilypond(xml);
    if (read === null) return skip('musicxml2ly (Debian package lilypond) is not installed');
    const tokens = [...read.matchAll(/\\open|-[1-4T](?=\s)|\\[1-4](?=\s)/g)].map(([token]) => token);
    const fingers = line.notes.map(({ placement }) => placement.finger);
    expect(tokens.filter((token) => token === '\\open')).toHaveLength(
      fingers.filter((one) => one === '0').length,
    );
    expect(tokens.filter((token) => token.startsWith('-')).map((token) => token.slice(1))).toEqual(
      fingers.filter((finger) => finger !== '0' && finger !== 'T'),
    );
    expect(tokens.filter((token) => /\d$/.test(token) && token.startsWith('\\'))).toEqual(
      line.notes.map(({ placement }) => `\\${placement.string}`),
    );
    expect(read).toContain('\\mark \\markup { \\box { A } }');
  });
});
