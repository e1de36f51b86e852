// The tables that a fit moves.
import { describe, expect, it } from 'vitest';
import { bound, centre, meanOf, rounded, setTo } from '../../src/build/fit/tables';
import { seededRandom } from '../../src/music';

const random = seededRandom(5);
const sizes = 4;
const somePairs = (): number[][][] =>
  Array.from({ length: sizes }, () => Array.from({ length: sizes }, () => [random() * 9, random() * -3]));

/** What a run of steps costs, by its pairs of neighbours. */
const costOf = (pairs: readonly (readonly (readonly number[])[])[], steps: readonly number[]): number =>
  steps.slice(1).reduce((sum, step, index) => sum + pairs[steps[index]!]![step]![index % 2]!, 0);

describe('energies of pairs, centred', () => {
  const before = somePairs();
  const after = structuredClone(before);
  centre(after);

  it('have one mean in every row', () => {
    const means = after.map((row) => meanOf(row.flat()));
    for (const mean of means) expect(mean).toBeCloseTo(means[0]!, 9);
  });

  it('tell lines with the same first and last step apart as before', () => {
    const lines = [
      [2, 0, 1, 3, 3, 1],
      [2, 1, 1, 0, 2, 1],
      [2, 3, 2, 3, 0, 1],
    ];
    const differences = (pairs: typeof before): number[] =>
      lines.map((line) => costOf(pairs, line) - costOf(pairs, lines[0]!));
    differences(after).forEach((value, index) => expect(value).toBeCloseTo(differences(before)[index]!, 9));
  });
});

it('numbers are bound, averaged, set and rounded in place of one another, words are kept', () => {
  const list = [7, [-9, 1]];
  bound(list);
  expect(list).toEqual([5, [-5, 1]]);
  const mean = meanOf([
    { source: 'ours', a: [1, { b: 2 }] },
    { source: 'ours', a: [2, { b: 4 }] },
  ]);
  expect(mean).toEqual({ source: 'ours', a: [1.5, { b: 3 }] });
  const table = { source: 'ours', a: [0, { b: 0 }] };
  const inner = table.a[1];
  setTo(table, mean);
  expect(table).toEqual(mean);
  expect(table.a[1]).toBe(inner);
  expect(rounded({ a: [0.12345], b: 'x' })).toEqual({ a: [0.123], b: 'x' });
});
