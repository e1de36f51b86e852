// Our grammar against the chord dictionary of the note-arithmetic library, which it does not use. Where both read a
// spelling differently, the table says why.
import { ChordType, Interval } from 'tonal';
import { describe, expect, it } from 'vitest';
import { parseChord } from '../../src/music';
import { readTable } from '../table';

const table = readTable('checks/chord-dictionary.tsv');
const explained = new Map(table.rows.map((row) => [row.at('suffix'), row.at('reason')]));

const inOrder = (values: Iterable<number>): string => [...new Set(values)].sort((a, b) => a - b).join(' ');

function agrees(suffix: string, intervals: readonly string[]): boolean {
  const reading = parseChord(`C${suffix}`);
  if (reading.kind !== 'chord' || reading.chord.root !== 'C') return false;
  const theirs = inOrder(intervals.map((interval) => Interval.get(interval).semitones % 12));
  return theirs === inOrder(reading.chord.tones.map((tone) => tone.pitchClass));
}

const entries = ChordType.all().flatMap(({ aliases, intervals }) =>
  aliases.map((suffix) => ({ suffix, intervals })),
);
const differing = entries
  .filter(({ suffix, intervals }) => !agrees(suffix, intervals))
  .map(({ suffix }) => suffix);

describe('dictionary of chords', () => {
  it('agrees on most of its spellings', () => {
    expect(entries.length).toBeGreaterThan(200);
    expect(entries.length - differing.length).toBeGreaterThan(180);
  });

  it('every difference is explained, and every explanation is of a difference', () => {
    expect(differing.sort()).toEqual([...explained.keys()].sort());
    expect([...explained.values()].filter((reason) => reason === '')).toEqual([]);
    table.expectAllRead();
  });
});
