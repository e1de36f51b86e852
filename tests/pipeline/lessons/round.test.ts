// A round through twelve keys, and a line carried to another key.
import { describe, expect, it } from 'vitest';
import { parseKey, practicalKeys, printKey } from '../../../src/music';
import { carriedTo, makeRound, roundGrounds, roundKeys, type CarriedLine } from '../../../src/pipeline';
import { requestFor, walked } from '../request';

const small = 'Key: F\n\n| F7 | Bb7 |\n';

/** The least sum with three keys a ground, over all ways, by how many keys each ground has so far. */
function leastTotal(costs: readonly (readonly number[])[]): number {
  let sums = new Map<string, number>([['0,0,0,0', 0]]);
  for (const row of costs) {
    const next = new Map<string, number>();
    for (const [key, sum] of sums) {
      const taken = key.split(',').map(Number);
      row.forEach((cost, place) => {
        if (taken[place]! >= 3) return;
        const after = taken.with(place, taken[place]! + 1).join();
        next.set(after, Math.min(next.get(after) ?? Infinity, sum + cost));
      });
    }
    sums = next;
  }
  return sums.get('3,3,3,3')!;
}

describe('a round', () => {
  it('takes each of twelve keys once and each ground three times, at the least sum of all ways', () => {
    const told: number[] = [];
    const round = makeRound(requestFor(small), { layer: 'frame', order: 'fourths' }, (done) =>
      told.push(done),
    );
    expect(round.problem).toBeNull();
    expect(round.keys.map(({ key }) => printKey(key))).toEqual(
      ['F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G', 'C'].map((name) => `${name} major`),
    );
    for (const ground of roundGrounds)
      expect(round.keys.filter((one) => one.ground === ground)).toHaveLength(3);
    expect(round.total).toBe(leastTotal(round.costs));
    expect(round.total).toBe(round.keys.reduce((sum, { cost }) => sum + cost, 0));
    for (const { lesson, cost } of round.keys) expect(lesson.line!.cost).toBe(cost);
    expect(told).toHaveLength(48);
    expect(told.at(-1)).toBe(1);
  });

  it('mixes the keys by the seed', () => {
    const names = (seed: number): string[] => roundKeys(parseKey('C minor')!, 'mixed', seed).map(printKey);
    expect(names(1)).toEqual(names(1));
    expect(names(1)).not.toEqual(names(2));
    expect(names(1).toSorted()).toEqual(practicalKeys('minor').map(printKey).toSorted());
  });

  it('begins with the study’s key, or the one that sounds like it', () => {
    expect(printKey(roundKeys(parseKey('C# major')!, 'fourths', 1)[0]!)).toBe('Db major');
    expect(printKey(roundKeys(parseKey('G minor')!, 'fourths', 1)[1]!)).toBe('C minor');
  });

  it('says so when nothing can be played', () => {
    expect(makeRound(requestFor('Key: F\n| N.C. |'), { layer: 'frame', order: 'fourths' }).problem).toBe(
      'nothing to play',
    );
  });
});

describe('a line in another key', () => {
  const request = requestFor(small, { take: { seed: 2, temperature: 1 } });
  const { line, timeline } = walked(small, request);
  const to = (key: string): CarriedLine => {
    const carried = carriedTo(request, line, timeline, parseKey(key)!);
    if (typeof carried === 'string') throw new Error(carried);
    return carried;
  };

  it.each(practicalKeys('major').map(({ tonic }) => tonic))(
    'goes to %s by one interval, fingered anew',
    (key) => {
      const carried = to(key);
      carried.line!.notes.forEach(({ midi, tick, placement }, index) => {
        const before = line.notes[index]!;
        const by = midi - before.midi;
        expect(carried.folded.includes(index) ? Math.abs(by - carried.moved) : by - carried.moved).toBe(
          carried.folded.includes(index) ? 12 : 0,
        );
        expect(tick).toBe(before.tick);
        expect(carried.fingers.includes(index)).toBe(placement.finger !== before.placement.finger);
        expect(carried.strings.includes(index)).toBe(placement.string !== before.placement.string);
      });
      expect(Math.abs(carried.moved)).toBeLessThanOrEqual(11);
    },
  );

  it('changes no note in its own key', () => {
    expect([to('F').moved, to('F').folded]).toEqual([0, []]);
  });
});
