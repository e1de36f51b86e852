// A form of 1,024 bars: what the computation holds on to, and that a form too long to keep whole is solved the same.
import { describe, expect, it } from 'vitest';
import { emptyMemory, walk } from '../../src/pipeline';
import { mostKeptBytes } from '../../src/pipeline/4-solver';
import { bytesHeld } from '../bench/bytes';
import { longChart } from '../bench/charts';
import { requestFor } from './request';

const megabyte = 2 ** 20;

describe('1,024 bars, 4,096 beats', () => {
  it.each([0, 1])(
    'are solved in bounded memory (temperature %d)',
    (temperature) => {
      const memory = emptyMemory();
      const text = longChart(1024);
      const { line } = walk(requestFor(text, { take: { seed: 1, temperature } }), undefined, memory);
      expect(line?.notes).toHaveLength(4096);
      const { forward, filtered, weights } = memory.tables.solver;
      const chain = (temperature === 0 ? forward : filtered)!.chain;
      // Far fewer tables than slots: most are made again when the path is read.
      expect(chain.arrays.length).toBeLessThan(4 * Math.sqrt(chain.length));
      expect(bytesHeld(chain)).toBeLessThan(mostKeptBytes);
      expect(bytesHeld(memory, chain, weights)).toBeLessThan(32 * megabyte);
    },
    120_000,
  );
});

describe('the count of bytes', () => {
  it('finds every buffer once, however it is held', () => {
    const shared = new Float64Array(10);
    const held = { a: [shared, shared.subarray(2)], b: new Map([[new Int32Array(3), { c: shared }]]) };
    expect(bytesHeld(held, shared)).toBe(80 + 12);
  });
});
