// Which slots and steps of two lattices are the same, and which solved lattices are kept for later ones.
import { describe, expect, it } from 'vitest';
import { Chain, mostKeptBytes } from '../../../src/pipeline/4-solver/checkpointing';
import type { Lattice, LatticeSlot } from '../../../src/pipeline/4-solver/lattice';
import {
  cacheOf,
  emptySolvedCache,
  isSameSlot,
  matchSlots,
  mirrored,
  Recent,
  stepNumbers,
} from '../../../src/pipeline/4-solver/solved-cache';
import { plainLattice, plainSlot } from './plain-slots';

/** A slot told by a letter; each call makes another object. */
const slotOf = (letter: string): LatticeSlot => plainSlot(letter.charCodeAt(0));
const latticeOf = (letters: string, other: Partial<Lattice> = {}): Lattice => ({
  ...plainLattice(Array.from(letters, slotOf)),
  ...other,
});

describe('two slots', () => {
  const slot = slotOf('a');
  const stay = slot.rules[0]!;

  it('are the same where all they cost is the same', () => {
    expect(isSameSlot(slot, slot)).toBe(true);
    expect(isSameSlot(slot, slotOf('a'))).toBe(true);
    expect(isSameSlot(slot, slotOf('b'))).toBe(false);
  });

  it('are not where any part is another', () => {
    const others: readonly Partial<LatticeSlot>[] = [
      { pitches: Int32Array.of(41) },
      { pitches: Int32Array.of(40, 41) },
      { pitchCosts: Int32Array.of(1) },
      { placements: Int32Array.of(1) },
      { placementCosts: Int32Array.of(1) },
      { groupStart: Int32Array.of(0, 0) },
      { groupStart: Int32Array.of(0) },
      { stepCosts: Int32Array.of(1) },
      { rules: [{ ...stay }] },
      { rules: [stay, stay] },
      { rules: [] },
      { ruleOf: Uint16Array.of(1) },
      { moves: { costs: new Int32Array(1) } },
      { memoryRows: 1 },
    ];
    for (const other of others) {
      expect([other, isSameSlot(slot, { ...slot, ...other })]).toEqual([other, false]);
      expect([other, isSameSlot({ ...slot, ...other }, slot)]).toEqual([other, false]);
    }
    expect(isSameSlot({ ...slot, rules: [stay] }, { ...slot, rules: [stay] })).toBe(true);
  });
});

describe('slots of a lattice in an earlier one', () => {
  const matched = (before: string, after: string): string =>
    Array.from(matchSlots(latticeOf(before), latticeOf(after)), (t) => (t < 0 ? '.' : String(t))).join('');

  it('are found in their places where as many were there', () => {
    expect(matched('abcdef', 'abcdef')).toBe('012345');
    expect(matched('abcdef', 'abxdyf')).toBe('01.3.5');
    expect(matched('abc', 'xyz')).toBe('...');
  });

  it('are found around what was put in or taken out', () => {
    expect(matched('abcdef', 'abcXYdef')).toBe('012..345');
    expect(matched('abcdef', 'abef')).toBe('0145');
    expect(matched('abcdef', 'bcdef')).toBe('12345');
    expect(matched('bcdef', 'abcdef')).toBe('.01234');
    expect(matched('abc', 'abcabc')).toBe('012...');
    expect(matched('abcabc', 'abc')).toBe('012');
    expect(matched('aaa', 'aaaaa')).toBe('012..');
    expect(matched('abcd', 'aXcYd')).toBe('0...3');
    expect(matched('abxd', 'abcdd')).toBe('01..3');
  });

  it('are not looked for where placements, memory or its beginning are others', () => {
    const before = latticeOf('ab');
    for (const other of [{ placementCount: 2 }, { memoryCount: 2 }, { startMemory: 1 }])
      expect([...matchSlots(before, latticeOf('ab', other))]).toEqual([-1, -1]);
  });

  it('are seen from the end only where the slot before them is the one that was there', () => {
    expect([...mirrored(Int32Array.of(0, 1, 2, 3), 4)]).toEqual([0, 1, 2, 3]);
    // One more at the beginning, before which nothing stood; one more at the end.
    expect([...mirrored(Int32Array.of(-1, 0, 1), 2)]).toEqual([0, 1, -1]);
    expect([...mirrored(Int32Array.of(0, 1, -1), 2)]).toEqual([-1, 0, 1]);
    // One taken out: the slot after the gap was led to by another one.
    expect([...mirrored(Int32Array.of(0, 2, 3), 4)]).toEqual([0, -1, 3]);
    expect([...mirrored(Int32Array.of(1, 2), 3)]).toEqual([0, -1]);
  });
});

