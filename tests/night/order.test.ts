// The order of a set, against every order of it written down.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { regions } from '../../src/instrument';
import { bpm, parseKey } from '../../src/music';
import { mostExact, orderSet, orderScore, compareScores, type OrderTune } from '../../src/night';

const stay = fc.option(
  fc.record({
    region: fc.constantFrom(...regions),
    from: fc.constant(0),
    seconds: fc.integer({ min: 1, max: 9 }),
  }),
);
const tune = fc.record({
  key: fc.constantFrom(...['F', 'Bb', 'Eb', 'C minor'].map((name) => parseKey(name)!)),
  tempo: fc.integer({ min: 60, max: 240 }).map(bpm),
  ends: fc.record({ first: stay, last: stay }),
  minutes: fc
    .array(fc.integer({ min: 0, max: 5 }), { minLength: regions.length, maxLength: regions.length })
    .map(
      (values) =>
        Object.fromEntries(regions.map((region, at) => [region, values[at]!])) as OrderTune['minutes'],
    ),
});

function permutations(items: readonly number[]): number[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((one) =>
    permutations(items.filter((other) => other !== one)).map((rest) => [one, ...rest]),
  );
}

/** Written again from the words of the design: the parts of a score, in the order in which they count. */
function partsOf(tunes: readonly OrderTune[], order: readonly number[]): number[] {
  const parts = [0, 0, 0, 0];
  for (let at = 1; at < order.length; at++) {
    const [a, b] = [tunes[order[at - 1]!]!, tunes[order[at]!]!];
    const run =
      a.ends.last && b.ends.first && a.ends.last.region === b.ends.first.region
        ? a.ends.last.seconds + b.ends.first.seconds
        : 0;
    parts[0] = Math.max(parts[0]!, run);
    for (const region of regions) parts[1] = Math.max(parts[1]!, a.minutes[region] + b.minutes[region]);
    if (a.key!.tonic === b.key!.tonic && a.key!.mode === b.key!.mode) parts[2]!++;
    parts[3]! += Math.abs(Math.log2(a.tempo!) - Math.log2(b.tempo!));
  }
  return parts;
}

const better = (a: readonly number[], b: readonly number[]): boolean => {
  const at = a.findIndex((value, part) => Math.abs(value - b[part]!) > 1e-7);
  return at >= 0 && a[at]! < b[at]!;
};

const pin = fc.option(fc.integer({ min: 0, max: 4 }));

describe('the order of five tunes', () => {
  it('is as good as the best of all that keep the pins', () => {
    fc.assert(
      fc.property(fc.array(tune, { minLength: 5, maxLength: 5 }), pin, pin, (tunes, first, last) => {
        const { order, isExact } = orderSet(tunes, { first, last });
        const end = last === first ? null : last;
        const allowed = permutations([0, 1, 2, 3, 4]).filter(
          (one) => (first === null || one[0] === first) && (end === null || one.at(-1) === end),
        );
        expect(isExact).toBe(true);
        expect(allowed).toContainEqual(order);
        const own = partsOf(tunes, order);
        expect(allowed.filter((one) => better(partsOf(tunes, one), own))).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});

describe('the order of a long set', () => {
  const long = fc.array(tune, { minLength: mostExact + 1, maxLength: 12 });

  it('keeps every tune and the pins, is no worse than as given, and is not called the best', () => {
    fc.assert(
      fc.property(long, fc.boolean(), (tunes, isPinned) => {
        const pinned = isPinned ? { first: 2, last: 5 } : { first: null, last: null };
        const { order, isExact, score } = orderSet(tunes, pinned);
        expect(isExact).toBe(false);
        expect([...order].sort((a, b) => a - b)).toEqual(tunes.map((_, at) => at));
        if (isPinned) expect([order[0], order.at(-1)]).toEqual([2, 5]);
        else
          expect(
            compareScores(
              score,
              orderScore(
                tunes,
                tunes.map((_, at) => at),
              ),
            ),
          ).toBeLessThanOrEqual(0);
      }),
      { numRuns: 25 },
    );
  });

  it('is found for eight tunes by comparing all, for nine not', () => {
    const tunes = fc.sample(tune, { numRuns: 9, seed: 1 });
    expect(orderSet(tunes.slice(0, 8), { first: null, last: null }).isExact).toBe(true);
    expect(orderSet(tunes, { first: null, last: null }).isExact).toBe(false);
  });
});

it('keeps two heavy tunes apart', () => {
  const plain: OrderTune = {
    key: null,
    tempo: bpm(120),
    ends: { first: null, last: null },
    minutes: { low: 1, middle: 1, 'neck block': 1, octave: 0 },
  };
  const heavy: OrderTune = { ...plain, minutes: { ...plain.minutes, low: 6 } };
  const { order } = orderSet([heavy, heavy, plain, plain], { first: null, last: null });
  expect(Math.abs(order.indexOf(0) - order.indexOf(1))).toBeGreaterThan(1);
});
