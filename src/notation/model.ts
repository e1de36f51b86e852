// The staff with everything placed: what the renderer draws and the travel strip shares. All sizes in CSS pixels; x runs
// from the left of the system, y from its top, downwards.
import type { BarIndex } from '../music';
import type { HandPosition, Instrument, StringNumber } from '../instrument';
import type { ChordRun } from './chordText';

export interface LayoutOptions {
  /** Room there is. A system that cannot be made so narrow is wider and scrolls. */
  readonly width: number;
  readonly instrument: Instrument;
  /** A position as it is set under the staff: "III½". */
  readonly positionNumeral: (position: HandPosition) => string;
  /** A string as it is set under the staff; the letter it is tuned to when left out. */
  readonly stringText?: (string: StringNumber) => string;
  /** Room for a row with what each note is for. */
  readonly showRoles: boolean;
  /** Room for a row in which approaches and devices are bracketed and named; none when left out. */
  readonly showDevices?: boolean;
  /** Bars that a repeat sign stands before, by index; none when left out. */
  readonly repeatStarts?: ReadonlySet<number>;
  /** Fingers and numerals so many times as large as they go with the staff; as large when left out. */
  readonly digits?: number;
}

/** A music glyph at its origin. */
export interface PlacedGlyph {
  readonly text: string;
  readonly x: number;
  readonly y: number;
}

export interface PlacedText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A chord symbol, `x` its left edge and `y` its base line. */
export interface PlacedChord {
  readonly runs: readonly ChordRun[];
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly box: Box;
}

export interface RoleText {
  readonly x: number;
  /** One entry a line of text; `y` of the first base line. */
  readonly lines: readonly string[];
  readonly y: number;
}

/** What is drawn for the heads of a note. */
export interface NoteMarks {
  /** Heads, signs, dots and flags. */
  readonly glyphs: readonly PlacedGlyph[];
  /** SVG path of the stems, to be stroked; null when there is none. */
  readonly stems: string | null;
  /** SVG path of the ledger lines, to be stroked; null when there is none. */
  readonly ledgers: string | null;
}

/** Heads of a note that began in the system before. */
export interface TiedHeads extends NoteMarks {
  /** Index of the note in the line. */
  readonly index: number;
  readonly isOpen: boolean;
}

export interface NoteLayout extends NoteMarks {
  /** Index in the line. */
  readonly index: number;
  /** Middle of the first head: the note's place on the time axis. */
  readonly x: number;
  /** Middle of the head. */
  readonly y: number;
  /** The beat column: what lights up and what a tap belongs to. Columns do not overlap. */
  readonly column: { readonly x: number; readonly width: number };
  readonly isOpen: boolean;
  readonly finger: PlacedText;
  /** The string's name where the string changes and where a system begins. */
  readonly string: PlacedText | null;
  readonly role: RoleText | null;
}

/** A position numeral with a line over the notes that the hand plays there; `lineFrom` null when it covers one note. */
export interface PositionBracket {
  readonly position: HandPosition;
  readonly numeral: PlacedText;
  readonly lineFrom: number | null;
  readonly lineTo: number;
  readonly y: number;
}

/** An open string carries the hand: an arrow from the note to where the next position stands. */
export interface CarryMark {
  /** Index in the line. */
  readonly note: number;
  readonly from: HandPosition;
  readonly to: HandPosition;
  readonly x1: number;
  readonly x2: number;
  readonly y: number;
}

/** A line under the notes of a device, on to the note they lead to, as far as both are in the system. */
export interface DeviceBracket {
  readonly x1: number;
  readonly x2: number;
  readonly y: number;
  /** The first note is in this system. */
  readonly opens: boolean;
  /** The note it leads to is. */
  readonly arrives: boolean;
  /** Its name, where it opens. */
  readonly name: RoleText | null;
}

export interface BarLayout {
  readonly index: BarIndex;
  readonly x: number;
  readonly width: number;
  /** Place of the bar's first moment, and pixels a tick after it. */
  readonly startX: number;
  readonly scale: number;
  readonly tick: number;
  readonly ticks: number;
  readonly chords: readonly PlacedChord[];
  /** Rests, and signature and meter where they change. */
  readonly glyphs: readonly PlacedGlyph[];
  readonly closing: 'single' | 'double' | 'final';
}

export interface SystemLayout {
  readonly index: number;
  /** First and last bar, in playing order. */
  readonly firstBar: BarIndex;
  readonly lastBar: BarIndex;
  readonly width: number;
  readonly height: number;
  /** Where the clef and signature end and the time axis begins. */
  readonly headEnd: number;
  /** Top and bottom line of the staff. */
  readonly staffTop: number;
  readonly staffBottom: number;
  /** Base lines of the rows. */
  readonly rows: {
    readonly chord: number;
    readonly finger: number;
    readonly string: number;
    readonly position: number;
    readonly role: number;
  };
  /** Clef, signature and meter at the start of the system; at its end those that the next one begins with. */
  readonly head: readonly PlacedGlyph[];
  /** "A", "Chorus 2": over the start of the system. */
  readonly heading: PlacedText | null;
  readonly barNumber: PlacedText;
  readonly bars: readonly BarLayout[];
  readonly notes: readonly NoteLayout[];
  readonly tiedHeads: readonly TiedHeads[];
  /** SVG paths, filled. */
  readonly beams: string | null;
  readonly ties: string | null;
  /** The figure over three notes in the time of two. */
  readonly tuplets: readonly PlacedGlyph[];
  readonly brackets: readonly PositionBracket[];
  readonly carries: readonly CarryMark[];
  /** Empty when not asked for. */
  readonly devices: readonly DeviceBracket[];
}

export interface StaffLayout {
  /** Width of the widest system. */
  readonly width: number;
  /** Distance of two staff lines. */
  readonly space: number;
  readonly sizes: Sizes;
  readonly systems: readonly SystemLayout[];
}

/** Font sizes in pixels. */
export interface Sizes {
  readonly chord: number;
  readonly finger: number;
  readonly numeral: number;
  readonly role: number;
  readonly label: number;
}
