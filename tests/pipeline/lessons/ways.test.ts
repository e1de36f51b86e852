// Ways into a note: prices are those of forced solves, and nothing cheaper was left out.
import { describe, expect, it } from 'vitest';
import { soundingMidi, barNumber } from '../../../src/music';
import {
  barsOfWay,
  bestWays,
  devicesOf,
  isBassNote,
  walk,
  waysInto,
  type DeviceId,
  type WayIn,
  type WaysIn,
} from '../../../src/pipeline';
import { chartText, requestFor } from '../request';

const small = requestFor('Key: F\n| F7 | Bb7 |');
const into = { bar: barNumber(2), beat: 1 };
const found = waysInto(small, into) as WaysIn;
const costOf = (pins: NonNullable<(typeof small)['pins']>): number | null =>
  walk({ ...small, pins }).line?.cost ?? null;

describe('ways into a note', () => {
  it('are sorted by price, none below nothing; what is not on offer comes last and says why', () => {
    const prices = found.ways.map(({ price }) => price ?? Infinity);
    expect(prices).toEqual(prices.toSorted((a, b) => a - b));
    expect(prices[0]).toBeGreaterThanOrEqual(0);
    for (const { price, why, line } of found.ways)
      expect([price === null, line === null]).toEqual([why !== null, why !== null]);
  });

  it('have the device they are named for, into the note asked for', () => {
    for (const { device, line, notes } of found.ways) {
      if (!line) continue;
      const target = line.notes[notes.at(-1)!]!;
      expect([target.bar, target.beat]).toEqual([2, 1]);
      expect(isBassNote(target.harmony, target.midi)).toBe(true);
      expect(
        devicesOf(line.notes).some((span) => span.device === device && span.target === target.index),
      ).toBe(true);
    }
  });

  it('cost what the forced line costs more than the best one', () => {
    for (const { line, notes, price } of found.ways.slice(0, 6)) {
      const pins = notes.map((index) => {
        const { bar, beat, midi } = line!.notes[index]!;
        return { bar, beat, midi };
      });
      expect(costOf(pins)! - found.optimum).toBe(price);
    }
  });

  it('of one note are the cheapest of all pairs of notes that the definitions call so', () => {
    const best = new Map<DeviceId, number>();
    for (const target of [34, 46])
      for (let step = -13; step <= 13; step++) {
        const midi = soundingMidi(target - step);
        if (midi < 28 || midi > 55) continue;
        const cost = costOf([
          { bar: barNumber(1), beat: 4, midi },
          { ...into, midi: soundingMidi(target) },
        ]);
        const names: Partial<Record<number, DeviceId>> = {
          1: 'semitone below',
          [-1]: 'semitone above',
          2: 'step below',
          [-2]: 'step above',
          5: 'from the fifth',
          [-7]: 'from the fifth',
          0: 'anticipated root',
        };
        const name = names[step] ?? ([11, 13].includes(Math.abs(step)) ? 'displaced' : undefined);
        if (name && cost !== null) best.set(name, Math.min(best.get(name) ?? Infinity, cost));
      }
    expect(best.size).toBe(7);
    for (const [name, cost] of best)
      expect([name, found.ways.find(({ device }) => device === name)!.price]).toEqual([
        name,
        cost - found.optimum,
      ]);
  });

  it('say where they cannot be: no room, outside the chords, no line', () => {
    const beats = waysInto(requestFor('Key: C\n| C7 F7 | Bb7 Eb7 |'), {
      bar: barNumber(1),
      beat: 3,
    }) as WaysIn;
    const why = (device: DeviceId): string | null => beats.ways.find((way) => way.device === device)!.why;
    expect(why('triple chromatic below')).toBe('no room');
    expect(why('semitone below')).toBeNull();
    // The note before is pinned to the fifth: no semitone can stand there.
    const barred = requestFor('Key: C\n| C7 | C7 | F7 |', {
      pins: [{ bar: barNumber(2), beat: 4, midi: soundingMidi(43) }],
    });
    const pinned = waysInto(barred, { bar: barNumber(3), beat: 1 }) as WaysIn;
    expect(pinned.ways.find(({ device }) => device === 'semitone below')!.why).toBe('no line');
  });

  it('lead into other parts of the chord when asked', () => {
    const third = waysInto(small, into, 'third') as WaysIn;
    const way = third.ways.find(({ device }) => device === 'semitone below')!;
    expect(way.line!.notes[way.notes.at(-1)!]!.midi % 12).toBe(2);
    expect(third.ways.find(({ device }) => device === 'from the fifth')!.why).toBe('outside its chords');
  });

  it('on a sheet of the best: no more than asked for, each notes of its own, and the bars it takes', () => {
    const best = bestWays(found, 5);
    expect(best).toHaveLength(5);
    const prices = best.map(({ price }) => price!);
    expect(prices).toEqual(prices.toSorted((a, b) => a - b));
    // What is left out before the last of them is the end of one of them, note for note.
    const cheaper = found.ways.filter(({ price }) => price !== null && price < prices.at(-1)!);
    const midis = ({ line, notes }: WayIn): string =>
      notes.map((index) => line!.notes[index]!.midi).join(' ');
    for (const way of cheaper)
      expect(best.includes(way) || best.some((other) => ` ${midis(other)}`.endsWith(` ${midis(way)}`))).toBe(
        true,
      );
    for (const way of best) expect(barsOfWay(way)).toEqual({ from: 0, to: 1 });
    expect(barsOfWay({ ...best[0]!, line: null })).toBeNull();
  });

  it('need a note that opens something', () => {
    expect(waysInto(small, { bar: barNumber(1), beat: 3 })).toBe('no target');
    expect(waysInto(small, { bar: barNumber(9), beat: 1 })).toBe('no such beat');
    expect(waysInto(small, { bar: barNumber(1), beat: 1 })).toBe('no target');
    expect(waysInto(requestFor('Key: C'), into)).toBe('no line');
  });

  it('into the dominant of a blues come in the order a teacher shows them', () => {
    const blues = waysInto(requestFor(chartText('back-stairs-blues.txt')), {
      bar: barNumber(10),
      beat: 1,
    }) as WaysIn;
    const named = blues.ways.filter(({ price }) => price !== null).map(({ device }) => device);
    for (const one of [
      'semitone below',
      'semitone above',
      'from the fifth',
      'enclosure above first',
    ] as const)
      expect(named).toContain(one);
  });
});
