// Which takes are seen: those that keep within what the player chose. Null lets all pass.
import { lowShare, stayBeats } from './figures';
import type { Row } from './order';

export interface Sieve {
  /** Largest share of the time in the low region, 0 to 1. */
  readonly low: number | null;
  /** Beats of the longest stay. */
  readonly stay: number | null;
  readonly bare: number | null;
}

export type SieveName = keyof Sieve;

export const openSieve: Sieve = { low: null, stay: null, bare: null };

/** What may be chosen of each, besides all. */
export const sieveChoices: Readonly<Record<SieveName, readonly number[]>> = {
  low: [0.2, 0.3, 0.4, 0.5, 0.6, 0.7],
  stay: [4, 6, 8, 12, 16, 24],
  bare: [0, 2, 4, 6, 8, 12, 16],
};

// A share of beats is a sum of parts: what lies a hair above a limit is at it.
const hair = 1e-9;
const within = (value: number, most: number | null): boolean => most === null || value <= most + hair;

export const sifted = <R extends Row>(rows: readonly R[], { low, stay, bare }: Sieve): readonly R[] =>
  rows.filter(
    ({ figures }) =>
      within(lowShare(figures), low) &&
      within(stayBeats(figures), stay) &&
      within(figures.report.bareShifts, bare),
  );

export const takesAll = ({ low, stay, bare }: Sieve): boolean =>
  low === null && stay === null && bare === null;
