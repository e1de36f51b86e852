// Prices where the line has figures between its beats: the notes of the best line cost nothing, and no choice costs less.
import { describe, expect, it } from 'vitest';
import { makeTimeline, readChart } from '../../src/pipeline';
import { bestPath, minMarginals } from '../../src/pipeline/4-solver';
import { emptyCaches, makeInstance } from '../../src/pipeline/problem/instance';
import { chartText, requestFor } from './request';

describe('prices beside figures', () => {
  it.each(['corner-table.txt', 'last-coat-on-the-hook.txt'])(
    '%s: the best line costs nothing anywhere',
    (name) => {
      const text = chartText(name);
      const { timeline } = makeTimeline(readChart(text).chart, {
        choruses: 1,
        tempo: null,
        density: 0.3,
        seed: 1,
      });
      expect(timeline!.slots.some(({ articulation }) => articulation === 'ghost')).toBe(true);
      const { lattice } = makeInstance(requestFor(text), timeline!, [], undefined, emptyCaches())!;
      const best = bestPath(lattice)!;
      const prices = minMarginals(lattice)!;
      lattice.slots.forEach((_, t) => {
        expect(prices.at(t)[best.path[t]!]).toBe(0);
        expect(Math.min(...prices.at(t))).toBe(0);
      });
    },
  );
});
