import { describe, expect, it } from 'vitest';
import { fitRound, firstChoruses, gapsOf, roundOnPaper, sectionsOf } from '../../../src/ui/print/paper';
import { spotsOf } from '../../../src/ui/print/spots';
import { layoutStaff } from '../../../src/notation';
import { requestFor, walked } from '../../pipeline/request';

const music = walked('Key: F\n[A] | F7 | Bb7 |\n[B] | C7 | F7 |', { choruses: 3 });

describe('twelve keys on paper', () => {
  const { instrument } = requestFor('');
  const options = { instrument, positionNumeral: () => 'III½' };
  const keys = (bars: number): (typeof music)[] => {
    const one = walked(`Key: F\n${'| F7 | Bb7 '.repeat(bars / 2)}|`);
    return Array.from({ length: 12 }, () => one);
  };
  const heightOf = (
    some: readonly (typeof music)[],
    { columns, size }: ReturnType<typeof fitRound>,
  ): number => {
    const width = (687 - (columns - 1) * roundOnPaper.gap) / columns;
    const heights = some.map(({ timeline, line }) =>
      layoutStaff(timeline, line, {
        ...options,
        width: Math.floor(width / size),
        showRoles: false,
      }).systems.reduce((sum, { height }) => sum + height * size, 0),
    );
    return (heights.length / columns) * Math.max(...heights);
  };

  it.each([2, 12])('of %i bars stand on one page, as large as they can', (bars) => {
    const some = keys(bars);
    const fit = fitRound(some, 'A4', false, options);
    expect(heightOf(some, fit)).toBeLessThan(roundOnPaper.page.A4);
    expect(heightOf(some, { ...fit, size: 0.6 }) > roundOnPaper.page.A4).toBe(fit.size < 0.6);
  });

  it('go on to further pages where they could not be read on one, and in large print', () => {
    expect(fitRound(keys(32), 'Letter', false, options).size).toBeGreaterThan(0.5);
    expect(fitRound(keys(2), 'A4', true, options)).toMatchObject({ columns: 1, size: 1.3 });
  });
});

describe('the music on paper', () => {
  it('is as many choruses as asked for, as far as there are', () => {
    expect(firstChoruses(music, 3)).toEqual({ timeline: music.timeline, line: music.line });
    expect(firstChoruses(music, 4).line).toBe(music.line);
    const two = firstChoruses(music, 2);
    expect(two.timeline.bars).toHaveLength(8);
    // What leads into the third chorus leads out of the paper.
    const plain = (notes: typeof music.line.notes): unknown =>
      notes.map((note) => ({ ...note, devices: note.devices.map(({ device }) => device) }));
    expect(plain(two.line.notes)).toEqual(plain(music.line.notes.slice(0, two.line.notes.length)));
    expect(two.line.notes.at(-1)?.bar).toBe(8);
  });

  it('has a map for every section of every chorus, and every note on one of them', () => {
    const sections = sectionsOf(firstChoruses(music, 2));
    expect(sections.map(({ name, from, to }) => [name?.replace(/^.* · /, ''), from, to])).toEqual([
      ['A', 1, 2],
      ['B', 3, 4],
      ['A', 5, 6],
      ['B', 7, 8],
    ]);
    expect(sections.flatMap(({ notes }) => notes)).toHaveLength(firstChoruses(music, 2).line.notes.length);
  });

  it('stands on a map as every stop once, with all its fingers', () => {
    const spots = spotsOf(music.line.notes);
    expect(new Set(spots.map(({ string, stop }) => `${string} ${stop}`)).size).toBe(spots.length);
    for (const { placement } of music.line.notes) {
      const spot = spots.find(({ string, stop }) => string === placement.string && stop === placement.stop);
      expect(spot?.fingers).toContain(placement.finger);
    }
    expect(spots.filter(({ stop }) => stop === 0).every(({ fingers }) => fingers.join() === '0')).toBe(true);
  });

  it('is one section where the chart names none', () => {
    const plain = walked('| F7 | Bb7 |');
    expect(sectionsOf(plain).map(({ name, from, to }) => [name, from, to])).toEqual([[null, 1, 2]]);
  });

  it('has its gaps where a lesson changed notes, else where devices are, else at the ends of bars', () => {
    const { line } = music;
    expect(gapsOf(line, [3, 5])).toEqual([3, 5]);
    const told = gapsOf(line, []);
    expect(told.length).toBeGreaterThan(0);
    expect(told.every((index) => line.notes[index]!.devices.length > 0)).toBe(true);
    const plain = { ...line, devices: [] };
    expect(gapsOf(plain, []).map((index) => line.notes[index]!.beat)).toEqual(
      music.timeline.bars.map(() => 4),
    );
  });
});
