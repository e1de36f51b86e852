// A form of 1,024 bars: what the computation holds on to, and that a form too long to keep whole is solved the same.
import { describe, expect, it } from 'vitest';
import { emptyCaches, walk } from '../../src/pipeline';
import { mostKeptBytes } from '../../src/pipeline/4-solver';
import { solvedIn } from '../../src/pipeline/problem/instance';
import { bytesHeld } from '../bench/bytes';
import { changingChart, longChart } from '../bench/charts';
import { requestFor } from './request';

const megabyte = 2 ** 20;

describe('1,024 bars, 4,096 beats', () => {
  it.each([0, 1])(
    'are solved in bounded memory (temperature %d)',
    (temperature) => {
      const caches = emptyCaches();
      const text = longChart(1024);
      const { line } = walk(requestFor(text, { take: { seed: 1, temperature } }), undefined, caches);
      expect(line?.notes).toHaveLength(4096);
      const { forward, filtered, weights } = solvedIn(caches)!;
      const { chain } = (temperature === 0 ? forward : filtered).last!;
      // Far fewer tables than slots: most are made again when the path is read.
      expect(chain.arrays.length).toBeLessThan(4 * Math.sqrt(chain.length));
      expect(bytesHeld(chain)).toBeLessThan(mostKeptBytes);
      expect(bytesHeld(caches, chain, weights)).toBeLessThan(96 * megabyte);
    },
    120_000,
  );
});

describe('1,024 bars that never come round', () => {
  it.each([0, 1])(
    'are solved in one go, in bounded memory (temperature %d)',
    (temperature) => {
      const caches = emptyCaches();
      const request = requestFor(changingChart(1024), { take: { seed: 1, temperature } });
      const { line } = walk(request, undefined, caches);
      expect(line?.notes).toHaveLength(4096);
      const { forward, filtered } = solvedIn(caches)!;
      const { chain } = (temperature === 0 ? forward : filtered).last!;
      // Few tables are kept; the others are made once more, for the best path or for all draws together.
      expect(chain.computed).toBeLessThanOrEqual(2 * chain.length);
      expect(chain.arrays.length).toBeLessThan(4 * Math.sqrt(chain.length));
      expect(bytesHeld(caches) + caches.vectors.bytes).toBeLessThan(96 * megabyte);
      expect(caches.vectors.bytes).toBeLessThan(16 * megabyte);
    },
    120_000,
  );

  it('leave no more behind, one after another, than one chain may', () => {
    const caches = emptyCaches();
    for (let seed = 1; seed <= 6; seed++) {
      walk(requestFor(changingChart(96, seed), { take: { seed, temperature: 1 } }), undefined, caches);
    }
    const { filtered } = solvedIn(caches)!;
    expect(filtered.lattices.length).toBeLessThanOrEqual(4);
    expect(filtered.bytes).toBeLessThanOrEqual(mostKeptBytes);
  }, 120_000);
});

describe('the count of bytes', () => {
  it('finds every buffer once, however it is held', () => {
    const shared = new Float64Array(10);
    const held = { a: [shared, shared.subarray(2)], b: new Map([[new Int32Array(3), { c: shared }]]) };
    expect(bytesHeld(held, shared)).toBe(80 + 12);
  });
});
