// How moments lean where the player wishes for more than the rules.
import { describe, expect, it } from 'vitest';
import { readChart } from '../../../src/pipeline/1-chart';
import { makeTimeline, type LineWishes, type Slot } from '../../../src/pipeline/2-timeline';

const form = 'Key: C\n[A] | C6 | Dm7 | G7 | C6 |\n[B] | F6 | G7 |\n';

const slotsFor = (line: LineWishes, choruses = 1, density = 0, chart = form): readonly Slot[] =>
  makeTimeline(readChart(chart).chart, { choruses, tempo: null, line, density }).timeline!.slots;

/** The goal on the first beat of each bar. */
const goals = (line: LineWishes, choruses = 1): readonly (number | null | undefined)[] =>
  slotsFor(line, choruses)
    .filter(({ beat }) => beat === 1)
    .map(({ lean }) => lean?.goal);

describe('a line without wishes', () => {
  it.each([{}, { bold: 0, leaps: 0, outside: 0, build: 0 }, { shapes: [], heights: [] }])(
    '%o leans nowhere: its slots are those of a request that says nothing',
    (line) => {
      expect(slotsFor(line)).toEqual(slotsFor({}));
      expect(slotsFor(line).every((slot) => !('lean' in slot))).toBe(true);
    },
  );
});

describe('bold, leaps and outside', () => {
  it('lean every moment alike', () => {
    for (const { lean } of slotsFor({ bold: 0.5, leaps: -1, outside: 0.25 }))
      expect(lean).toEqual({ bold: 0.5, leaps: -1, outside: 0.25, goal: null });
  });
});

describe('a shape', () => {
  it('takes the whole of its section from low to high, and no other', () => {
    expect(goals({ shapes: [{ section: 'A', shape: 'climb' }] })).toEqual([31, 36, 41, 45, null, null]);
  });

  it('falls, stays, and rises to fall', () => {
    expect(goals({ shapes: [{ section: 'A', shape: 'fall' }] }).slice(0, 4)).toEqual([50, 45, 41, 36]);
    expect(new Set(goals({ shapes: [{ section: 'A', shape: 'stay' }] }).slice(0, 4))).toEqual(new Set([39]));
    expect(goals({ shapes: [{ section: 'A', shape: 'arch' }] }).slice(0, 4)).toEqual([31, 39, 47, 43]);
  });

  it('for every section gives way to the one for its own', () => {
    const shapes = [
      { section: null, shape: 'climb' },
      { section: 'B', shape: 'fall' },
    ] as const;
    expect(goals({ shapes })).toEqual([31, 36, 41, 45, 50, 41]);
  });

  it('takes a chorus without sections as one', () => {
    const plain = slotsFor({ shapes: [{ section: null, shape: 'climb' }] }, 2, 0, 'Key: C\n| C6 | G7 |\n');
    expect(plain.filter(({ beat }) => beat === 1).map(({ lean }) => lean!.goal)).toEqual([31, 41, 31, 41]);
  });
});

describe('heights that were drawn', () => {
  const heights = [
    { bar: 5, height: 0 },
    { bar: 2, height: 1 },
  ];

  it('go before shapes, lie between their neighbours, and come in every chorus', () => {
    const drawn = goals({ heights, shapes: [{ section: null, shape: 'stay' }] }, 2);
    expect(drawn.slice(0, 6)).toEqual([50, 50, 44, 37, 31, 31]);
    expect(drawn.slice(6)).toEqual(drawn.slice(0, 6));
  });

  it('beyond low and high are brought to them', () => {
    expect(goals({ heights: [{ bar: 1, height: 7 }] })[0]).toBe(50);
  });
});

describe('a build', () => {
  it('grows bolder and higher from the first chorus to the last, never past the whole', () => {
    const slots = slotsFor({ build: 1, bold: 0.5 }, 3);
    const firstOf = (chorus: number): Slot => slots.find(({ bar }) => bar === chorus * 6)!;
    expect([0, 1, 2].map((chorus) => firstOf(chorus).lean!.bold)).toEqual([0.125, 0.5, 0.875]);
    expect([0, 1, 2].map((chorus) => firstOf(chorus).lean!.goal)).toEqual([38, 41, 43]);
    expect(slotsFor({ build: 1, bold: 1 }, 2).at(-1)!.lean!.bold).toBe(1);
  });

  it('fills more from chorus to chorus, and as much in all', () => {
    const ornaments = (line: LineWishes): readonly number[] => {
      const slots = slotsFor(line, 9, 0.5, `Key: C\n[A] ${'| C6 | Dm7 G7 '.repeat(16)}|\n`);
      return [0, 4, 8].map(
        (chorus) =>
          slots.filter(({ bar, articulation }) => Math.floor(bar / 32) === chorus && articulation).length,
      );
    };
    const [first, middle, last] = ornaments({ build: 1 });
    expect(first).toBeLessThan(middle! / 2);
    expect(last).toBeGreaterThan(middle! * 1.4);
  });
});
