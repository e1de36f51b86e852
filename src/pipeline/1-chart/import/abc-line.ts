// The notes of one ABC voice as a given line: pitches under key, accidentals and clef, one at a time, ties joined.
// Source: ABC notation 2.1 (pitch 4.1, accidentals 4.2 and 11.3, clefs and transposition 4.6).
import {
  keyOfFifths,
  keyNotes,
  alterationOf,
  letterOf,
  noteName,
  spellPitch,
  soundingMidi,
  type Key,
  type NoteName,
} from '../../../music';
import { givenFingers, type GivenFinger, type ImportedNote } from './given';
import { movedName } from './musicxml-notes';
import type { ImportProblems } from './problems';
import type { SketchBar } from './sketch';
import type { Span } from '../types';

/** A pitch as it is written: `^c'`, `_B,`. */
export interface AbcPitch {
  /** Null where none stands before the note. */
  readonly alteration: number | null;
  readonly letter: string;
  /** 4 begins with middle C. */
  readonly octave: number;
}

const naturals: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const alterations: Readonly<Record<string, number>> = { '^': 1, '^^': 2, '=': 0, _: -1, __: -2 };

/** Reads a pitch; undefined for a rest. */
export function readAbcPitch(text: string): AbcPitch | undefined {
  const match = /^(\^{1,2}|_{1,2}|=)?([A-Ga-g])([,']{0,8})/.exec(text);
  if (match === null) return undefined;
  const [, sign, letter = '', marks = ''] = match;
  const up = marks.split("'").length - marks.split(',').length;
  return {
    alteration: sign === undefined ? null : alterations[sign]!,
    letter: letter.toUpperCase(),
    octave: (letter === letter.toUpperCase() ? 4 : 5) + up,
  };
}

/** What the clef and its like say about the sound of what is written. */
interface Sounding {
  readonly isBassClef: boolean;
  /** Octaves that the text names: `octave=`, `-8`. Null when it names none. */
  readonly octaves: number | null;
  /** `transpose=`, null when it is not there. */
  readonly semitones: number | null;
}

const unsaid: Sounding = { isBassClef: false, octaves: null, semitones: null };

function readSounding(text: string, before: Sounding): Sounding {
  const clef =
    /(?:\bclef=|(?:^|\s))["']?(treble|bass3?|alto|tenor|perc|none|[GF])[1-5]?(?:\s*([+-])8)?(?=["'\s]|$)/.exec(
      text,
    );
  const octave = /\boctave=([+-]?\d)/.exec(text)?.[1];
  const transpose = /\b(?:transpose|t)=([+-]?\d{1,2})/.exec(text)?.[1];
  const eight = clef?.[2] === undefined ? null : Number(`${clef[2]}1`);
  const said = octave === undefined && eight === null ? null : Number(octave ?? 0) + (eight ?? 0);
  const isClef = clef !== null && (clef[1]!.length > 1 || text.includes('clef='));
  return {
    isBassClef: isClef ? /^(?:bass|F)/.test(clef[1]!) : before.isBassClef,
    octaves: said ?? before.octaves,
    semitones: transpose === undefined ? before.semitones : Number(transpose),
  };
}

/** The lowest note of any bass that we know, in MIDI: B on a fifth string. */
const lowestBass = 23;

interface OpenNote {
  /** Where it stands in its bar, and how long it lasts; not yet whole ticks. */
  readonly start: number;
  length: number;
  readonly written: number;
  readonly name: NoteName;
  readonly bar: SketchBar;
  readonly span: Span;
  readonly finger: GivenFinger | null;
}

/** Collects the notes of a voice. */
export class AbcLine {
  private readonly notes: OpenNote[] = [];
  private sounding = unsaid;
  private inKey = new Map<string, number>();
  /** Accidentals hold for their letter in every octave until the bar line. */
  private inBar = new Map<string, number>();
  private last: OpenNote | null = null;
  private isTied = false;
  private finger: GivenFinger | null = null;

  constructor(private readonly problems: ImportProblems) {}

  get count(): number {
    return this.notes.length;
  }

  /** True when the voice is written for the bass. */
  get isBass(): boolean {
    return this.sounding.isBassClef;
  }

  setKey(key: Key | null): void {
    const notes = key === null ? [] : keyNotes(keyOfFifths(key.fifths, 'major'));
    this.inKey = new Map(notes.map((name) => [letterOf(name), alterationOf(name)]));
  }

  /** Takes in what a K: or V: field says beside key and name. */
  setSounding(text: string): void {
    this.sounding = readSounding(text, this.sounding);
  }

  barLine(): void {
    this.inBar.clear();
  }

  rest(): void {
    this.last = null;
    this.isTied = false;
    this.finger = null;
  }

  tie(): void {
    this.isTied = this.last !== null;
  }

  decoration(name: string): void {
    const sign = name === 'open' ? '0' : name === 'thumb' ? 'T' : name;
    this.finger = givenFingers.find((finger) => finger === sign) ?? this.finger;
  }

  /** Of a chord of notes the lowest. @param start ticks from the start of the bar */
  note(pitches: readonly AbcPitch[], start: number, length: number, bar: SketchBar, span: Span): void {
    const read = pitches.map((pitch) => this.pitchOf(pitch)).sort((a, b) => a.written - b.written);
    const [lowest] = read;
    if (lowest === undefined) return;
    if (read.length > 1) this.problems.addOnce('line-chords', bar.span, { bar: bar.number });
    if (this.isTied && this.last?.written === lowest.written) this.last.length += length;
    else {
      this.last = { ...lowest, start, length, bar, span, finger: this.finger };
      this.notes.push(this.last);
    }
    this.isTied = false;
    this.finger = null;
  }

  /** Makes the note before longer or shorter, by ticks. */
  stretch(change: number): void {
    if (this.last) this.last.length += change;
  }

  private pitchOf({ alteration, letter, octave }: AbcPitch): Pick<OpenNote, 'written' | 'name'> {
    // A tied note over the bar line keeps its accidental.
    const tied = this.isTied && this.last !== null && letterOf(this.last.name) === letter ? this.last : null;
    const held = tied === null ? undefined : alterationOf(tied.name);
    if (alteration !== null) this.inBar.set(letter, alteration);
    const alter = alteration ?? this.inBar.get(letter) ?? held ?? this.inKey.get(letter) ?? 0;
    const sign = (alter < 0 ? 'b' : '#').repeat(Math.abs(alter));
    return { written: 12 * (octave + 1) + naturals[letter]! + alter, name: noteName(`${letter}${sign}`) };
  }

  /**
   * From page to sound, in semitones. What the text names is taken at its word. A bass clef that says nothing is read as
   * bass players read it, an octave lower than it stands, unless a note would then lie below every bass.
   */
  private shift(): number {
    const { isBassClef, octaves, semitones } = this.sounding;
    if (!isBassClef || octaves !== null || semitones !== null) return 12 * (octaves ?? 0) + (semitones ?? 0);
    const lowest = Math.min(...this.notes.slice(0, mostCompared).map(({ written }) => written));
    return lowest - 12 >= lowestBass ? -12 : 0;
  }

  /** Gives the bars their notes. `bars` are those that the line goes with, in the order of this voice's own. */
  finish(own: readonly SketchBar[], bars: readonly SketchBar[]): void {
    const shift = this.shift();
    const first = this.notes[0];
    if (first && this.sounding.octaves === null && shift === -12) {
      this.problems.addOnce('line-octave', first.span);
    }
    const places = new Map(own.map((bar, index) => [bar, index]));
    const within = ((shift % 12) + 12) % 12;
    const move = { chromatic: within, diatonic: Math.round((within * 7) / 12), octaves: 0 };
    for (const { written, name, start, length, bar, finger } of this.notes) {
      const midi = written + shift;
      const target = bars[places.get(bar) ?? -1];
      if (midi < 0 || midi > 127) this.problems.addOnce('line-range', bar.span, { bar: bar.number });
      const offset = Math.round(start);
      const ticks = Math.round(start + length) - offset;
      if (!target || midi < 0 || midi > 127 || ticks <= 0) continue;
      const sounding = soundingMidi(midi);
      const note: Omit<ImportedNote, 'bar'> = {
        offset,
        ticks,
        midi: sounding,
        pitch: spellPitch(sounding, movedName(name, move)),
        string: null,
        finger,
        otherFingers: [],
      };
      target.notes.push(note);
    }
  }
}

/** Notes looked at to tell how a bass clef is meant. */
const mostCompared = 10_000;
