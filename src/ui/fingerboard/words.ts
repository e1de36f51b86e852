// Every word the map says, and how it says notes, places and moves. The panels beside the map use the same ones.
import type { SpelledPitch } from '../../music';
import {
  isOpenString,
  type Finger,
  type HandPosition,
  type Instrument,
  type Placement,
} from '../../instrument';
import type { LineNote, Move } from '../../pipeline';
import { noteAloud, noteText } from '../words/notes';
import { stringAloud, stringText } from '../words/strings';

export type PositionName = (position: HandPosition) => string;

const fingerWords: Readonly<Record<Finger, string>> = {
  '0': 'open',
  '1': '1st finger',
  '2': '2nd finger',
  '3': '3rd finger',
  '4': '4th finger',
  T: 'thumb',
};

/** "B♭1", octave as it sounds. */
export const pitchText = (pitch: SpelledPitch): string => `${noteText(pitch.name)}${pitch.octave}`;

/** "B flat 1", for a voice. */
export const spokenPitch = (pitch: SpelledPitch): string => `${noteAloud(pitch.name)} ${pitch.octave}`;

export const fingerText = (finger: Finger): string => fingerWords[finger];

/** "beat 3", "the and of 2". */
export function beatText(beat: number): string {
  const whole = Math.floor(beat);
  if (beat === whole) return `beat ${whole}`;
  return beat - whole === 0.5 ? `the and of ${whole}` : `beat ${beat.toFixed(2)}`;
}

/** "Bar 6, beat 3". */
export const placeInTime = (note: Pick<LineNote, 'bar' | 'beat'>): string =>
  `Bar ${note.bar}, ${beatText(note.beat)}`;

/** "string D, open" or "string A, 4th finger". */
export const placementText = (placement: Placement, instrument: Instrument): string =>
  `string ${stringText(instrument, placement.string)}, ${fingerText(placement.finger)}`;

/** "in III½", "in half". */
export const inPosition = (position: HandPosition, name: PositionName): string => `in ${name(position)}`;

/** Whole numbers of mm read better than tenths nobody can see. */
export const millimetresText = (value: number): string => `${Math.round(value)} mm`;

/** "+0.7" for a price in thousandths, "0" for the way that is taken. */
export function priceText(price: number): string {
  if (price <= 0) return '0';
  return price < 50 ? '+0.0' : `+${(price / 1000).toFixed(1)}`;
}

/** What the hand does, as the end of a sentence: "hand going from III½ to IV". */
export function handText(note: LineNote, name: PositionName): string {
  const { carry, move, placement } = note;
  if (carry) return `hand going from ${name(carry.from)} to ${name(carry.to)}`;
  return moveTextOf(move, placement, name);
}

function moveTextOf(move: Move, placement: Placement, name: PositionName): string {
  switch (move.kind) {
    case 'start':
      return `hand starting ${inPosition(placement.position, name)}`;
    case 'stay':
      return `hand staying ${inPosition(placement.position, name)}`;
    case 'pivot':
      return `hand pivoting from ${name(move.from)} to ${name(move.to)}`;
    case 'bare shift':
      return `hand shifted from ${name(move.from)} to ${name(move.to)}`;
    case 'covered shift':
      return `hand going from ${name(move.from)} to ${name(move.to)}`;
  }
}

/** The whole spoken label of the map at a note: "Bar 6, beat 3, D 2, open string D, hand going from III½ to IV". */
export function boardLabel(note: LineNote, instrument: Instrument, name: PositionName): string {
  const { placement } = note;
  const string = stringAloud(instrument, placement.string);
  const where = isOpenString(placement)
    ? `open string ${string}`
    : `string ${string}, ${fingerText(placement.finger)}`;
  return `${placeInTime(note)}, ${spokenPitch(note.pitch)}, ${where}, ${handText(note, name)}`;
}

/** What a priced spot of the map says. */
interface SpotWords {
  readonly pitch: string;
  readonly place: string;
  readonly hand: string;
  /** Thousandths. */
  readonly price: number;
  readonly ways: number;
}

export const words = {
  emptyBoard: (bass: string): string => `Fingerboard of a ${bass}. No line yet.`,
  restingBoard: (bass: string, notes: number): string =>
    `Fingerboard of a ${bass}, with a line of ${notes} ${notes === 1 ? 'note' : 'notes'}. No beat is selected.`,
  working: 'Working out the line',
  heel: 'heel',
  octave: 'octave',
  views: 'View of the board',
  whole: 'whole board',
  toOctave: 'to the octave',
  fold: 'put away',
  unfold: 'Show the board',
  view: { low: 'low', middle: 'middle', 'neck block': 'neck block', octave: 'octave' },
  barred: 'barred',
  prices: 'Prices at this beat',
  pricesHint: 'Arrow keys go from spot to spot, Enter pins.',
  positions: 'Positions',
  barPosition: (name: string): string => `Keep the hand out of ${name}`,
  spot: (spot: SpotWords): string =>
    `${spot.pitch}, ${spot.place}, ${spot.hand}, price ${priceText(spot.price)}` +
    (spot.ways > 1 ? `, cheapest of ${spot.ways} ways` : ''),
  scale: (stretch: number): string =>
    `Along the strings to scale; across, ${stretch.toFixed(1)} times as wide.`,
  reach: 'Fine line: the reach of the hand in comfort, dotted at most.',
  table: 'The route as a table',
  tableCaption: 'Every note of the line, and where the hand is',
  columns: {
    time: 'Bar · beat',
    note: 'Note',
    string: 'String',
    stop: 'Stop',
    finger: 'Finger',
    position: 'Position',
    hand: 'Hand from nut, mm',
    move: 'How it came',
  },
  moves: {
    start: 'start',
    stay: 'stays',
    pivot: 'pivot',
    'bare shift': 'bare shift',
    'covered shift': 'covered shift',
  },
  open: 'open',
  handFree: 'hand free',
} as const;
