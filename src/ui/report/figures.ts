// The hand report turned into what is shown: per chorus and per hour at a tempo. Arithmetic on the report, no music.
import type { Region } from '../../instrument';
import { secondsOf, ticksPerQuarter, type Bpm } from '../../music';
import type { HandReport, Timeline } from '../../pipeline';

/** One place the hand can be, and for how long. */
export interface RegionFigures {
  readonly region: Region | 'open';
  /** Of the time in which a note sounds, 0 to 1. */
  readonly share: number;
  /** Quarter notes in one chorus. */
  readonly beatsAChorus: number;
  /** Minutes in an hour of playing this over and over; rests count as nowhere. */
  readonly minutesAnHour: number;
}

export const countKinds = [
  'bareShifts',
  'coveredShifts',
  'pivots',
  'stretches',
  'sameFingerShifts',
  'crossings',
  'heelJumps',
] as const;
export type CountKind = (typeof countKinds)[number];

export interface CountFigures {
  readonly kind: CountKind;
  readonly aChorus: number;
  readonly anHour: number;
}

export interface Figures {
  /** Seconds one chorus lasts. */
  readonly chorus: number;
  readonly chorusesAnHour: number;
  readonly regions: readonly RegionFigures[];
  readonly counts: readonly CountFigures[];
}

/** @param choruses how many choruses the report covers, at least 1 */
export function makeFigures(report: HandReport, timeline: Timeline, tempo: Bpm, choruses: number): Figures {
  const passes = Math.max(choruses, 1);
  const whole = secondsOf(timeline.ticks, tempo);
  const chorus = whole / passes;
  const chorusesAnHour = chorus > 0 ? 3600 / chorus : 0;
  const beatsInAll = timeline.ticks / ticksPerQuarter;
  return {
    chorus,
    chorusesAnHour,
    regions: report.byRegion.map(({ region, beats, share }) => ({
      region,
      share,
      beatsAChorus: beats / passes,
      minutesAnHour: beatsInAll > 0 ? (60 * beats) / beatsInAll : 0,
    })),
    counts: countKinds.map((kind) => {
      const aChorus = report[kind] / passes;
      return { kind, aChorus, anHour: aChorus * chorusesAnHour };
    }),
  };
}

/**
 * Shares as whole percents that still sum to the rounded whole: the largest remainders are rounded up.
 * @param shares 0 to 1
 */
export function wholePercents(shares: readonly number[]): readonly number[] {
  const exact = shares.map((share) => share * 100);
  const whole = exact.map(Math.floor);
  const missing = Math.round(exact.reduce((a, b) => a + b, 0)) - whole.reduce((a, b) => a + b, 0);
  const byRemainder = exact.map((value, index) => ({ index, rest: value - Math.floor(value) }));
  byRemainder.sort((a, b) => b.rest - a.rest || a.index - b.index);
  for (const { index } of byRemainder.slice(0, missing)) whole[index]! += 1;
  return whole;
}
