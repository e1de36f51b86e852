// The plan of a night: its minutes, what `walk` says of its tunes, its wishes, its price, its gap.
import { describe, expect, it } from 'vitest';
import { regions } from '../../src/instrument';
import { secondsOf } from '../../src/music';
import { planNight, type Measure, type NightCaches, type NightPlan, type NightWish } from '../../src/night';
import type { RegionPrice } from '../../src/pipeline';
import { walkKept } from '../pipeline/request';
import { ownTuneOf, planned, shortNight, tuneOf } from './night';

const free = planned(shortNight());
const partsOf = ({ byRegion, open, rests, apart }: Measure): number =>
  regions.reduce((sum, region) => sum + byRegion[region], 0) + open + rests + apart;

const most = (region: 'low' | 'middle' | 'neck block', minutes: number): NightWish => ({
  kind: 'most',
  region,
  minutes,
});
const middle = free.whole.byRegion.middle;
/** More minutes at the neck block than anybody would spend there by themselves. */
const enough = free.whole.length / 6;

/** The prices of a plan as limits of a request. */
function pricesAt(plan: NightPlan, tempo: number): RegionPrice[] {
  return plan.wishes.flatMap(({ wish, price }) =>
    wish.kind === 'stay' || price === null || price === 0
      ? []
      : [
          {
            region: wish.region,
            side: wish.kind === 'most' ? ('inside' as const) : ('outside' as const),
            perBeat: price / tempo,
          },
        ],
  );
}

describe('the minutes of a night', () => {
  it('add up to its length, tune by tune, set by set and in all', () => {
    const measures = [...free.sets.flat().map(({ measure }) => measure), ...free.bySet, free.whole];
    expect(measures).toHaveLength(7);
    for (const measure of measures) expect(partsOf(measure)).toBeCloseTo(measure.length, 9);
    expect(free.whole.length).toBeCloseTo(free.bySet[0]!.length + free.bySet[1]!.length, 9);
  });

  it('are those of the chart at its tempo, and leave apart what is not walked', () => {
    const request = shortNight();
    request.sets.flat().forEach((tune, at) => {
      const { timeline } = walkKept(tune.request);
      const { measure } = free.sets.flat()[at]!;
      expect(measure.length).toBeCloseTo(secondsOf(timeline!.ticks, timeline!.tempo) / 60, 9);
      expect(measure.apart).toBeCloseTo(measure.length * (1 - tune.walked), 9);
    });
    expect(free.sets[0]![1]!.measure.apart).toBeGreaterThan(0.1);
  });

  it('count rests of the line as rests', () => {
    const rest = { ...tuneOf('wet-gravel-blues'), title: 'rest' };
    const request = { ...rest.request, chartText: 'Key: F\nTempo: 120\n| F7 | N.C. | F7 | C7 |' };
    const plan = planned({ sets: [[{ ...rest, request }]], wishes: [], takes: 0 });
    expect(plan.whole.rests).toBeCloseTo(4 / 120, 9);
  });
});

describe('every tune of a plan', () => {
  const plan = planned(shortNight(most('middle', middle * 0.6)));

  it('lies where `walk` says it does under the price that is told', () => {
    expect(plan.wishes[0]!.price).toBeGreaterThan(0);
    const tunes = shortNight().sets.flat();
    plan.sets.flat().forEach((tune, at) => {
      const { request, walked } = tunes[at]!;
      const { tempo } = tune;
      const { line } = walkKept({
        ...request,
        take: { ...request.take, mayRepeat: true },
        limits: { ...request.limits, prices: pricesAt(plan, tempo!) },
      });
      for (const { region, beats } of line!.report.byRegion) {
        const told = region === 'open' ? tune.measure.open : tune.measure.byRegion[region];
        expect(told).toBeCloseTo((beats / tempo!) * walked, 9);
      }
      expect(tune.measure.bareShifts).toBeCloseTo(line!.report.bareShifts * walked, 9);
      expect(tune.first!.midi).toBe(line!.notes[0]!.midi);
    });
  });

  it('says what the wish cost it in notes, and costs no less', () => {
    const differing = plan.sets.flat().map(({ differing: { notes, places } }) => notes + places);
    expect(Math.max(...differing)).toBeGreaterThan(0);
    expect(free.sets.flat().every(({ differing: { notes, places } }) => notes + places === 0)).toBe(true);
    expect(plan.cost).toBeGreaterThan(plan.costBefore);
    expect(plan.costBefore).toBe(free.cost);
  });
});

