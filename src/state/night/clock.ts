// When the sets of a night begin and end, and the tunes in them.
import type { NightPlan } from '../../night';
import type { Night } from './night';

export interface SetTimes {
  /** Minutes after the start of the night. */
  readonly from: number;
  readonly to: number;
  /** When each of its tunes begins. */
  readonly tunes: readonly number[];
}

/** When everything of a planned night happens; tunes take their time, and so does what lies between them. */
export function nightTimes(
  { sets, between }: Pick<Night, 'sets' | 'between'>,
  plan: Pick<NightPlan, 'sets'>,
): readonly SetTimes[] {
  let at = 0;
  return plan.sets.map((tunes, set) => {
    const from = at;
    const begins = tunes.map(({ measure }, tune) => {
      const begin = at + (tune > 0 ? between : 0);
      at = begin + measure.length;
      return begin;
    });
    const to = at;
    at = to + (sets[set]?.breakAfter ?? 0);
    return { from, to, tunes: begins };
  });
}

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
