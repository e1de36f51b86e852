// How the last chorus ends: back to the top, on a long root, or on one after a tag.
import { pitchClassOf, ticks } from '../../music';
import type { Stop } from './rhythm-stops';
import type { TimelineBar, TimelineChord } from './types';

/**
 * Round: the last bar leads back to the first. Final: the last bar is one long root of the tonic. Tag: the same, and the
 * phrase that closes the form is played three times before it goes there.
 */
export const endings = ['round', 'final', 'tag'] as const;
export type EndingWish = (typeof endings)[number];

/** True when the last bar leads back to the first. */
export const goesRound = (ending: EndingWish = 'round'): boolean => ending === 'round';

const isTonicOf = (bar: TimelineBar, { chord }: TimelineChord): boolean =>
  chord !== null && chord.bass === null && pitchClassOf(chord.root) === pitchClassOf(bar.key.tonic);

/** A bar on one chord. */
const onOneChord = (bar: TimelineBar, harmony: TimelineChord, isChange: boolean): TimelineBar => ({
  ...bar,
  chords: [{ ...harmony, tick: bar.tick, ticks: ticks(bar.ticks), beat: bar.chords[0]!.beat, isChange }],
});

/**
 * The bars with the turnaround taken out that would lead back: a tonic that opens one of the last two bars holds to the
 * end; else the tonic last heard takes the last bar, or, where the chart has none, the last bar's own last chord
 * (common practice, no source). Bars that end in N.C. stay as they are.
 */
export function barsToTheEnd(bars: readonly TimelineBar[]): readonly TimelineBar[] {
  const last = bars.at(-1);
  const closing = last?.chords.at(-1);
  if (last === undefined || closing === undefined || closing.chord === null) return bars;
  const opensOnTonic = bars
    .slice(-2)
    .findLast((bar) => bar.chords[0] !== undefined && isTonicOf(last, bar.chords[0]));
  const from = opensOnTonic ?? last;
  const heard = bars
    .slice(0, from.index)
    .flatMap(({ chords }) => chords)
    .findLast((harmony) => isTonicOf(last, harmony));
  const tonic = opensOnTonic?.chords[0] ?? heard ?? closing;
  const before = bars[from.index - 1]?.chords.at(-1)?.chord?.symbol;
  return bars.map((bar) =>
    bar.index < from.index ? bar : onOneChord(bar, tonic, bar === from && before !== tonic.chord?.symbol),
  );
}

/** The stops with those of the last bar made one. */
export function stopsToTheEnd(stops: readonly Stop[], bars: readonly TimelineBar[]): readonly Stop[] {
  const last = bars.at(-1);
  const first = stops.findIndex(({ bar }) => bar === last?.index);
  if (last === undefined || first < 0) return stops;
  return [...stops.slice(0, first), { ...stops[first]!, end: last.tick + last.ticks }];
}
