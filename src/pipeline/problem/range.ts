// How far up a walking line goes.
import { soundingMidi } from '../../music';
import { lowestPitch, type Instrument, type LivingPlace } from '../../instrument';
import type { PitchRange } from '../3-candidates';

/** Highest hand position of a walking line: the octave. */
export const highestPosition = 12;

/** Who lives at the octave may lay the thumb on it, a whole tone under the first finger. */
const thumbPosition = 14;

/** True of a place to live that lies at the octave. */
export const livesAtOctave = (place: LivingPlace | undefined): boolean =>
  place?.areas.every(({ from }) => from > highestPosition - 3) ?? false;

/** Highest hand position under a place to live: the octave, and beyond it for a place that lies there. */
export const highestPositionIn = (place: LivingPlace | undefined): number =>
  livesAtOctave(place) ? thumbPosition : highestPosition;

/** From the lowest note of the bass, an extension included, to an octave above the highest (common practice: G3, higher only on purpose). */
export function walkingRange(instrument: Instrument): PitchRange {
  const open = instrument.strings.map((string) => string.open);
  return { lowest: lowestPitch(instrument), highest: soundingMidi(Math.max(...open) + 12) };
}
