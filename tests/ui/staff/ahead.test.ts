import { describe, expect, it } from 'vitest';
import { barIndex } from '../../../src/music';
import type { SystemLayout } from '../../../src/notation';
import { heightFrom, seesAhead, systemAfter, systemWith } from '../../../src/ui/staff/ahead';
import { systemGap } from '../../../src/ui/staff/shapes';

const systems = [0, 1, 2].map(
  (index) => ({ index, firstBar: index * 4, lastBar: index * 4 + 3, height: 100 + index }) as SystemLayout,
);

describe('reading ahead', () => {
  it('finds the line of music of a bar', () => {
    expect([0, 3, 4, 11, 12].map((bar) => systemWith(systems, barIndex(bar)))).toEqual([0, 0, 1, 2, null]);
  });

  it('goes on to the next line, and from the last one to the first', () => {
    expect([0, 1, 2].map((at) => systemAfter(systems, at, null))).toEqual([1, 2, 0]);
  });

  it('goes back where the music comes round', () => {
    expect(systemAfter(systems, 1, { from: barIndex(2), to: barIndex(6) })).toBe(0);
    expect(systemAfter(systems, 0, { from: barIndex(2), to: barIndex(6) })).toBe(1);
    expect(systemAfter(systems, 0, { from: barIndex(1), to: barIndex(2) })).toBe(0);
    expect(systemAfter(systems, 7, null)).toBeNull();
  });

  it('adds up heights, strips and the gaps between', () => {
    expect(heightFrom(systems, 0, 0, 40)).toBe(140);
    expect(heightFrom(systems, 2, 1, 40)).toBe(101 + 102 + 80 + systemGap);
  });

  it('sees ahead where any two neighbours have room', () => {
    const need = heightFrom(systems, 1, 2, 40);
    expect(seesAhead(systems, 40, need)).toBe(true);
    expect(seesAhead(systems, 40, need - 1)).toBe(false);
    expect(seesAhead(systems.slice(0, 1), 40, 140)).toBe(true);
  });
});