describe('a wish', () => {
  it('for at most so many minutes holds', () => {
    for (const share of [0.8, 0.3]) {
      const plan = planned(shortNight(most('middle', middle * share)));
      expect(plan.wishes[0]!.holds).toBe(true);
      expect(plan.whole.byRegion.middle).toBeLessThanOrEqual(middle * share + 1e-9);
      expect(plan.gap).toBeGreaterThanOrEqual(0);
      // The least price will do: what may be spent is spent, but for what one tune alone can give back.
      expect(plan.whole.byRegion.middle).toBeGreaterThan(middle * (share - 0.15));
    }
  });

  it('for at least so many minutes holds', () => {
    const wish: NightWish = { kind: 'least', region: 'neck block', minutes: enough };
    expect(free.whole.byRegion['neck block']).toBeLessThan(enough);
    const plan = planned(shortNight(wish));
    expect(plan.wishes[0]!.holds).toBe(true);
    expect(plan.whole.byRegion['neck block']).toBeGreaterThanOrEqual(enough - 1e-9);
  });

  it('that holds by itself changes nothing and bears no price', () => {
    const plan = planned(shortNight(most('middle', middle + 1)));
    expect(plan.wishes[0]!.price).toBe(0);
    expect(plan.gap).toBe(0);
    expect(plan.sets).toEqual(free.sets);
  });

  it('that cannot be is named, with the nearest that was found, and left out of the plan', () => {
    const wish: NightWish = { kind: 'least', region: 'neck block', minutes: 500 };
    const plan = planned(shortNight(wish, most('middle', middle * 0.7)));
    const [missed, kept] = plan.wishes;
    expect(missed).toMatchObject({ wish, holds: false });
    expect(missed!.nearest).toBeGreaterThan(enough);
    expect(missed!.nearest).toBeLessThan(free.whole.length);
    expect(kept!.holds).toBe(true);
  });

  it('for two regions holds in both', () => {
    const plan = planned(
      shortNight(most('middle', middle * 0.7), { kind: 'least', region: 'neck block', minutes: enough }),
    );
    expect(plan.wishes.map(({ holds }) => holds)).toEqual([true, true]);
    expect(plan.gap).toBeGreaterThanOrEqual(0);
  });

  it('for a longest stay holds in every tune, at what the best such line costs', () => {
    const seconds = 3;
    expect(free.whole.longestStay!.seconds).toBeGreaterThan(seconds);
    const plan = planned(shortNight({ kind: 'stay', seconds }));
    expect(plan.wishes[0]!.holds).toBe(true);
    for (const { measure } of plan.sets.flat())
      expect(measure.longestStay!.seconds).toBeLessThanOrEqual(seconds + 1e-9);
    const costs = shortNight()
      .sets.flat()
      .map(({ request, walked }, at) => {
        const beats = (seconds * plan.sets.flat()[at]!.tempo!) / 60;
        return (
          walkKept({
            ...request,
            take: { ...request.take, mayRepeat: true },
            limits: { ...request.limits, stay: { region: 'any' as const, beats } },
          }).line!.cost * walked
        );
      });
    expect(plan.cost).toBeCloseTo(
      costs.reduce((a, b) => a + b),
      6,
    );
  });
});

describe('the price', () => {
  it('takes minutes away the more the higher it is', () => {
    const { steps } = planned(shortNight(most('middle', middle * 0.3)));
    const sorted = [...steps].sort((a, b) => a.price - b.price);
    expect(sorted.length).toBeGreaterThan(2);
    sorted.slice(1).forEach(({ minutes }, at) => {
      expect(minutes).toBeLessThanOrEqual(sorted[at]!.minutes + 1e-9);
    });
    expect(sorted[0]!.minutes).toBeGreaterThan(sorted.at(-1)!.minutes);
  });
});

