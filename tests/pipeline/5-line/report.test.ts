// The hand report against the notes it was made of.
import { describe, expect, it } from 'vitest';
import { armZoneOf, defaultHand, defaultInstrument, difficulty } from '../../../src/instrument';
import { stretchShare } from '../../../src/pipeline/5-line';
import { chartText, walked } from '../request';

const { line } = walked(chartText('ferry-at-noon.txt'), { choruses: 2, take: { seed: 4, temperature: 1 } });
const { report, notes } = line;
const player = { instrument: defaultInstrument, hand: defaultHand };
const stopped = notes.filter(({ placement }) => placement.finger !== '0');

describe('the hand report', () => {
  it('has the distances of bare and covered shifts, in mm', () => {
    for (const [kind, distances] of [
      ['bare shift', report.bareDistance],
      ['covered shift', report.coveredDistance],
    ] as const) {
      const own = notes.filter(({ move }) => move.kind === kind).map(({ move }) => move.distance as number);
      const total = own.reduce((sum, one) => sum + one, 0);
      expect(distances.total).toBeCloseTo(total, 6);
      expect(distances.mean).toBeCloseTo(own.length === 0 ? 0 : total / own.length, 6);
      expect(distances.longest).toBeCloseTo(Math.max(0, ...own), 6);
    }
    expect(report.coveredDistance.total).toBeGreaterThan(0);
  });

  it('has every stopped note under one threshold of the span, and the stretches over the comfortable one', () => {
    const { relaxed, comfortable, practical } = report.holds;
    expect(relaxed + comfortable + practical).toBe(stopped.length);
    expect(practical).toBe(report.stretches);
    expect(relaxed).toBe(stopped.filter(({ placement }) => stretchShare(player, placement) <= 0.55).length);
  });

  it('has stopped time by arm zone, summing to all of it', () => {
    expect(report.byArm.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
    for (const { zone, beats } of report.byArm) {
      const own = stopped.filter(
        ({ placement }) => armZoneOf(defaultInstrument, placement.position) === zone,
      );
      expect(beats).toBeCloseTo(
        own.reduce((sum, { ticks }) => sum + ticks / 480, 0),
        9,
      );
    }
  });

  it('counts crossings and jumps over the heel', () => {
    const pairs = notes.slice(1).map((note, index) => [notes[index]!, note] as const);
    expect(report.crossings).toBe(pairs.filter(([a, b]) => a.placement.string !== b.placement.string).length);
    const over = notes.filter(
      ({ move: { kind, from, to } }) => kind.endsWith('shift') && from < 8 !== to < 8,
    );
    expect(report.heelJumps).toBe(over.length);
  });

  it('names the hardest shift, pivots apart, with its bits', () => {
    const shifts = notes.filter(({ move }) => move.kind.endsWith('shift'));
    const hardest = Math.max(...shifts.map(({ move }) => move.pressure));
    const { move, bits, bar, beat } = report.hardestMove!;
    expect(move.pressure).toBe(hardest);
    expect(bits).toBeCloseTo(difficulty(defaultInstrument, move.from, move.to), 9);
    expect(notes.some((note) => note.bar === bar && note.beat === beat && note.move === move)).toBe(true);
  });
});
