// Heads of a second line over the same bars, set where its notes differ from those of the first.
import { otherHeadPlace, xOfTick, type SystemLayout } from '../../notation';
import type { Line } from '../../pipeline/5-line';

export interface OtherHead {
  readonly x: number;
  readonly y: number;
  /** Heights of its ledger lines. */
  readonly ledgers: readonly number[];
}

/** The heads that fall into a system; the same pitch at the same moment is not set again. */
export function otherHeads(
  other: Line,
  line: Line | null,
  system: Pick<SystemLayout, 'bars' | 'staffTop'>,
  space: number,
): readonly OtherHead[] {
  const first = system.bars[0];
  const last = system.bars.at(-1);
  if (!first || !last) return [];
  const played = new Map(line?.notes.map(({ tick, midi }) => [tick, midi]));
  return other.notes.flatMap(({ tick, midi, pitch }) => {
    const isHere = tick >= first.tick && tick < last.tick + last.ticks;
    if (!isHere || played.get(tick) === midi) return [];
    return [{ x: xOfTick(system, tick), ...otherHeadPlace(pitch, system.staffTop, space) }];
  });
}
