// No single hard move, and places to live, as limits of lines.
import { describe, expect, it } from 'vitest';
import {
  allPlacements,
  defaultHand,
  defaultInstrument,
  defaultWay,
  findLivingPlace,
  liesIn,
  livingPlaces,
  type Placement,
} from '../../src/instrument';
import { bpm, seconds, barNumber } from '../../src/music';

import { isOverHeel, isShift, makeMoveContext, moveBetween } from '../../src/pipeline/5-line';
import { fingered, givenRequest, noLimits, notesOf } from './given/lines';
import { fingerLine } from '../../src/pipeline/given';
import { chartText, positions, requestFor, walked, walkKept } from './request';

const beat = seconds(0.5);

/** The least hardest shift of a line at 120, by trying every fingering. */
function leastByTrying(text: string, without: readonly number[]): number {
  const table = allPlacements(defaultInstrument, defaultHand, { highestPosition: 12 }).filter(
    ({ position }) => !without.includes(position),
  );
  const context = makeMoveContext(defaultInstrument, beat, beat, seconds(0));
  const ways = notesOf(text).map(({ midi }) => table.filter((one) => one.midi === midi));
  let least = Number.POSITIVE_INFINITY;
  const follow = (at: number, before: Placement | undefined, hardest: number): void => {
    if (hardest >= least) return;
    const own = ways[at];
    if (!own) {
      least = hardest;
      return;
    }
    for (const one of own) {
      const move = before && moveBetween(context, before, one);
      follow(at + 1, one, move && isShift(move) ? Math.max(hardest, move.pressure) : hardest);
    }
  };
  follow(0, undefined, 0);
  return least;
}

describe('no single hard move', () => {
  it.each([
    ['F#1 G#1 A#1 B1 C#2', [2, 5]],
    ['Eb2 F2 Ab2 Bb2 Eb3', [1]],
    ['F1 Eb3 F1', []],
  ])(
    '%s without positions %j: the hardest shift is the least there can be, found by trying all',
    (text, barred) => {
      const limits = { barredPositions: barred as unknown as typeof noLimits.barredPositions };
      const { line } = fingered(text, { limits: { ...limits, hardest: 'least' } });
      const least = leastByTrying(text, barred);
      expect(line.report.hardestMove?.move.pressure ?? 0).toBeCloseTo(least, 9);
      const free = fingered(text, { limits }).line;
      expect(free.report.hardestMove?.move.pressure ?? 0).toBeGreaterThanOrEqual(least - 1e-9);
      expect(line.cost).toBeGreaterThanOrEqual(free.cost);
    },
  );

  it('holds in a walk, takes included, for a measure of one’s own', () => {
    // No open string in the key: the hand has to shift between stopped notes.
    const text = 'Key: F#\n| F#maj7 | D#m7 | G#m7 | C#7 | A#m7 | D#7 | G#m7 C#7 | F#6 |\n';
    const pressureIn = (seed: number): number =>
      walked(text, { tempo: bpm(200), take: { seed, temperature: 1 } }).line.report.hardestMove?.move
        .pressure ?? 0;
    const seed = Array.from({ length: 24 }, (_, index) => index + 1).find((one) => pressureIn(one) > 1);
    expect(seed, 'a take with a hard move in it').toBeDefined();
    const { line } = walked(text, {
      tempo: bpm(200),
      limits: { barredPositions: [], hardest: 1 },
      take: { seed: seed!, temperature: 1 },
    });
    expect(line.report.hardestMove?.move.pressure ?? 0).toBeLessThanOrEqual(1 + 1e-9);
  });

  it('gentle: at most the time there is, or what the notes force; a line is always left', () => {
    for (const [text, tempo] of [
      ['F1 G3 F1', 200],
      ['F1 G1 A1 Bb1', 100],
    ] as const) {
      const at = (hardest: 'gentle' | 'least'): number =>
        fingered(text, { tempo: bpm(tempo), limits: { ...noLimits, hardest } }).line.report.hardestMove?.move
          .pressure ?? 0;
      expect(at('gentle')).toBeLessThanOrEqual(Math.max(1, at('least')) + 1e-9);
    }
    const { line } = walked(chartText('high-fence.txt'), {
      limits: { barredPositions: [], hardest: 'gentle' },
      take: { seed: 3, temperature: 1 },
    });
    expect(line.report.hardestMove!.move.pressure).toBeLessThanOrEqual(1 + 1e-9);
    expect(line.report.coveredShifts).toBeGreaterThan(0);
  });

  it('that cannot be is named among the wishes, in a walk and on a given line', () => {
    const limits = { barredPositions: positions('II'), hardest: 0.01 };
    const { impossible } = fingerLine(notesOf('F1 Eb3 F1'), givenRequest({ limits }));
    expect(impossible?.message).toContain('no move that takes more than 1 % of its time');
    expect(impossible?.cheapest?.source).toMatchObject({ limit: 'hardest move' });
    const pins = [1, 2].map((at) => ({ bar: barNumber(1), beat: at, midi: (at === 1 ? 29 : 51) as never }));
    const result = walkKept(
      requestFor('Key: F\n| F7 |\n', { pins: pins, limits: { ...noLimits, hardest: 0.01 } }),
    );
    expect(result.impossible?.message).toContain('no move that takes more than 1 % of its time');
  });
});

