// The fingerboard in millimetres: equal temperament on a rigid string (any acoustics text; the luthiers' 17.817 rule).
import layout from '../../shared/instruments/instruments.json' with { type: 'json' };
import { millimetres, type Millimetres } from '../music';
import type { Instrument } from './types';

/** Distance from the nut of a stop, in semitones above the open string; fractions are allowed (cents / 100). */
export const stopDistance = (instrument: Pick<Instrument, 'length'>, stop: number): Millimetres =>
  (instrument.length * (1 - 2 ** (-stop / 12))) as Millimetres;

/** Distance along the string between two stops, whichever is higher. */
export const stopInterval = (instrument: Pick<Instrument, 'length'>, from: number, to: number): Millimetres =>
  Math.abs(stopDistance(instrument, to) - stopDistance(instrument, from)) as Millimetres;

/** Space between neighbouring strings at a distance from the nut, linear from nut to bridge. */
export function stringSpacing(instrument: Pick<Instrument, 'length'>, fromNut: Millimetres): Millimetres {
  const { nut, bridge } = layout.spacing;
  return millimetres(nut + ((bridge - nut) * fromNut) / instrument.length);
}
