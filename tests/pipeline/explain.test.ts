import { describe, expect, it } from 'vitest';
import { explain, lineThrough, type Explanation } from '../../src/pipeline';
import { bestPath } from '../../src/pipeline/4-solver';
import { makeInstance, requestWishes } from '../../src/pipeline/problem/instance';
import { seededRandom, barNumber } from '../../src/music';
import { chartText, memoryFor, requestFor, walked, walkKept } from './request';

const blues = chartText('back-stairs-blues.txt');

function explained(text: string, changes: Parameters<typeof requestFor>[1] = {}, room = false): Explanation {
  const request = requestFor(text, changes);
  return explain(request, walkKept(request), { room }, memoryFor(request))!;
}

/** The cost of the best line there is under some wishes, repeats of bars and all. */
function optimumUnder(changes: Parameters<typeof requestFor>[1] = {}): number | undefined {
  const request = requestFor(blues, changes);
  const { timeline } = walkKept(request);
  const instance = makeInstance(request, timeline!, requestWishes(request, timeline!));
  return instance ? bestPath(instance.lattice)?.cost : undefined;
}

describe('prices', () => {
  it('are 0 somewhere at every beat and never less; the line shown pays no less than the best there is', () => {
    const { slots, optimum } = explained(blues);
    expect(optimum).toBe(optimumUnder());
    // It costs more where a bar would have repeated another.
    expect(walked(blues).line.cost).toBeGreaterThanOrEqual(optimum);
    for (const slot of slots) {
      expect(slot.price).toBeGreaterThanOrEqual(0);
      expect(slot.spots[0]!.price).toBe(0);
      for (const spot of slot.spots) expect(spot.price).toBeGreaterThanOrEqual(0);
    }
  });

  it('are what a pin at that spot costs the best line, to the last thousandth', () => {
    const { slots, optimum } = explained(blues);
    const random = seededRandom(8);
    for (let trial = 0; trial < 12; trial++) {
      const index = Math.floor(random() * slots.length);
      const spots = slots[index]!.spots;
      const { placement, price } = spots[Math.floor(random() * spots.length)]!;
      const pin = {
        bar: barNumber(Math.floor(index / 4) + 1),
        beat: (index % 4) + 1,
        string: placement.string,
        stop: placement.stop,
      };
      expect(optimumUnder({ pins: [pin] })).toBe(optimum + price);
    }
  });

  it('come with the whole line that they are the price of', () => {
    const request = requestFor(blues);
    const result = walkKept(request);
    const { slots, optimum } = explain(request, result, { room: false }, memoryFor(request))!;
    const spot = slots[17]!.spots[9]!;
    const line = lineThrough(request, result, 17, spot.placement)!;
    expect(line.cost).toBe(optimum + spot.price);
    expect(line.notes[17]!.placement).toMatchObject({
      string: spot.placement.string,
      stop: spot.placement.stop,
    });
  });

  it('say what an open string buys: what the best line pays without it', () => {
    const { slots } = explained(blues);
    const { line } = walked(blues);
    const open = line.notes.filter((note) => note.placement.finger === '0');
    expect(open.length).toBeGreaterThan(3);
    for (const note of line.notes) {
      const buys = slots[note.index]!.openStringBuys;
      if (note.placement.finger === '0') expect(buys).toBeGreaterThanOrEqual(0);
      else expect(buys).toBeNull();
    }
    expect(Math.max(...open.map((note) => slots[note.index]!.openStringBuys!))).toBeGreaterThan(500);
  });
});

describe('the two routes of an open string', () => {
  it('are parts of the best lines with and without it, which cost as much apart as it buys', () => {
    const request = requestFor(blues, { take: { seed: 3, temperature: 1 } });
    const result = walkKept(request);
    const { slots } = explain(request, result, { room: false }, memoryFor(request))!;
    const open = result.line!.notes.filter((note) => slots[note.index]!.openStringRoutes);
    expect(open.length).toBeGreaterThan(3);
    for (const { index } of open) {
      const { openStringRoutes, openStringBuys } = slots[index]!;
      const { first, open: own, stopped } = openStringRoutes!;
      expect(own.length).toBe(stopped.length);
      const at = index - first;
      expect(own[at]!.finger).toBe('0');
      expect(stopped[at]!.finger).not.toBe('0');
      const lines = [own, stopped].map((route) => lineThrough(request, result, index, route[at]!)!);
      expect(lines[1]!.cost - lines[0]!.cost).toBe(openStringBuys);
      lines.forEach((line, which) => {
        const route = [own, stopped][which]!.slice(0, line.notes.length - first);
        const played = line.notes.slice(first, first + route.length).map(({ placement }) => placement);
        expect(played).toEqual(route);
      });
      const around = (line: (typeof lines)[number]): unknown[] =>
        line.notes
          .filter((note) => note.index < first || note.index >= first + own.length)
          .map(({ placement }) => placement);
      expect(around(lines[0]!)).toEqual(around(lines[1]!));
    }
  });

  it('are told for open strings alone', () => {
    const { slots } = explained(blues);
    for (const slot of slots) expect(slot.openStringRoutes === undefined).toBe(slot.openStringBuys === null);
  });
});

describe('elbow room', () => {
  it('counts more than one good choice a beat, and tells every spot', () => {
    const { slots } = explained(blues, { take: { seed: 2, temperature: 0.7 } }, true);
    for (const slot of slots) {
      expect(slot.choices).toBeGreaterThanOrEqual(1);
      expect(slot.isBoxedIn).toBe(slot.choices! < 1.3);
      for (const spot of slot.spots) expect(spot.choices).toBeGreaterThanOrEqual(1);
    }
  });

  it('is clearly less from the low F sharp than from one at the neck block, in F sharp major (common practice, no source)', () => {
    const chart = 'Key: F#\nTempo: 140\n| F#maj7 | D#m7 | G#m7 | C#7 |\n';
    const { slots } = explained(chart, { choruses: 2, take: { seed: 1, temperature: 1 } }, true);
    const first = slots[0]!.spots;
    const choices = (string: number, stop: number): number =>
      first.find(({ placement }) => placement.string === string && placement.stop === stop)!.choices!;
    const low = choices(4, 2);
    const neckBlock = Math.max(choices(3, 9), choices(1, 11));
    expect(8 * Math.log2(neckBlock)).toBeGreaterThan(8 * Math.log2(low) + 0.25);
  });
});
