// What the staff says to those who do not see it, and the few words it shows.
import { noteAsSpoken, numberOfBar, type BarNumber, type Chord, type NoteName } from '../../music';
import { isOpenString, type Instrument } from '../../instrument';
import type { Timeline, TimelineBar } from '../../pipeline/2-timeline';
import type { Line, LineNote } from '../../pipeline/5-line';
import type { Room } from '../travel';
import { inPosition, placeInTime, type PositionName } from '../fingerboard';
import { noteAloud } from '../words/notes';
import { stringAloud } from '../words/strings';

/** "B flat", whatever notes are called on the page: the roots of chord symbols. */
export const spokenName = (name: NoteName): string => noteAsSpoken(name, 'English');

/** Parts of our own spelling of symbols, in words; longer ones before those they begin with. */
const spokenParts: readonly (readonly [written: RegExp, spoken: string])[] = [
  [/^mMaj7/, ' minor, major seventh'],
  [/^maj/, ' major '],
  [/^dim/, ' diminished '],
  [/^aug/, ' augmented '],
  [/^sus/, ' suspended '],
  [/^add/, ' added '],
  [/^alt/, ' altered '],
  [/^no/, ' without '],
  [/^dom/, ' dominant '],
  [/^Maj/, ' major '],
  [/^m/, ' minor '],
  [/^69/, ' six nine '],
  [/^b(?=\d)/, ' flat '],
  [/^#(?=\d)/, ' sharp '],
  [/^\d+/, ''],
  [/^[()]/, ' '],
];

/** "D minor 7", "B flat minor 7 flat 5", "C 7 over E"; "no chord" for N.C. */
export function spokenChord(chord: Chord | null): string {
  if (chord === null) return 'no chord';
  const bass = chord.bass === null ? '' : `/${chord.bass}`;
  const body =
    bass !== '' && chord.symbol.endsWith(bass) ? chord.symbol.slice(0, -bass.length) : chord.symbol;
  let rest = body.startsWith(chord.root) ? body.slice(chord.root.length) : body;
  let spoken = spokenName(chord.root);
  while (rest !== '') {
    const part = spokenParts.find(([written]) => written.test(rest));
    const taken = part === undefined ? rest[0]! : part[0].exec(rest)![0];
    spoken += part === undefined || part[1] === '' ? ` ${taken}` : part[1];
    rest = rest.slice(taken.length);
  }
  const over = chord.bass === null ? '' : ` over ${spokenName(chord.bass)}`;
  return (spoken + over).replace(/\s+/g, ' ').trim();
}

/** "string D open" or "finger 2, string A, in III". */
function held(note: LineNote, instrument: Instrument, name: PositionName): string {
  const { placement, carry } = note;
  const string = stringAloud(instrument, placement.string);
  if (!isOpenString(placement)) {
    const finger = placement.finger === 'T' ? 'thumb' : `finger ${placement.finger}`;
    return `${finger}, string ${string}, ${inPosition(placement.position, name)}`;
  }
  const way = carry === null ? '' : `, hand going from ${name(carry.from)} to ${name(carry.to)}`;
  return `string ${string} open${way}`;
}

/** A line of notes alone stands over nothing that could be named. */
const overChord = (chord: Chord | null): string => (chord === null ? '' : `, over ${spokenChord(chord)}`);

function roomInWords(room: Room | null): string {
  if (room === null || room.choices === null) return '';
  return `; ${room.choices.toFixed(1)} good choices a beat${room.isBoxedIn ? ', boxed in' : ''}`;
}

/** Everything about a beat: "Bar 1, beat 2: F 1, finger 2, string D, in half; third, over D minor 7". */
export const noteLabel = (
  note: LineNote,
  instrument: Instrument,
  name: PositionName,
  room: Room | null = null,
): string =>
  `${placeInTime(note)}: ${noteAloud(note.pitch.name)} ${note.pitch.octave}, ${held(note, instrument, name)}; ` +
  `${note.label}${overChord(note.harmony.chord)}${roomInWords(room)}`;

const chordsOf = (bar: TimelineBar): string =>
  [...new Set(bar.chords.map(({ chord }) => spokenChord(chord)))].join(', ');

/** A bar to be read: "Bar 1, D minor 7: D, string D open; F, finger 2, string A, in I". */
export function barInWords(
  bar: TimelineBar,
  notes: readonly LineNote[],
  instrument: Instrument,
  name: PositionName,
): string {
  const section = bar.section === null ? '' : `${bar.section}. `;
  const said = notes.map((note) => `${noteAloud(note.pitch.name)}, ${held(note, instrument, name)}`);
  return `${section}Bar ${numberOfBar(bar.index)}, ${chordsOf(bar)}: ${said.length === 0 ? 'rest' : said.join('; ')}.`;
}

/** All bars to be read, one text a bar. */
export function timelineInWords(
  timeline: Timeline,
  line: Line | null,
  instrument: Instrument,
  name: PositionName,
): readonly string[] {
  const notes: LineNote[][] = timeline.bars.map(() => []);
  for (const note of line?.notes ?? []) notes[note.slot.bar]?.push(note);
  return timeline.bars.map((bar, index) => barInWords(bar, notes[index]!, instrument, name));
}

export const words = {
  score: 'Line',
  notes: 'Notes; left and right go from beat to beat',
  bars: 'Bars; choose one or more to play them over and over',
  inWords: 'The line in words',
  system: (from: BarNumber, to: BarNumber, chords: string): string =>
    `Bass staff, ${from === to ? `bar ${from}` : `bars ${from} to ${to}`}: ${chords}`,
  bar: (bar: TimelineBar, isKept = false): string =>
    `Bar ${numberOfBar(bar.index)}, ${chordsOf(bar)}${isKept ? ', held' : ''}`,
  changed: '; changed',
  kept: 'held',
  again: (bar: BarNumber): string => `from bar ${bar} again`,
  chordsOf,
} as const;
