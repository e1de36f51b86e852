// Where the hand is: positions by the semitone under the first finger, and the regions they lie in.
import positionTable from '../../shared/hand/positions.json' with { type: 'json' };
import regionTable from '../../shared/hand/regions.json' with { type: 'json' };
import { pitchClass } from '../music';
import { isOnExtension } from './extension';
import { regions, type ArmZone, type HandPosition, type Instrument, type Region } from './types';

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

/** "half", "I", "II½"; above the octave "thumb" with the number of semitones under the thumb; "extension" off the board. */
export function positionName(position: HandPosition): string {
  if (isOnExtension(position)) return 'extension';
  return positionTable.rows.find((row) => row.semitone === position)?.name ?? `thumb ${position - 2}`;
}

/** The name as it is set under the notes, where there is little room: "T11" for "thumb 11". */
export function shortPositionName(position: HandPosition): string {
  if (isOnExtension(position)) return 'ext.';
  return positionTable.rows.find((row) => row.semitone === position)?.short ?? `T${position - 2}`;
}

/** Reads "half", "½", "I", "iii½", "II 1/2" or "2.5"-like spellings; undefined when it is no position. */
export function parsePosition(text: string): HandPosition | undefined {
  const wanted = text
    .trim()
    .toUpperCase()
    .replace(/\s*(1\/2|\.5)$/, '½');
  if (wanted === '') return undefined;
  const row = positionTable.rows.find(({ name, short, also }) =>
    [name, short, also].some((one) => one?.toUpperCase() === wanted),
  );
  return row && handPosition(row.semitone);
}

/** The note under the first finger on the highest string, which settles what a numeral means. */
export const firstFingerNote = (instrument: Instrument, position: HandPosition): string =>
  sharpNames[pitchClass(instrument.strings[0]!.open + position)]!;

/** The region of the board a position lies in; the low one for what is below the nut. */
export function regionOf(position: HandPosition): Region {
  if (isOnExtension(position)) return 'low';
  const row = regionTable.rows.find((one) => position >= one.from && position <= one.to);
  return regions.find((name) => name === row?.region) ?? 'octave';
}

/** First and last position of a region. */
export function regionBounds(region: Region): { readonly from: HandPosition; readonly to: HandPosition } {
  const row = regionTable.rows.find((one) => one.region === region)!;
  return { from: handPosition(row.from), to: handPosition(row.to) };
}

/** How the arm reaches a position: it comes over the shoulder from the heel up, the thumb comes up at the octave. */
export function armZoneOf(instrument: Pick<Instrument, 'heel'>, position: HandPosition): ArmZone {
  if (isOnExtension(position)) return 'off the board';
  if (regionOf(position) === 'octave') return 'thumb on the string';
  return position < instrument.heel ? 'behind the neck' : 'over the shoulder';
}

/** How positions are named on the page. */
export const positionNamings = ['numeral', 'intermediate', 'first-finger note', 'both'] as const;
export type PositionNaming = (typeof positionNamings)[number];

/** The numeral, or for a school that calls half-numbered positions intermediate the two it lies between: "II–III". */
const intermediateName = (position: HandPosition, plain: string): string =>
  positionTable.rows.find((row) => row.semitone === position)?.between ?? plain;

/** How a note such as "D♭" is called on the page. */
export type NoteText = (name: string) => string;
const asItIs: NoteText = (name) => name;

/** "III½", "III–IV", "D♭" or "III½ (D♭)". Naming differs between schools; the first-finger note settles what is meant. */
export function namedPosition(
  instrument: Instrument,
  position: HandPosition,
  naming: PositionNaming,
  noteText: NoteText = asItIs,
): string {
  return namedBy(firstFingerNote(instrument, position), position, naming, positionName(position), noteText);
}

/** The same as it is set under the notes: "ext." off the board, the numeral alone where both are wanted. */
export function shortNamedPosition(
  instrument: Instrument,
  position: HandPosition,
  naming: PositionNaming,
  noteText: NoteText = asItIs,
): string {
  // Both do not fit under a note: the numeral stands for them.
  const short = naming === 'both' ? 'numeral' : naming;
  return namedBy(
    firstFingerNote(instrument, position),
    position,
    short,
    shortPositionName(position),
    noteText,
  );
}

function namedBy(
  note: string,
  position: HandPosition,
  naming: PositionNaming,
  numeral: string,
  noteText: NoteText,
): string {
  if (naming === 'numeral' || isOnExtension(position)) return numeral;
  if (naming === 'intermediate') return intermediateName(position, numeral);
  return naming === 'both' ? `${numeral} (${noteText(note)})` : noteText(note);
}
