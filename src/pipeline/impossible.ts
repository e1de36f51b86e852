// When the limits leave no line: says which, and what would help.
import { soundingMidi } from '../music';
import { allPlacements, positionName, type HandPosition } from '../instrument';
import { findCandidates, type SlotCandidates } from './3-candidates';
import { highestPosition } from './range';
import type { Impossible, WalkRequest } from './types';

/** A bar and beat to point at. */
const placeOf = (candidates: readonly SlotCandidates[]): string => {
  const empty = candidates.find((one) => one.placements.length === 0);
  return empty
    ? ` The first note without any place is bar ${empty.slot.bar + 1}, beat ${empty.slot.beat}.`
    : '';
};

/** Barred positions any one of which, allowed again, gives every slot a note. */
function freeingPositions(request: WalkRequest, candidates: readonly SlotCandidates[]): HandPosition[] {
  const { barredPositions } = request.limits;
  return barredPositions.filter((freed) => {
    const placements = allPlacements(request.instrument, request.hand, {
      highestPosition,
      barred: barredPositions.filter((position) => position !== freed),
    });
    const range = { lowest: soundingMidi(0), highest: soundingMidi(127) };
    const slots = candidates.map((one) => one.slot);
    return findCandidates(slots, placements, range).every((one) => one.placements.length > 0);
  });
}

export function explainImpossible(request: WalkRequest, candidates: readonly SlotCandidates[]): Impossible {
  const { barredPositions } = request.limits;
  const freeing = freeingPositions(request, candidates);
  if (barredPositions.length === 0) {
    return {
      message: `A hand of ${request.hand.span} mm cannot hold any note of the changes on this bass.${placeOf(candidates)}`,
      freeing,
    };
  }
  const barred = barredPositions.map(positionName).join(', ');
  const helps =
    freeing.length > 0
      ? ` Allowing ${freeing.map(positionName).join(' or ')} again is enough.`
      : ' Allow some of them again.';
  return { message: `With ${barred} barred no line is left.${placeOf(candidates)}${helps}`, freeing };
}
