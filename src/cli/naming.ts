// How places of the hand and strings are called in text.
import { positionName, stringName, type Instrument } from '../instrument';
import type { TextOptions } from '../export';

export const namesOn = (instrument: Instrument): TextOptions => ({
  positionName,
  stringName: (number) => stringName(instrument, number),
});
