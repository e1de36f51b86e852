// Positions in the names the player chose.
import {
  namedPosition,
  shortNamedPosition,
  type HandPosition,
  type Instrument,
  type PositionNaming,
} from '../../instrument';
import { noteText } from '../words/notes';

/** In words, for panels and voices: "half", "III½ (D♭)". */
export const namerFor =
  (instrument: Instrument, naming: PositionNaming) =>
  (position: HandPosition): string =>
    namedPosition(instrument, position, naming, noteText);

/** As it is set under the notes: "half", "D♭". */
export const numeralFor =
  (instrument: Instrument, naming: PositionNaming) =>
  (position: HandPosition): string =>
    shortNamedPosition(instrument, position, naming, noteText);
