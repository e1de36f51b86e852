// How much of a recursion is computed and kept; its values are tested in checkpointing.test.ts.
import { describe, expect, it } from 'vitest';
import { Chain, mostKeptBytes, type Recursion } from '../../../src/pipeline/4-solver/checkpointing';

const mebibyte = 2 ** 20;

interface Options {
  readonly bytesAt?: (t: number) => number;
  /** Slots of a form that comes round; none where left out. */
  readonly round?: number;
}

/** The last three letters at each slot. */
const lastThree = (letters: string, { bytesAt = () => 1, round }: Options = {}): Recursion<string[]> => ({
  length: letters.length,
  first: () => [letters.charAt(0)],
  next: (t, value) => [...value, letters.charAt(t + 1)].slice(-3),
  isSame: (a, b) => a.join() === b.join(),
  bytesAt,
  ...(round === undefined ? {} : { steps: Array.from(letters, (_, t) => t % round) }),
});

/** Every letter so far: no two values are the same, however often the form comes round. */
const allSoFar = (letters: string, options: Options = {}): Recursion<string[]> => ({
  ...lastThree(letters, options),
  next: (t, value) => [...value, letters.charAt(t + 1)],
});

/** One letter a slot, which knows nothing of those before. */
const ownLetter = (letters: string): Recursion<string[]> => ({
  ...lastThree(letters),
  next: (t) => [letters.charAt(t + 1)],
});

const asItWas = (length: number): Int32Array => Int32Array.from({ length }, (_, t) => t);
const wholeMebibyte = { bytesAt: () => mebibyte };

describe('a chain', () => {
  it('keeps every value up to 32 MiB, and beyond that one in the square root of its length', () => {
    expect(mostKeptBytes).toBe(32 * mebibyte);
    const small = new Chain(lastThree('x'.repeat(32), wholeMebibyte));
    expect([small.arrays.length, small.bytes / mebibyte]).toEqual([32, 32]);
    const large = new Chain(lastThree('x'.repeat(33), wholeMebibyte));
    expect([large.arrays.length, large.bytes / mebibyte]).toEqual([6, 6]);
    expect(large.computed).toBe(31);
  });

  it('is kept and computed once as it was asked for, however much that is', () => {
    const whole = new Chain(allSoFar('x'.repeat(40), wholeMebibyte), null, undefined, 1);
    expect([whole.arrays.length, whole.computed]).toEqual([40, 40]);
    // One in 34 of 1,100: 33 of them, of a mebibyte each.
    const long = new Chain(lastThree('x'.repeat(1_100), wholeMebibyte));
    expect([long.arrays.length, long.computed]).toEqual([33, 1 + 32 * 34]);
  });

  it('counts the bytes of the slots that are kept, each by itself', () => {
    const { bytes } = new Chain(lastThree('abcde', { bytesAt: (t) => 10 ** t }), null, undefined, 2);
    expect(bytes).toBe(10_101);
    const first = { bytesAt: (t: number) => (t === 0 ? 33 * mebibyte : 0) };
    expect(new Chain(lastThree('abcdefghi', first)).arrays).toHaveLength(3);
  });

  it('reads two stretches by turns without making them again', () => {
    const chain = new Chain(lastThree('abcdefghijkl'), null, undefined, 4);
    expect([chain.arrays.length, chain.computed]).toEqual([3, 9]);
    for (const t of [5, 4, 3, 4, 3, 7, 0]) chain.at(t);
    expect([chain.arrays.length, chain.computed]).toEqual([9, 15]);
    for (const t of [8, 0, 3]) chain.at(t);
    expect([chain.arrays.length, chain.computed]).toEqual([9, 18]);
    for (const t of [7, 8, 11]) chain.at(t);
    expect([chain.arrays.length, chain.computed]).toEqual([9, 21]);
    for (const t of [0, 4, 8]) expect(chain.at(t)).toBe(chain.at(t));
  });
});

describe('a form that comes round', () => {
  it('is computed until it meets itself, whatever its length', () => {
    for (const choruses of [3, 4, 30]) {
      const chain = new Chain(lastThree('abc'.repeat(choruses), { round: 3 }));
      // a, ab, abc, bca, cab; the next is abc again, which is seen when it is made.
      expect([chain.computed, chain.arrays.length, chain.bytes]).toEqual([6, 5, 5]);
      expect(chain.at(5)).toBe(chain.at(2));
      expect(chain.at(6)).toBe(chain.at(3));
    }
  });

  it('is kept whole where two of its choruses and a slot take no more than 32 MiB', () => {
    const kept = (round: number): number =>
      new Chain(
        lastThree('abcdefghijklmnopqrstuvwxyz'.slice(0, round).repeat(10), { ...wholeMebibyte, round }),
      ).arrays.length;
    // All values of a first chorus, and the two that still hold its beginning.
    expect(kept(15)).toBe(17);
    // One in 13 of 160.
    expect(kept(16)).toBe(13);
  });

  it('is kept at every so many slots after all where it does not meet itself', () => {
    const chain = new Chain(allSoFar('x'.repeat(100), { ...wholeMebibyte, round: 12 }));
    expect([chain.arrays.length, chain.bytes / mebibyte]).toEqual([10, 10]);
    expect(Array.from({ length: 100 }, (_, t) => chain.at(t).length)).toEqual(
      Array.from({ length: 100 }, (_, t) => t + 1),
    );
    // Given up when the 33rd was made, then one in ten, and each stretch once as it was read.
    expect(chain.computed).toBe(33 + 91 + 90);
  });

  it('is not remembered where not every value is kept', () => {
    expect(new Chain(lastThree('abcabcabc', { round: 3 }), null, undefined, 2).computed).toBe(9);
  });

  it('meets what was taken over of an earlier chain', () => {
    const before = new Chain(lastThree('abc'.repeat(10), { round: 3 }));
    const edited = `${'abc'.repeat(8)}abxabc`;
    const steps = Array.from(edited, (_, t) => (t > 24 && t < 27 ? t : t % 3));
    const match = asItWas(30);
    match[26] = -1;
    const after = new Chain({ ...lastThree(edited), steps }, { chain: before, match });
    // x, the two that hold it, and abc again.
    expect(after.computed).toBe(4);
    expect(after.at(29).join('')).toBe('abc');
    const twice = new Chain(lastThree('abc'.repeat(20), { round: 3 }), {
      chain: before,
      match: Int32Array.from({ length: 60 }, (_, t) => (t < 30 ? t : -1)),
    });
    expect([twice.computed, twice.arrays.length]).toEqual([0, 5]);
    const apart = new Chain({ ...lastThree(edited), steps });
    expect(apart.computed).toBe(6 + 4);
  });
});

