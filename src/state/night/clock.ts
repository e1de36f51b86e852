// When the sets of a night begin and end.
import type { NightPlan } from '../../night';
import type { Night } from './night';

export interface SetTimes {
  /** Minutes after the start of the night. */
  readonly from: number;
  readonly to: number;
}

/** @param lengths minutes of each set */
export function setTimes({ sets }: Pick<Night, 'sets'>, lengths: readonly number[]): readonly SetTimes[] {
  let at = 0;
  return sets.map(({ breakAfter }, set) => {
    const from = at;
    const to = from + (lengths[set] ?? 0);
    at = to + breakAfter;
    return { from, to };
  });
}

export const setLengths = ({ bySet }: Pick<NightPlan, 'bySet'>): readonly number[] =>
  bySet.map(({ length }) => length);

const day = 24 * 60;

/** "21:05": minutes after midnight as a clock says them; past midnight it begins anew. */
export function clockText(minutes: number): string {
  const of = ((Math.round(minutes) % day) + day) % day;
  return `${String(Math.floor(of / 60)).padStart(2, '0')}:${String(of % 60).padStart(2, '0')}`;
}

/** Reads "20:30" or "8.30"; null when it is no time. */
export function parseClock(text: string): number | null {
  const match = /^\s*(\d{1,2})[:.](\d{2})\s*$/.exec(text);
  if (!match) return null;
  const [hours, minutes] = [Number(match[1]), Number(match[2])];
  return hours < 24 && minutes < 60 ? hours * 60 + minutes : null;
}
