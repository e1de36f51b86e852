// Below the nut: strings that go on over the scroll. Playing there takes the hand off the board.
import { soundingMidi, type SoundingMidi } from '../music';
import type { HandPosition, Instrument } from './types';

/** True off the board, at a stop of an extension. */
export const isOnExtension = (position: HandPosition): boolean => position < 1;

/** Where the hand can be on the extension, lowest first; empty on a bass without one. */
export function extensionPositions(
  instrument: Pick<Instrument, 'extension' | 'strings'>,
): readonly HandPosition[] {
  const { extension, strings } = instrument;
  const string = strings.find((one) => one.number === extension?.string);
  if (!extension || !string) return [];
  const count = Math.max(0, string.open - extension.lowest);
  return Array.from({ length: count }, (_, index) => (index - count) as HandPosition);
}

/** The lowest note there is, on the extension where there is one. */
export const lowestPitch = ({
  strings,
  extension,
}: Pick<Instrument, 'extension' | 'strings'>): SoundingMidi =>
  soundingMidi(Math.min(...strings.map((string) => string.open), extension?.lowest ?? 127));

/** The highest note within the stops of the instrument. */
export const highestPitch = ({
  strings,
  highestStop,
}: Pick<Instrument, 'strings' | 'highestStop'>): SoundingMidi =>
  soundingMidi(Math.min(127, Math.max(...strings.map((string) => string.open)) + highestStop));
