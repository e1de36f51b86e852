// How far up a walking line goes.
import { soundingMidi } from '../music';
import type { Instrument } from '../instrument';
import type { PitchRange } from './3-candidates';

/** Highest hand position of a walking line: the octave. */
export const highestPosition = 12;

/** From the lowest open string to an octave above the highest (common practice: G3, higher only on purpose). */
export function walkingRange(instrument: Instrument): PitchRange {
  const open = instrument.strings.map((string) => string.open);
  return { lowest: soundingMidi(Math.min(...open)), highest: soundingMidi(Math.max(...open) + 12) };
}
