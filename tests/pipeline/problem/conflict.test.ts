// Constraints that clash: conflicts and corrections beside a search through all subsets, and in the words of a real walk.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barNumber, soundingMidi } from '../../../src/music';
import { keptOf } from '../../../src/pipeline';
import { minimalConflict, minimalCorrection, wayOutWords } from '../../../src/pipeline/problem/conflict';
import { giveUpAll, newStudy } from '../../../src/state/document';
import { chartText, requestFor, walked, walkKept, type Walked } from '../request';

const blues = chartText('back-stairs-blues.txt');

const all = [0, 1, 2, 3, 4, 5, 6];
/** Sets of constraints that cannot hold together, as bits; each with a member at least. */
const clashes = fc.array(fc.integer({ min: 1, max: 2 ** all.length - 1 }), { minLength: 1, maxLength: 5 });
const bitsOf = (some: readonly number[]): number => some.reduce((bits, one) => bits | (1 << one), 0);
const possibleUnder = (sets: readonly number[]) => (some: readonly number[]) =>
  sets.every((set) => (set & bitsOf(some)) !== set);

describe('a conflict and a correction', () => {
  it('are minimal: none of the conflict can be left out, none of the correction can stay', () => {
    fc.assert(
      fc.property(clashes, (sets) => {
        const isPossible = possibleUnder(sets);
        const conflict = minimalConflict(all, isPossible);
        expect(isPossible(conflict)).toBe(false);
        for (const one of conflict) expect(isPossible(conflict.filter((other) => other !== one))).toBe(true);
        const gone = minimalCorrection(all, isPossible);
        const rest = all.filter((one) => !gone.includes(one));
        expect(isPossible(rest)).toBe(true);
        for (const one of gone) expect(isPossible([...rest, one])).toBe(false);
        expect(gone).toEqual([...gone].sort());
      }),
    );
  });

  it('give up the one that clashes with many, whether it comes first or last', () => {
    const withFirst = possibleUnder([bitsOf([0, 2]), bitsOf([0, 3]), bitsOf([0, 4]), bitsOf([5, 6])]);
    expect(minimalCorrection(all, withFirst)).toEqual([0, 5]);
    const withLast = possibleUnder([bitsOf([6, 2]), bitsOf([6, 3]), bitsOf([6, 4]), bitsOf([0, 1])]);
    expect(minimalCorrection(all, withLast)).toEqual([1, 6]);
  });

  it('are told in a sentence that ends', () => {
    expect(wayOutWords('half barred', [])).toBe(' Giving up “half barred” costs the line least.');
    expect(wayOutWords(null, ['a', 'b'])).toBe(
      ' Other wishes clash, too. Without “a” and “b” there is a line.',
    );
    expect(wayOutWords(null, ['a', 'b', 'c', 'd', 'e'])).toContain('Without “a”, “b”, “c” and 2 more there');
    expect(wayOutWords(null, [])).toBe('');
  });
});

describe('wishes of a walk that clash at two places', () => {
  const changes = (fourth: string): string => `Key: F\n| F7 | Bb7 | F7 | ${fourth} | Gm7 | C7 |`;
  const midiAt = ({ line }: Walked, bar: number): number =>
    line.notes.find((note) => note.bar === bar && note.beat === 1)!.placement.midi;
  const at = (bar: number, midi: number) => ({ bar: barNumber(bar), beat: 1, midi: soundingMidi(midi) });

  it('name what has to be given up together, and then there is a line', () => {
    const pins = [at(2, 46), at(2, 41), at(7, 46), at(9, 48), at(9, 43)];
    const { line, impossible } = walkKept(requestFor(blues, { pins }));
    expect(line).toBeNull();
    expect(impossible?.conflict).toHaveLength(2);
    expect(impossible?.cheapest).toBeNull();
    expect(impossible?.together.map(({ words }) => words)).toEqual([
      'bar 2, beat 1: F2',
      'bar 9, beat 1: G2',
    ]);
    expect(impossible?.message).toContain(
      'Without “bar 2, beat 1: F2” and “bar 9, beat 1: G2” there is a line.',
    );
    const left = pins.filter(({ midi }) => midi !== 41 && midi !== 43);
    expect(walkKept(requestFor(blues, { pins: left })).line).not.toBeNull();
  });

  it('leave a held bar alone that only the notes shown before make possible', () => {
    const first = walked(changes('Bbmaj7'), { take: { seed: 7, temperature: 1 } });
    const held = [2, 4, 6].map((bar) => barNumber(bar));
    const kept = keptOf(first.line, first.timeline, held);
    // Bar 4 keeps its notes though not one of them is in its new chord.
    const text = changes('Bmaj7');
    const pins = [2, 6].map((bar) => at(bar, midiAt(first, bar) + 3));
    const { impossible } = walkKept(requestFor(text, { kept, pins }));
    const { together } = impossible!;
    expect(together.map(({ words }) => words)).toEqual(['bar 2 held', 'bar 6 held']);
    const freed = giveUpAll(newStudy(text, { kept }), together).kept;
    const result = walked(text, { kept: freed, pins });
    expect(result.keeping?.locked).toEqual([4]);
    expect([2, 6].map((bar) => midiAt(result, bar))).toEqual(pins.map(({ midi }) => midi));
  });
});
