// Reads and writes a line of notes: "F1 G1 A1 Bb1", octaves as they sound, quarter notes unless a length stands behind a colon.
import {
  midiOf,
  nameOfPitchClass,
  parseNoteName,
  pitchClass,
  pitchClassOf,
  scientificName,
  soundingMidi,
  spellPitch,
  ticks,
  ticksPerQuarter,
  type Key,
  type NoteName,
  type SoundingMidi,
} from '../../music';
import type { Problem } from '../1-chart';
import type { GivenNote } from './types';

export interface ReadNotes {
  readonly notes: readonly GivenNote[];
  readonly problems: readonly Problem[];
}

/** Longest text that is read, and most notes that are fingered. */
export const givenLimits = { characters: 20_000, notes: 1024, beats: 64 } as const;

const tokenPattern = /[^\s,|]+/g;
const notePattern = /^([A-Ga-g])(##?|♯♯?|bb?|♭♭?)?(\d{1,2})?$/;
const lengthPattern = /^(\d{1,5}(?:\.\d{1,3})?)(?:\/(\d{1,3}))?$/;
const quoteLength = 24;

const quoted = (text: string): string =>
  text.length <= quoteLength ? text : `${text.slice(0, quoteLength)}…`;

/** Ticks of "2", "1/2", "1.5", in quarter notes; undefined when that is no whole number of ticks or too long. */
function readLength(text: string | undefined): number | undefined {
  if (text === undefined) return ticksPerQuarter;
  const match = lengthPattern.exec(text);
  if (!match) return undefined;
  const length = (Number(match[1]) * ticksPerQuarter) / Number(match[2] ?? 1);
  const isPossible = Number.isInteger(length) && length > 0 && length <= givenLimits.beats * ticksPerQuarter;
  return isPossible ? length : undefined;
}

/** The pitch of a name nearest to another pitch; upwards when both ways are as far. */
function nearest(name: NoteName, to: SoundingMidi): SoundingMidi {
  const up = (pitchClassOf(name) - to + 1200) % 12;
  return soundingMidi(Math.max(0, up <= 6 ? to + up : to + up - 12));
}

/** What one word of the line stands for. */
type Word =
  | { readonly kind: 'rest' }
  | { readonly kind: 'note'; readonly name: NoteName; readonly midi: SoundingMidi }
  | { readonly kind: 'wrong'; readonly message: string };

function readWord(text: string, before: SoundingMidi | null): Word {
  if (/^r$/i.test(text)) return { kind: 'rest' };
  const match = notePattern.exec(text);
  const sign = (match?.[2] ?? '').replaceAll('♯', '#').replaceAll('♭', 'b');
  const name = match ? parseNoteName(`${match[1]!.toUpperCase()}${sign}`) : undefined;
  if (!match || name === undefined)
    return {
      kind: 'wrong',
      message: `“${quoted(text)}” is no note: write a letter with its sign and octave, such as Bb1.`,
    };
  if (match[3] === undefined) {
    if (before === null)
      return {
        kind: 'wrong',
        message: `“${quoted(text)}” needs an octave: the first note says where the line begins, such as ${name}1.`,
      };
    return { kind: 'note', name, midi: nearest(name, before) };
  }
  const octave = Number(match[3]);
  if (octave > 8) return { kind: 'wrong', message: `“${quoted(text)}” is higher than any bass goes.` };
  return { kind: 'note', name, midi: midiOf({ name, octave }) };
}

/**
 * Notes of a text, with what could not be read at its place. `r` is a rest; a length in quarter notes follows a colon
 * ("F1:2", "G1:1/2"); bar strokes and commas only part words; a note without octave is the nearest to the one before.
 */
export function parseNotes(text: string): ReadNotes {
  const problems: Problem[] = [];
  const notes: GivenNote[] = [];
  let tick = 0;
  let before: SoundingMidi | null = null;
  const report = (line: number, column: number, length: number, code: string, message: string): void => {
    if (problems.length < 100) problems.push({ line, column, length, code, severity: 'error', message });
  };
  if (text.length > givenLimits.characters) {
    report(1, givenLimits.characters + 1, 1, 'line-too-long', 'The line is too long; the rest was left out.');
  }
  text
    .slice(0, givenLimits.characters)
    .split(/\r\n?|\n/)
    .forEach((row, rowIndex) => {
      for (const match of row.matchAll(tokenPattern)) {
        const [token] = match;
        const at = (code: string, message: string): void =>
          report(rowIndex + 1, match.index + 1, token.length, code, message);
        if (notes.length >= givenLimits.notes) {
          at(
            'too-many-notes',
            `No more than ${givenLimits.notes} notes are fingered; the rest was left out.`,
          );
          return;
        }
        const [head, lengthText, ...more] = token.split(':');
        const length = more.length > 0 ? undefined : readLength(lengthText);
        const word = readWord(head!, before);
        if (word.kind === 'wrong') at('no-note', word.message);
        else if (length === undefined) {
          at(
            'no-length',
            `“${quoted(token)}” has no length: write quarter notes after the colon, such as ${head!}:2 or ${head!}:1/2.`,
          );
        } else {
          if (word.kind === 'note') {
            notes.push({ midi: word.midi, name: word.name, tick: ticks(tick), ticks: ticks(length) });
            before = word.midi;
          }
          tick += length;
        }
      }
    });
  return { notes, problems };
}

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

/** ":3/2" for ticks; nothing for a quarter note. */
function lengthText(length: number): string {
  if (length === ticksPerQuarter) return '';
  const common = divisor(length, ticksPerQuarter);
  const under = ticksPerQuarter / common;
  return `:${length / common}${under === 1 ? '' : `/${under}`}`;
}

/** Rests of so many ticks; the longest that can be written are put one after another. */
function restWords(length: number): string[] {
  const longest = givenLimits.beats * ticksPerQuarter;
  const whole = Array.from({ length: Math.floor(length / longest) }, () => longest);
  return [...whole, length % longest].filter((part) => part > 0).map((part) => `r${lengthText(part)}`);
}

/**
 * The text that `parseNotes` reads as these notes, the silence between them and before the first included.
 * @param key says sharp or flat where a note has no name
 */
export function printNotes(notes: readonly GivenNote[], key: Key): string {
  const words: string[] = [];
  let end = 0;
  for (const { midi, name, tick, ticks: length } of notes) {
    words.push(...restWords(tick - end));
    const called = name ?? nameOfPitchClass(pitchClass(midi), key.fifths > 0);
    words.push(`${scientificName(spellPitch(midi, called))}${lengthText(length)}`);
    end = tick + length;
  }
  return words.join(' ');
}