describe('takes', () => {
  it('have a mean within their range, and none where the best line is played', () => {
    const night = shortNight();
    const varied = night.sets.map((set) =>
      set.map((tune) => ({ ...tune, request: { ...tune.request, take: { seed: 1, temperature: 1 } } })),
    );
    const plan = planned({ ...night, sets: [varied[0]!], takes: 5 });
    for (const { spread } of plan.sets.flat())
      for (const region of regions) {
        expect(spread!.least[region]).toBeLessThanOrEqual(spread!.mean[region]);
        expect(spread!.mean[region]).toBeLessThanOrEqual(spread!.most[region]);
      }
    expect(plan.sets[0]![0]!.spread!.least.middle).toBeLessThan(plan.sets[0]![0]!.spread!.most.middle);
    // Drawn or not, the plan is that of the best lines.
    expect(plan.whole.byRegion).toEqual(planned({ ...night, sets: [night.sets[0]!] }).whole.byRegion);
    expect(planned({ ...night, takes: 5 }).sets[0]![0]!.spread).toBeNull();
  });
});

describe('a tune with a line of one’s own', () => {
  const tune = ownTuneOf('slow-tide');
  const night = (...asked: readonly NightWish[]) => planned({ sets: [[tune]], wishes: asked, takes: 0 });
  const before = night();

  it('is fingered another way for a wish: its notes stand, the wish holds, and no fingering is cheaper at the price', () => {
    const plan = night(most('middle', before.whole.byRegion.middle * 0.7));
    const [wish] = plan.wishes;
    expect(wish).toMatchObject({ holds: true });
    expect(wish!.price).toBeGreaterThan(0);
    expect(plan.sets[0]![0]!.differing.notes).toBe(0);
    expect(plan.sets[0]![0]!.differing.places).toBeGreaterThan(0);
    expect(plan.cost).toBeGreaterThan(before.cost);
    const gone = before.whole.byRegion.middle - plan.whole.byRegion.middle;
    // Prices are rounded down note by note.
    expect(plan.cost - before.cost).toBeLessThanOrEqual(gone * wish!.price! + 1e-9);
  });

  it('keeps the longest stay of the night where a fingering can', () => {
    const longest = before.whole.longestStay!.seconds;
    const plan = night({ kind: 'stay', seconds: longest * 0.8 });
    expect(plan.wishes[0]!.holds).toBe(true);
    expect(plan.whole.longestStay!.seconds).toBeLessThan(longest);
  });
});

describe('a night with tunes that cannot be', () => {
  it('plans the others and says which', () => {
    const empty = tuneOf('wet-gravel-blues', { chartText: '' });
    const impossible = tuneOf('wet-gravel-blues', {
      limits: { barredPositions: [], barredStrings: [1, 2, 3, 4] as never },
    });
    const plan = planned({
      sets: [[empty, tuneOf('slow-tide'), impossible]],
      wishes: [most('middle', 0.1)],
      takes: 0,
    });
    expect(plan.sets[0]!.map(({ first }) => first !== null)).toEqual([false, true, false]);
    expect(plan.sets[0]![2]!.impossible!.message).toMatch(/\w/);
    expect(plan.sets[0]![2]!.measure.apart).toBe(plan.sets[0]![2]!.measure.length);
    expect(plan.wishes[0]!.holds).toBe(true);
    expect(partsOf(plan.whole)).toBeCloseTo(plan.whole.length, 9);
  });

  it('is nothing when it is empty', () => {
    expect(planned({ sets: [], wishes: [most('low', 1)], takes: 5 }).whole.length).toBe(0);
  });
});

it('is the same plan with what an earlier one left, which is the tunes of the night and no more', () => {
  const remembered: NightCaches = new Map();
  const wish = most('middle', middle * 0.8);
  planNight(shortNight(most('middle', middle * 0.6)), undefined, remembered);
  expect(remembered.size).toBe(4);
  expect(planNight(shortNight(wish), undefined, remembered)).toEqual(planNight(shortNight(wish)));
  planNight({ ...shortNight(), sets: [shortNight().sets[0]!.slice(1)] }, undefined, remembered);
  expect(remembered.size).toBe(1);
});

it('tells how far it has come, never backwards', () => {
  const told: number[] = [];
  planNight(shortNight(most('middle', middle * 0.5)), (done) => told.push(done));
  expect(told.length).toBeGreaterThan(10);
  expect(told).toEqual([...told].sort((a, b) => a - b));
  expect(Math.max(...told)).toBeLessThanOrEqual(1);
});
