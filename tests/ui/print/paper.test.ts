import { describe, expect, it } from 'vitest';
import { firstChoruses, gapsOf, sectionsOf } from '../../../src/ui/print/paper';
import { spotsOf } from '../../../src/ui/print/spots';
import { walked } from '../../pipeline/request';

const music = walked('Key: F\n[A] | F7 | Bb7 |\n[B] | C7 | F7 |', { choruses: 3 });

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
