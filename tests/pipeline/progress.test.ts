// What is told while a line is worked out.
import { describe, expect, it } from 'vitest';
import { emptyCaches, walk, type Pass } from '../../src/pipeline';
import { chartText, requestFor } from './request';

describe('a take', () => {
  it('tells how far each pass has come, the choice among draws and bars drawn again among them', () => {
    const caches = emptyCaches();
    const told = new Map<Pass, number[]>();
    caches.watch = (pass, done) => told.set(pass, [...(told.get(pass) ?? []), done]);
    walk(requestFor(chartText('corner-table.txt'), { take: { seed: 3, temperature: 1 } }), undefined, caches);
    expect([...told.keys()].slice(0, 3)).toEqual(['filter', 'path', 'choice']);
    for (const pass of ['filter', 'path', 'choice', 'repeats'] as const) {
      const shares = told.get(pass)!;
      expect(shares.length).toBeGreaterThan(10);
      expect(Math.max(...shares)).toBeLessThanOrEqual(1);
      expect(Math.min(...shares)).toBeGreaterThanOrEqual(0);
      expect(shares.at(-1)).toBe(1);
      expect(shares).toEqual([...shares].sort((a, b) => a - b));
    }
  });
});
