// MusicXML against the outside world: the W3C MusicXML 4.0 schema, and an engraving program that reads the file on its own.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { parseMidi } from 'midi-file';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { chartToMusicXml, toMidi, toMusicXml } from '../../src/export';
import { makeHand, positionName, type StringNumber } from '../../src/instrument';
import type { Line, LineNote } from '../../src/pipeline';
import { anyLine } from '../export/arbitrary';
import { makeTest, naming } from '../export/build';
import { anyChart } from '../pipeline/import/any-chart';
import { walked, type Walked } from '../pipeline/request';

// The schema as published by the W3C Music Notation Community Group, beside the project; its imports made local.
const schema = fileURLToPath(new URL('../../../shared/musicxml/musicxml.xsd', import.meta.url));

function hasXmllint(): boolean {
  try {
    execFileSync('xmllint', ['--version'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

const missing = [
  ...(existsSync(schema) ? [] : ['the MusicXML schema in ../shared/musicxml']),
  ...(hasXmllint() ? [] : ['xmllint (Debian package libxml2-utils)']),
];

/** The line of a chart played twice. */
const lineOf = (chartText: string, seed = 1): Walked =>
  walked(chartText, { choruses: 2, hand: makeHand(150), take: { seed, temperature: 0.7 } });

const charts = {
  'a blues':
    'Title: Blues\nKey: F\n[A]\n| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | Am7b5 D7b9 | Gm7 | C7 | F7 D7 | Gm7 C7 |',
  'a waltz in flats': 'Key: Db\nMeter: 3/4\nFeel: waltz\n| Dbmaj7 | Ebm7 | Ab7#5 | Dbmaj7 Gb7 |',
  'a two-feel with rests': 'Feel: two-feel\n| Cmaj7 | N.C. | Dm7/C G7/B | C6 |',
  'a bossa': 'Feel: bossa\n| Am7 | D9sus4 D7b9 | Gmaj7 | F#m7b5 B7alt |',
  'changing meters':
    'Meter: 4/4\n| G7 | {3/4} C7 | {5/4} F7 | {6/8} Bb7 | {7/8} Eb7 | {12/8} Ab7 | {2/2} Db7 |',
};

const xmlOf = ({ timeline, line }: Walked): string =>
  toMusicXml(timeline, line, { positionName, withDevices: true });

/** Sounding pitches and onsets in quarter notes, from the notes of all tracks. */
function soundsOf(file: Uint8Array): { midi: number; onset: number; end: number }[] {
  const { header, tracks } = parseMidi(file);
  const perQuarter = header.ticksPerBeat!;
  const sounds: { midi: number; onset: number; end: number }[] = [];
  for (const track of tracks) {
    let tick = 0;
    const sounding = new Map<number, { midi: number; onset: number; end: number }>();
    for (const event of track) {
      tick += event.deltaTime;
      const isOn = event.type === 'noteOn' && event.velocity > 0;
      const isOff = event.type === 'noteOff' || (event.type === 'noteOn' && event.velocity === 0);
      if (isOn) {
        const sound = { midi: event.noteNumber, onset: tick / perQuarter, end: NaN };
        sounding.set(event.noteNumber, sound);
        sounds.push(sound);
      } else if (isOff) {
        sounding.get(event.noteNumber)!.end = tick / perQuarter;
      }
    }
  }
  return sounds;
}

type Sound = ReturnType<typeof soundsOf>[number];

/** Same pitches at the same times; another program may round to its own, coarser ticks. */
function expectSame(theirs: readonly Sound[], ours: readonly Sound[]): void {
  const tolerance = 1 / 32;
  expect(theirs.map(({ midi }) => midi)).toEqual(ours.map(({ midi }) => midi));
  const off = theirs.map((sound, index) =>
    Math.max(Math.abs(sound.onset - ours[index]!.onset), Math.abs(sound.end - ours[index]!.end)),
  );
  expect(Math.max(0, ...off)).toBeLessThan(tolerance);
}

describe.skipIf(missing.length > 0)(
  `MusicXML 4.0 schema${missing.map((one) => `; needs ${one}`).join()}`,
  () => {
    let folder = '';
    beforeAll(() => {
      folder = mkdtempSync(join(tmpdir(), 'ramble-musicxml-'));
    });
    afterAll(() => {
      rmSync(folder, { recursive: true });
    });

    /** What xmllint says against the documents; empty when all are valid. */
    function faults(documents: readonly string[]): string {
      const files = documents.map((text, index) => {
        const file = join(folder, `${index}.musicxml`);
        writeFileSync(file, text);
        return file;
      });
      try {
        execFileSync('xmllint', ['--nonet', '--noout', '--schema', schema, ...files], { stdio: 'pipe' });
        return '';
      } catch (error) {
        return String((error as { stderr: Buffer }).stderr);
      }
    }

    it('finds a fault where there is one', () => {
      const { timeline, line } = makeTest({ bars: [{}] }, []);
      const broken = toMusicXml(timeline, line, naming)
        .replace('<step>', '<stop>')
        .replace('<fifths>', '<fifth>');
      expect(faults([broken])).not.toBe('');
    });

    it.each(Object.entries(charts))('takes %s', (_, chartText) => {
      expect(faults([xmlOf(lineOf(chartText))])).toBe('');
    });

    it('takes two fingerings of one line, on one string and on two', () => {
      const { timeline, line } = makeTest(
        { bars: [{}] },
        [38, 43].map((midi, index) => ({ tick: index * 960, ticks: 960, midi })),
      );
      const otherFingers: Line = {
        ...line,
        notes: line.notes.map((note, index): LineNote => ({
          ...note,
          placement: {
            ...note.placement,
            finger: '4',
            string: (note.placement.string + index) as StringNumber,
          },
        })),
      };
      const document = toMusicXml(timeline, line, { ...naming, otherFingers });
      expect(document.match(/<level>/g)).toHaveLength(1);
      expect(faults([document])).toBe('');
    });

    it('takes any chart', () => {
      expect(faults(fc.sample(anyChart, { numRuns: 60, seed: 3 }).map(chartToMusicXml))).toBe('');
    });

    it('takes any line', () => {
      const documents = fc
        .sample(anyLine, { numRuns: 60, seed: 1 })
        .map(({ timeline, line }) => toMusicXml(timeline, line, naming));
      expect(faults(documents)).toBe('');
    });
  },
);

describe('an engraving program that reads the file', () => {
  let toolkit: VerovioToolkit;
  beforeAll(async () => {
    toolkit = new VerovioToolkit(await createVerovioModule());
  });

  function heard(xml: string): Sound[] {
    expect(toolkit.loadData(xml)).toBe(1);
    return soundsOf(Buffer.from(toolkit.renderToMIDI(), 'base64'));
  }

  it.each(Object.entries(charts))('hears %s as our MIDI file has it', (_, chartText) => {
    const made = lineOf(chartText, 7);
    const ours = soundsOf(toMidi(made.timeline, made.line, { swing: 1 }));
    expect(ours.map(({ midi }) => midi)).toEqual(made.line.notes.map(({ midi }) => midi));
    expectSame(heard(xmlOf(made)), ours);
  });

  it('hears the open strings E A D G as MIDI 28 33 38 43', () => {
    const notes = [28, 33, 38, 43].map((midi, index) => ({ tick: index * 480, ticks: 480, midi }));
    const { timeline, line } = makeTest({ bars: [{}] }, notes);
    expect(heard(toMusicXml(timeline, line, naming)).map(({ midi }) => midi)).toEqual([28, 33, 38, 43]);
  });

  it('hears any line as our MIDI file has it', () => {
    for (const { timeline, line } of fc.sample(anyLine, { numRuns: 20, seed: 2 })) {
      const ours = soundsOf(toMidi(timeline, line, { swing: 1 }));
      expectSame(heard(toMusicXml(timeline, line, naming)), ours);
    }
  });
});
