// What a move takes of the time there is, in words: relative ones until the player has calibrated, for the assumed times are good
// for comparing moves only; then seconds. Panel, report, paper and text take their words from here.
import table from '../../../shared/hand/movement.json' with { type: 'json' };
import words from '../../../shared/words/moves.json' with { type: 'json' };
import type { Move } from './types';

/** "easy", "brisk", "at the edge" or "beyond". @param pressure the time a move needs over the time there is */
export const effortOf = (pressure: number): string =>
  (table.effort.rows.find(({ upTo }) => upTo === null || pressure <= upTo) ?? table.effort.rows.at(-1)!).word;

const secondsText = (value: number): string => `${value.toFixed(2)} s`;

/**
 * "at the edge"; once the player has calibrated "about 0.24 s, so the note before ends 0.09 s early".
 * @param isCalibrated whether the hand that the move was worked out for has been
 */
export function effortText(
  { kind, time, pressure }: Pick<Move, 'kind' | 'time' | 'pressure'>,
  isCalibrated: boolean,
): string {
  if (!isCalibrated) return effortOf(pressure);
  const needed = pressure * time;
  const over = needed - time;
  const text = over <= 0 ? words.fits : kind === 'bare shift' ? words.early : words.over;
  return text
    .replace('{needed}', secondsText(needed))
    .replace('{time}', secondsText(time))
    .replace('{over}', secondsText(Math.abs(over)));
}