describe('a chain grown out of an earlier one', () => {
  const letters = 'abcdefghijkl';
  const grown = (
    text: string,
    match: readonly number[] | Int32Array,
    spacing?: number,
    before = letters,
  ): Chain<string[]> => {
    const chain = new Chain(lastThree(before), null, undefined, spacing);
    const result = new Chain(lastThree(text), { chain, match: Int32Array.from(match) }, undefined, spacing);
    expect(result.at(text.length - 1)).toEqual(Array.from(text).slice(-3));
    return result;
  };

  it('computes nothing where nothing changed', () => {
    expect(grown(letters, asItWas(12)).computed).toBe(0);
    const chain = new Chain(lastThree(letters));
    const same = new Chain(lastThree(letters), { chain, match: asItWas(12) });
    for (let t = 0; t < 12; t++) expect(same.at(t)).toBe(chain.at(t));
  });

  it('computes what is new at its end', () => {
    expect(grown(`${letters}mn`, [...asItWas(12), -1, -1]).computed).toBe(2);
    expect(grown(letters.slice(0, 5), asItWas(5)).computed).toBe(0);
  });

  it('computes one slot more than where both are the same again: a step may look at the slot before', () => {
    const chain = new Chain(ownLetter(letters));
    const edited = new Chain(ownLetter('abcdexghijkl'), {
      chain,
      match: asItWas(12).map((t) => (t === 5 ? -1 : t)),
    });
    expect(edited.computed).toBe(3);
    const begun = new Chain(ownLetter(`x${letters}`), {
      chain,
      match: Int32Array.from([-1, ...asItWas(12)]),
    });
    expect(begun.computed).toBe(3);
  });

  it('computes what is new at its beginning, until both meet', () => {
    expect(grown(`x${letters}`, [-1, ...asItWas(12)]).computed).toBe(4);
    expect(grown(letters.slice(2), asItWas(12).slice(2)).computed).toBe(3);
  });

  it('computes over a gap, and where slots match out of their order', () => {
    // efghijkl follow on abcd: the two values that hold letters before the gap, and one that is seen to be the same.
    expect(grown('abcefghijkl', [0, 1, 2, 4, 5, 6, 7, 8, 9, 10, 11]).computed).toBe(3);
    expect(grown('ab', [0, 1], undefined, 'abab').computed).toBe(0);
    // The same letter, but of another place: nothing is known of the step to it.
    expect(grown('ab', [0, 3], undefined, 'abab').computed).toBe(1);
    expect(grown('ab', [2, 3], undefined, 'abab').computed).toBe(1 + 1);
  });

  it('takes over kept values alone, where all steps between them are the same', () => {
    const edited = 'abcdefxhijkl';
    const match = asItWas(12);
    match[6] = -1;
    // Slots 0 and 3 hold; 6 and 9 are made from the kept one before, and 9 is seen to be the same again.
    const chain = grown(edited, match, 3);
    expect(Array.from({ length: 12 }, (_, t) => chain.at(t).at(-1)).join('')).toBe(edited);
    const fresh = new Chain(lastThree(letters), null, undefined, 3);
    expect(new Chain(lastThree(edited), { chain: fresh, match }, undefined, 3).computed).toBe(6);
    const shifted = [-1, ...asItWas(12)];
    expect(
      new Chain(lastThree(`x${letters}`), { chain: fresh, match: Int32Array.from(shifted) }, undefined, 3)
        .computed,
    ).toBe(13);
  });

  it('takes nothing over from one that keeps other slots', () => {
    const chain = new Chain(lastThree(letters), null, undefined, 3);
    const result = new Chain(lastThree(letters), { chain, match: asItWas(12) }, undefined, 1);
    expect(result.computed).toBe(12);
  });

  it('counts what it computes, not what it takes over, against 32 MiB', () => {
    const text = 'x'.repeat(100);
    const round = { ...wholeMebibyte, round: 12 };
    const chain = new Chain(allSoFar(text.slice(0, 32), round));
    const goesOn = new Chain(allSoFar(text.slice(0, 64), round), {
      chain,
      match: Int32Array.from({ length: 64 }, (_, t) => (t < 32 ? t : -1)),
    });
    expect([goesOn.arrays.length, goesOn.computed]).toEqual([64, 32]);
  });
});
