// Every way this hand can hold a note on this bass.
import frameTable from '../../shared/hand/frames.json' with { type: 'json' };
import { semitones, soundingMidi } from '../music';
import { extensionPositions } from './extension';
import { handPosition } from './positions';
import type { Finger, Frame, Hand, Instrument, Placement, StringNumber } from './types';
import { thumbsOff } from './thumb';
import { fingersIn } from './ways';

const extendedWidth = Math.max(
  ...frameTable.rows
    .filter((row) => row.frame === 'extended')
    .flatMap((row) => Object.values<number | undefined>(row.fingers).map((offset) => offset ?? 0)),
);

/**
 * All placements up to a highest position, in a fixed order (string, then position, then stop): the order breaks ties in
 * the solver. An open string appears once for each place the hand can be while it rings, a stopped note once more for each place
 * where a pivot can have left the thumb. Notes of an extension come last.
 *
 * @param range.pivots false for a hand that knows shifts only
 */
export function allPlacements(
  instrument: Instrument,
  hand: Hand,
  range: { readonly highestPosition: number; readonly pivots?: boolean },
): readonly Placement[] {
  const result: Placement[] = [];
  const add = (
    string: { readonly number: StringNumber; readonly open: number },
    position: Placement['position'],
    finger: Finger,
    frame: Frame,
    stop: number,
  ): void => {
    const midi = soundingMidi(string.open + stop);
    const own = { string: string.number, stop: semitones(stop), finger, position, frame, midi };
    result.push({ id: result.length, ...own });
    if (range.pivots === false) return;
    for (const thumb of thumbsOff(instrument, position, frame))
      result.push({ id: result.length, ...own, thumb });
  };
  for (const string of instrument.strings) {
    for (let semitone = 1; semitone <= range.highestPosition; semitone++) {
      const position = handPosition(semitone);
      add(string, position, '0', 'open', 0);
      for (const { finger, frame, offset } of fingersIn(instrument, hand, position)) {
        const stop = semitone + offset;
        if (stop <= instrument.highestStop) add(string, position, finger, frame, stop);
      }
    }
  }
  const extended = instrument.strings.find((string) => string.number === instrument.extension?.string);
  if (extended) {
    // Off the board there is no frame: one finger goes to one stop.
    for (const position of extensionPositions(instrument)) add(extended, position, '1', 'closed', position);
  }
  return result;
}

/** True when a finger that holds a stop in this position does so within a frame that this hand can take there. */
export function isHoldable(instrument: Instrument, hand: Hand, placement: Placement): boolean {
  const string = instrument.strings.find((one) => one.number === placement.string);
  if (!string || string.open + placement.stop !== placement.midi) return false;
  if (isOpenString(placement)) return placement.stop === 0;
  if (placement.position < 1) {
    const isAtFinger = Number(placement.position) === Number(placement.stop);
    return isAtFinger && extensionPositions(instrument).includes(placement.position);
  }
  return fingersIn(instrument, hand, placement.position).some(
    ({ finger, offset }) => finger === placement.finger && placement.position + offset === placement.stop,
  );
}

/** The string sounds open: the hand is free while it rings. */
export const isOpenString = ({ finger }: Pick<Placement, 'finger'>): boolean => finger === '0';

/** Semitones that the hand is spread over to play: 0 for open strings, the whole frame where the hand is extended. */
export function reachOf(placement: Placement): number {
  if (placement.frame === 'extended') return extendedWidth;
  return isOpenString(placement) ? 0 : placement.stop - placement.position;
}