describe('a place to live', () => {
  it.each(livingPlaces.map(({ id }) => id))('%s holds every stopped note of a walk', (id) => {
    const place = findLivingPlace(id)!;
    const { line } = walked(chartText('back-stairs-blues.txt'), {
      limits: { barredPositions: [], place },
      take: { seed: 2, temperature: 0.7 },
    });
    expect(line.notes.every(({ placement }) => liesIn(place, placement))).toBe(true);
  });

  it('at the octave brings the thumb up: it plays where the hand lives there, and only there', () => {
    const thumbs = (id: string): boolean =>
      [1, 2, 3].some((seed) =>
        walked(chartText('ferry-at-noon.txt'), {
          hand: { ...defaultHand, way: { id: findLivingPlace(id)!.way ?? defaultWay.id } },
          limits: { barredPositions: [], place: findLivingPlace(id)! },
          take: { seed, temperature: 1 },
        }).line.notes.some(({ placement }) => placement.finger === 'T'),
      );
    expect(thumbs('summit')).toBe(true);
    expect(thumbs('roam')).toBe(false);
  });

  it('that leaves nothing with the other wishes is named', () => {
    const result = walkKept(
      requestFor('Key: F\n| F7 |\n', {
        limits: {
          barredPositions: positions('III', 'III½', 'IV', 'V', 'V½', 'VI'),
          place: findLivingPlace('block')!,
          barredStrings: [1, 2, 3, 4] as never,
        },
      }),
    );
    expect(result.line).toBeNull();
    expect(result.impossible?.message).not.toBe('');
  });
});

describe('a jump over the heel', () => {
  it('is a shift from one side of it to the other, and costs the line', () => {
    const heel = { heel: 8 as never };
    const at = (from: number, to: number, kind: 'bare shift' | 'pivot' = 'bare shift') =>
      isOverHeel(heel, { kind, from: from as never, to: to as never });
    expect(at(5, 8)).toBe(true);
    expect(at(9, 4)).toBe(true);
    expect(at(8, 11)).toBe(false);
    expect(at(5, 7)).toBe(false);
    expect(at(7, 8, 'pivot')).toBe(false);
    const { line } = fingered('F1 G3 F1 G3');
    const named = line.notes
      .flatMap(({ items }) => items)
      .filter(({ feature }) => feature === 'over the heel');
    expect(named).toHaveLength(line.report.heelJumps);
    expect(line.report.heelJumps).toBeGreaterThan(0);
  });
});

describe('notes of an extension', () => {
  const instrument = { ...defaultInstrument, extension: { string: 4 as never, lowest: 24 as never } };
  it('are in a walk on a bass that has them, when the line is asked to go there', () => {
    const { line } = walked('Key: C\n| C7 | C7 |\n', {
      instrument,
      pins: [{ bar: barNumber(1), beat: 1, midi: 24 as never }],
    });
    const first = line.notes[0]!;
    expect(first.midi).toBe(24);
    expect(first.placement.stop).toBe(-4);
    expect(line.report.byArm.some(({ zone }) => zone === 'off the board')).toBe(true);
  });
});
