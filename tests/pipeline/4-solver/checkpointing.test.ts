import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { backwardMessages, forwardMessages } from '../../../src/pipeline/4-solver';
import { Chain, type Recursion } from '../../../src/pipeline/4-solver/checkpointing';
import { randomLattice } from './random-lattice';

/** A recursion over letters that forgets: a value is the last three of them. */
const lastThree = (letters: string): Recursion<readonly string[]> => ({
  length: letters.length,
  first: () => [letters.charAt(0)],
  next: (t, value) => [...value, letters.charAt(t + 1)].slice(-3),
  isSame: (a, b) => a.join() === b.join(),
  bytesAt: () => 1,
});

/** Where each letter stood before, counted from the front and then from the back. */
function matchLetters(before: string, after: string): Int32Array {
  const match = new Int32Array(after.length).fill(-1);
  const shift = after.length - before.length;
  for (let t = 0; t < after.length && before[t] === after[t]; t++) match[t] = t;
  for (let t = after.length - 1; t >= 0 && match[t] === -1; t--) {
    if (t - shift < 0 || before[t - shift] !== after[t]) break;
    match[t] = t - shift;
  }
  return match;
}

const letters = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), minLength: 1, maxLength: 40 });
const valuesOf = (chain: Chain<readonly string[]>): string[] =>
  Array.from({ length: chain.length }, (_, t) => chain.at(t).join(''));

describe('Chain', () => {
  it('gives the values of the recursion, however few of them are kept and in whatever order they are read', () => {
    fc.assert(
      fc.property(letters, fc.integer({ min: 1, max: 9 }), fc.array(fc.nat()), (text, spacing, reads) => {
        const chain = new Chain(lastThree(text), null, undefined, spacing);
        const expected = Array.from(text, (_, t) => text.slice(Math.max(0, t - 2), t + 1));
        for (const read of reads)
          expect(chain.at(read % text.length).join('')).toBe(expected[read % text.length]);
        expect(valuesOf(chain)).toEqual(expected);
      }),
      { numRuns: 500, seed: 1 },
    );
  });

  it('grown out of an earlier one gives what a new one gives, over edits, insertions and deletions', () => {
    fc.assert(
      fc.property(
        letters,
        fc.array(fc.tuple(fc.nat(), fc.nat({ max: 4 }), letters), { minLength: 1, maxLength: 8 }),
        fc.integer({ min: 1, max: 6 }),
        (start, edits, spacing) => {
          let text = start;
          let chain = new Chain(lastThree(text), null, undefined, spacing);
          for (const [place, removed, added] of edits) {
            const at = place % text.length;
            const edited = text.slice(0, at) + added.slice(0, removed + 1) + text.slice(at + removed);
            const match = matchLetters(text, edited);
            chain = new Chain(lastThree(edited), { chain, match }, undefined, spacing);
            text = edited;
            expect(valuesOf(chain)).toEqual(valuesOf(new Chain(lastThree(text))));
          }
        },
      ),
      { numRuns: 500, seed: 2 },
    );
  });

  it('computes no more after an edit than the slots until both meet again', () => {
    const before = 'abcabcabcabcabcabcabc';
    const after = `${before.slice(0, 10)}x${before.slice(11)}`;
    const chain = new Chain(lastThree(before));
    const grown = new Chain(lastThree(after), { chain, match: matchLetters(before, after) });
    // The slot itself, the two whose values still hold it, and the one after, where both are seen to be the same.
    expect(grown.computed).toBe(4);
  });

  it('tells how far it has come', () => {
    const seen: number[] = [];
    new Chain(lastThree('abcdefgh'), null, (done) => seen.push(done), 2);
    expect(seen).toEqual([0.25, 0.5, 0.75, 1]);
  });
});

describe('messages kept at every few slots', () => {
  it('are those that are kept at all of them, to the bit', () => {
    fc.assert(
      fc.property(randomLattice, fc.integer({ min: 2, max: 4 }), (lattice, spacing) => {
        for (const make of [forwardMessages, backwardMessages]) {
          const whole = make(lattice);
          const sparse = make(lattice, spacing);
          for (let t = lattice.slots.length - 1; t >= 0; t--) expect(sparse.at(t)).toEqual(whole.at(t));
        }
      }),
      { numRuns: 300, seed: 7 },
    );
  });
});
