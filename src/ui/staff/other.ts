// Heads of a second line over the same bars, set where its notes differ from those of the first.
import type { Instrument } from '../../instrument';
import { otherHeadPlace, xOfTick, type PlacedText, type SystemLayout } from '../../notation';
import type { Line } from '../../pipeline/5-line';
import { stringText } from '../words/strings';

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

/** Where the same notes are held otherwise: the finger in brackets, and the string where that differs, too. */
export const fingersBeside = (
  other: Line,
  line: Line,
  { notes }: Pick<SystemLayout, 'notes'>,
  instrument: Instrument,
): readonly PlacedText[] =>
  notes.flatMap(({ index, finger }) => {
    const [ours, theirs] = [line.notes[index]?.placement, other.notes[index]?.placement];
    if (!ours || !theirs || (ours.finger === theirs.finger && ours.string === theirs.string)) return [];
    const string = ours.string === theirs.string ? '' : stringText(instrument, theirs.string);
    return [{ text: `(${theirs.finger}${string})`, x: finger.x, y: finger.y }];
  });
