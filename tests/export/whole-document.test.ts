// One small line in which everything stands that a document can hold, against its text: what each element says, and the order
// the schema prescribes (W3C MusicXML 4.0). The text was read note by note; `tests/checks` has other programs read such files.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { makeKey, noteName } from '../../src/music';
import type { Finger } from '../../src/instrument';
import type { Line, LineNote } from '../../src/pipeline';
import { toMusicXml } from '../../src/export';
import { makeTest, naming } from './build';

const text = readFileSync(fileURLToPath(new URL('whole-document.musicxml', import.meta.url)), 'utf8');

const inF = makeKey(noteName('F'), 'major');
const { timeline, line: plain } = makeTest(
  {
    title: 'Two & more',
    tempo: 132,
    bars: [
      {
        key: inF,
        section: 'A',
        chords: [
          [0, 'F7/A'],
          [960, 'Bb7(b9)'],
        ],
      },
      {
        key: inF,
        chords: [
          [0, 'N.C.'],
          [960, 'C7'],
        ],
      },
      {
        key: makeKey(noteName('G'), 'major'),
        meter: { beats: 3, unit: 4 },
        section: 'B',
        chords: [[0, 'G']],
      },
      { key: makeKey(noteName('G'), 'major'), meter: { beats: 3, unit: 4 }, chords: [[0, 'G']] },
    ],
  },
  [
    { tick: 0, ticks: 480, midi: 33, finger: '0', string: 3 },
    { tick: 480, ticks: 160, midi: 34, name: 'Bb', finger: '1', string: 3, position: 1 },
    { tick: 640, ticks: 160, midi: 35, name: 'B', finger: '2', string: 3, position: 1 },
    { tick: 800, ticks: 160, midi: 36, finger: '4', string: 3, position: 1 },
    { tick: 960, ticks: 720, midi: 46, name: 'Bb', finger: '1', string: 1, position: 3 },
    { tick: 1680, ticks: 720, midi: 60, name: 'C', finger: 'T', string: 1, position: 17 },
    { tick: 2880, ticks: 240, midi: 54, name: 'Gb', finger: '2', string: 1, position: 10 },
    { tick: 3120, ticks: 240, midi: 55, name: 'G', finger: '4', string: 1, position: 10 },
    { tick: 3840, ticks: 960, midi: 31, finger: '2', string: 4, position: 2 },
  ],
);

const withNotes = (line: Line, change: (note: LineNote, index: number) => LineNote): Line => ({
  ...line,
  notes: line.notes.map(change),
});
/** The seventh note is a ghost; a device of one note and one of two lead on. */
const line: Line = {
  ...withNotes(plain, (note, index) =>
    index === 6 ? { ...note, slot: { ...note.slot, articulation: 'ghost' } } : note,
  ),
  devices: [
    { device: 'semitone below', notes: [2], target: 3 },
    { device: 'enclosure above first', notes: [6, 7], target: 8 },
  ],
};
/** Another finger on the same string, and other strings. */
const ways: Readonly<Record<number, { finger: Finger; string: number }>> = {
  0: { finger: '4', string: 4 },
  3: { finger: '2', string: 3 },
  7: { finger: '1', string: 2 },
};
const otherFingers = withNotes(line, (note, index) => ({
  ...note,
  placement: { ...note.placement, ...ways[index] } as LineNote['placement'],
}));

it('is written as it stands', () => {
  expect(toMusicXml(timeline, line, { ...naming, withDevices: true, otherFingers })).toBe(text);
});

it('leaves devices and other ways out unless they are asked for', () => {
  const bare = toMusicXml(timeline, line, naming);
  expect(bare).not.toMatch(/semitone below|bracket|alternat/);
  // The rest is the same: no line of it is another.
  const lines = text.split('\n');
  let place = -1;
  for (const row of bare.split('\n')) {
    place = lines.indexOf(row, place + 1);
    expect(place, row).toBeGreaterThanOrEqual(0);
  }
});
