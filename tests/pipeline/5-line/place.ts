// Placements by their text, and the time around a move, for tests of the hand's terms.
import {
  allPlacements,
  defaultHand,
  defaultInstrument,
  type Instrument,
  type Placement,
} from '../../../src/instrument';
import { seconds } from '../../../src/music';
import { makeMoveContext, type MoveContext } from '../../../src/pipeline/5-line';

const beat = seconds(0.4);
/** Two notes of 0.4 s. */
export const at = (instrument: Instrument, changes: Partial<MoveContext> = {}): MoveContext => ({
  ...makeMoveContext(instrument, beat, beat, seconds(0)),
  ...changes,
});

/** A placement as text: string by letter, finger, position, + or - for a thumb off its place: "G4@5", "D0@3", "A1@2+". */
export function place(text: string, instrument = defaultInstrument): Placement {
  const [, letter, finger, position, thumb] = /^(.)(.)@(-?\d+)([+-]?)$/.exec(text)!;
  const found = allPlacements(instrument, defaultHand, { highestPosition: 14 }).find(
    (one) =>
      instrument.strings.find(({ number }) => number === one.string)!.name === letter &&
      one.finger === finger &&
      one.position === Number(position) &&
      one.frame !== 'extended' &&
      one.thumb === (thumb === '+' ? 1 : thumb === '-' ? -1 : undefined),
  );
  if (!found) throw new Error(`no placement ${text}`);
  return found;
}
