// Where the hand is: positions by the semitone under the first finger, and the regions they lie in.
import positionTable from '../../shared/hand/positions.json' with { type: 'json' };
import regionTable from '../../shared/hand/regions.json' with { type: 'json' };
import { pitchClass } from '../music';
import type { HandPosition, Instrument, Region } from './types';
import { regions } from './types';

const sharpNames = ['C', 'D♭', 'D', 'E♭', 'E', 'F', 'F♯', 'G', 'A♭', 'A', 'B♭', 'B'] as const;

/** @throws RangeError for anything but a whole number from 1 to 36 */
export function handPosition(semitone: number): HandPosition {
  if (!Number.isInteger(semitone) || semitone < 1 || semitone > 36) {
    throw new RangeError(`a hand position must be a whole number from 1 to 36, not ${semitone}`);
  }
  return semitone as HandPosition;
}

/** The positions that have a name of their own, lowest first. */
export const namedPositions: readonly HandPosition[] = positionTable.rows.map((row) =>
  handPosition(row.semitone),
);

/** "half", "I", "II½"; above the octave "thumb" with the number of semitones under the thumb. */
export function positionName(position: HandPosition): string {
  return positionTable.rows.find((row) => row.semitone === position)?.name ?? `thumb ${position - 2}`;
}

/** The name as it is set on the page: "½" for the half position. */
export function shortPositionName(position: HandPosition): string {
  return positionTable.rows.find((row) => row.semitone === position)?.short ?? `T${position - 2}`;
}

/** Reads "half", "½", "I", "iii½", "II 1/2" or "2.5"-like spellings; undefined when it is no position. */
export function parsePosition(text: string): HandPosition | undefined {
  const wanted = text
    .trim()
    .toUpperCase()
    .replace(/\s*(1\/2|\.5)$/, '½');
  if (wanted === '') return undefined;
  const row = positionTable.rows.find(
    (one) => one.name.toUpperCase() === wanted || one.short.toUpperCase() === wanted,
  );
  return row && handPosition(row.semitone);
}

/** The note under the first finger on the highest string, which settles what a numeral means. */
export const firstFingerNote = (instrument: Instrument, position: HandPosition): string =>
  sharpNames[pitchClass(instrument.strings[0]!.open + position)]!;

/** The region of the neck a position lies in. */
export function regionOf(position: HandPosition): Region {
  const row = regionTable.rows.find((one) => position >= one.from && position <= one.to);
  return regions.find((name) => name === row?.region) ?? 'octave';
}

/** First and last position of a region. */
export function regionBounds(region: Region): { readonly from: HandPosition; readonly to: HandPosition } {
  const row = regionTable.rows.find((one) => one.region === region)!;
  return { from: handPosition(row.from), to: handPosition(row.to) };
}