describe('steps of a lattice', () => {
  it('have the same number where both their slots are the same objects', () => {
    const [a, b, c] = ['a', 'b', 'c'].map(slotOf) as [LatticeSlot, LatticeSlot, LatticeSlot];
    const numbersOf = (slots: readonly LatticeSlot[]): number[] => [
      ...stepNumbers({ ...latticeOf(''), slots }),
    ];
    expect(numbersOf([a, b, c, a, b, c, a])).toEqual([0, 1, 2, 0, 1, 2]);
    expect(numbersOf([a, a, b, a, a])).toEqual([0, 1, 2, 0]);
    expect(numbersOf([a, b, slotOf('a'), b])).toEqual([0, 1, 2]);
    expect(numbersOf([a])).toEqual([]);
    expect(numbersOf([])).toEqual([]);
  });
});

describe('solved lattices', () => {
  /** A chain of values that take so many bytes together, one a slot. */
  const chainOf = ({ slots }: Lattice, bytes = slots.length): Chain<Int32Array> =>
    new Chain({
      length: slots.length,
      first: () => new Int32Array(1),
      next: () => new Int32Array(1),
      isSame: () => false,
      bytesAt: () => bytes / slots.length,
    });
  const add = (recent: Recent<Int32Array>, lattice: Lattice, bytes?: number): void =>
    recent.add({ lattice, chain: chainOf(lattice, bytes) }, recent.closest(lattice));

  it('are found by the one that most slots are in; of equals the last', () => {
    const recent = new Recent<Int32Array>();
    expect([recent.closest(latticeOf('abc')), recent.last]).toEqual([null, null]);
    const [abc, abx, xyz] = [latticeOf('abcd'), latticeOf('abxy'), latticeOf('xyzw')];
    for (const lattice of [abc, abx, xyz]) add(recent, lattice);
    expect(recent.last?.lattice).toBe(xyz);
    expect(recent.lattices).toHaveLength(3);
    expect(recent.bytes).toBe(12);
    const found = recent.closest(latticeOf('abcz'));
    expect(found?.lattice).toBe(abc);
    expect([...found!.match]).toEqual([0, 1, 2, -1]);
    expect(recent.closest(latticeOf('abqq'))?.lattice).toBe(abx);
    expect(recent.closest(latticeOf('qqqq'))?.lattice).toBe(xyz);
    recent.clear();
    expect([recent.last, recent.bytes, recent.lattices]).toEqual([null, 0, []]);
  });

  it('give way to what grew out of them where more than half of it is theirs', () => {
    const kept = (before: string, after: string): number => {
      const recent = new Recent<Int32Array>();
      add(recent, latticeOf(before));
      add(recent, latticeOf(after));
      return recent.lattices.length;
    };
    expect(kept('abcd', 'abcx')).toBe(1);
    expect(kept('abcd', 'abxy')).toBe(2);
    expect(kept('abcd', 'axyz')).toBe(2);
  });

  it('are four at most, and no larger together than one chain may be', () => {
    const recent = new Recent<Int32Array>();
    for (const letters of ['aa', 'bb', 'cc', 'dd', 'ee']) add(recent, latticeOf(letters));
    expect(recent.lattices.map(({ slots }) => String.fromCharCode(slots[0]!.pitchCosts[0]!)).join('')).toBe(
      'edcb',
    );
    add(recent, latticeOf('ff'), mostKeptBytes - 4);
    expect(recent.lattices).toHaveLength(3);
  });

  it('are those of the lattice that carries them', () => {
    const cache = emptySolvedCache();
    expect(cacheOf(latticeOf('a', { cache }))).toBe(cache);
    expect(cacheOf(latticeOf('a', { cache: {} }))).toBeUndefined();
    expect(cacheOf(latticeOf('a'))).toBeUndefined();
  });
});
