// A chart from every key to every key: signatures that can be printed, roots and basses that can be read.
import { describe, expect, it } from 'vitest';
import {
  alterationOf,
  fifthsOf,
  keyOfFifths,
  makeKey,
  modes,
  noteAtFifths,
  parseKey,
  pitchClassOf,
  printKey,
  type Key,
  type NoteName,
} from '../../../src/music';
import { readChart, transposeChart, type Chart } from '../../../src/pipeline/1-chart';

const fifths = Array.from({ length: 15 }, (_, index) => index - 7);
/** All that a signature of at most seven accidentals can be, major and minor. */
const keys: readonly Key[] = modes.flatMap((mode) => fifths.map((count) => keyOfFifths(count, mode)));

/** Degrees in fifths from the tonic: the chords of the key, its secondary dominants, borrowed chords, a substitute. */
const degrees: Readonly<Record<Key['mode'], string>> = {
  major:
    'I0maj7 I2m7 I1:7 I4m7 I3m7 I5m7b5 I-1maj7 I-1m6 I3:7 I2:7 I4:7 I5:7 I-2:7 I-3maj7 I-4maj7 I6dim7 I-5:7',
  minor: 'I0m6 I2m7b5 I1:7 I-3maj7 I-1m7 I-4:7 I-2:7 I5dim7 I2:7 I-5maj7 I3m7b5',
};

function chartIn(key: Key): Chart {
  const tonic = fifthsOf(key.tonic);
  const bars = degrees[key.mode].split(' ').map((text) => {
    const [, rise = '', quality = ''] = /^I(-?\d)(.*)$/.exec(text)!;
    return `${noteAtFifths(tonic + Number(rise))}${quality.replace(':', '')}`;
  });
  const slash = `${key.tonic}/${noteAtFifths(tonic + (key.mode === 'major' ? 4 : -3))}`;
  return readChart(`Key: ${printKey(key)}\n| ${[...bars, slash].join(' | ')} |`).chart;
}

const notesOf = (chart: Chart): readonly NoteName[] =>
  chart.bars.flatMap(({ chords }) =>
    chords.flatMap(({ chord }) =>
      chord === null ? [] : [chord.root, ...(chord.bass === null ? [] : [chord.bass])],
    ),
  );

describe.each(modes)('from every %s key', (mode) => {
  it.each(keys.filter((key) => key.mode === mode).map((key) => [printKey(key), key] as const))(
    '%s to every key',
    (_name, from) => {
      const chart = chartIn(from);
      const before = notesOf(chart);
      for (const to of keys) {
        const moved = transposeChart(chart, to);
        const arrival = moved.header.key!;
        expect(Math.abs(arrival.fifths)).toBeLessThanOrEqual(7);
        expect(pitchClassOf(arrival.tonic)).toBe(pitchClassOf(to.tonic));
        expect(arrival.mode).toBe(from.mode);
        const rise = pitchClassOf(to.tonic) - pitchClassOf(from.tonic) + 24;
        const after = notesOf(moved);
        expect(after.map(pitchClassOf)).toEqual(before.map((note) => (pitchClassOf(note) + rise) % 12));
        // No root or bass with two sharps or flats, and none that leans the other way from a key of many accidentals.
        const unreadable = after.filter((note) => Math.abs(alterationOf(note)) > 1);
        expect(unreadable, `${printKey(from)} to ${printKey(arrival)}`).toEqual([]);
      }
    },
  );
});

describe('a key change inside the chart', () => {
  it.each(keys.map((key) => [printKey(key), key] as const))('moves along to %s', (_name, to) => {
    const { chart } = readChart(
      'Key: C\n| C6 | G7 |\n| {Key: Eb} Ebmaj7 | Bb7 | {Key: F# minor} F#m7 | C#7 |',
    );
    const moved = transposeChart(chart, to);
    for (const { keyChange } of moved.bars) {
      if (keyChange !== null) expect(Math.abs(keyChange.fifths)).toBeLessThanOrEqual(7);
    }
    expect(notesOf(moved).filter((note) => Math.abs(alterationOf(note)) > 1)).toEqual([]);
  });
});

it.each(['G#', 'D#', 'A#', 'E#', 'B#', 'Fb', 'Bbb', 'Db minor', 'Gb minor', 'Cb minor', 'Fb minor'])(
  'a key that nobody prints, %s, is respelled',
  (text) => {
    const key = parseKey(text) ?? makeKey(text as NoteName, 'major');
    expect(Math.abs(key.fifths)).toBeLessThanOrEqual(7);
  },
);
