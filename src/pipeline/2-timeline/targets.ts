// What a line aims at: the notes that open a bar or a chord, and where bars stand in their sections.
import { isOrnament } from './rhythm';
import type { Stop } from './rhythm-stops';
import type { PhrasePlace, TimelineBar, TimelineChord } from './types';

/** True for a stop that opens a bar, sooner or later, or a chord. */
export const isTargetStop = ({ articulation, isChange, strength }: Stop): boolean =>
  !isOrnament(articulation) && (isChange || strength === 3 || articulation === 'anticipation');

/** The next target after a stop, and how many notes of their own it takes to get there. */
export interface TargetAhead {
  readonly untilTarget: number;
  readonly target: TimelineChord | null;
}

/** By stop. @param around where the form goes on after the last stop; null where it ends */
export function targetsAhead(stops: readonly Stop[], around: Stop | null): readonly TargetAhead[] {
  const result = new Array<TargetAhead>(stops.length);
  let ahead: TargetAhead = around
    ? { untilTarget: 1, target: around.harmony }
    : { untilTarget: 0, target: null };
  for (let index = stops.length - 1; index >= 0; index -= 1) {
    const stop = stops[index]!;
    result[index] = ahead;
    if (isTargetStop(stop)) ahead = { untilTarget: 1, target: stop.harmony };
    else if (!isOrnament(stop.articulation) && ahead.target) {
      ahead = { ...ahead, untilTarget: ahead.untilTarget + 1 };
    }
  }
  return result;
}

/** Counted no further: rules look back over as many notes. */
const mostSince = 3;

/** By stop: notes of their own since the last target. An ornament is counted with the note it is cut from. */
export function sinceTargets(stops: readonly Stop[]): readonly number[] {
  let since = mostSince;
  return stops.map((stop) => {
    if (isTargetStop(stop)) since = 0;
    else if (!isOrnament(stop.articulation)) since = Math.min(since + 1, mostSince);
    return since;
  });
}

/** Bars to a phrase (common practice, no source). */
const barsToPhrase = 4;

/** Each bar in its section; a chorus without sections is one. */
export function phrasePlacesOf(bars: readonly TimelineBar[]): readonly PhrasePlace[] {
  let since = 0;
  return bars.map(({ section, chorus }, index): PhrasePlace => {
    const before = bars[index - 1];
    if (before === undefined || before.chorus !== chorus) {
      since = 0;
      return 'top';
    }
    since = section === null ? since + 1 : 0;
    if (since === 0) return 'section';
    return since % barsToPhrase === 0 ? 'four bars' : 'inside';
  });
}
