// Kept notes as short text, so that a study with its line fits into a link: three characters a note, in playing order.
import { soundingMidi, barNumber } from '../music';
import { fingers, type HandPosition, type StringNumber } from '../instrument';
import type { Articulation, KeptBar, KeptNote } from '../pipeline';

/** Kept bars as they are stored. */
export interface KeptText {
  /** Sounding pitch of each open string that is used, by its number. */
  readonly strings: Readonly<Record<string, number>>;
  /** One entry a bar, with semicolons between. */
  readonly bars: string;
  /** What each bar was made for, where that is not the chart beside it. */
  readonly marks?: readonly string[];
}

/** Most characters of stored bars that are read: some thousand bars. */
export const mostKeptText = 120_000;
const mostKeptBars = 2_048;
const alphabet = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
const articulations: readonly (readonly [Exclude<Articulation, 'plain'>, string])[] = [
  ['ghost', 'g'],
  ['drop', 'd'],
  ['triplet', 't'],
  ['anticipation', 'a'],
];
const holdSigns = { locked: '!', free: '~' } as const;
const usualTicks = 480;
/** Stops are told from the first finger; an extension lies below the nut. */
const stopOffset = 24;
/** Positions on an extension lie below the nut, too. */
const positionOffset = 12;

/** String and finger, distance of the stop from the first finger, hand position. */
function placeText({ string, finger, stop, position }: KeptNote): string {
  const holder = (string - 1) * fingers.length + fingers.indexOf(finger);
  const reach = finger === '0' ? 0 : stop - position + stopOffset;
  return `${alphabet[holder]!}${alphabet[reach]!}${alphabet[position + positionOffset]!}`;
}

/** Only where a note is not a plain quarter after the one before: length, kind, beginning. */
function timeText(note: KeptNote, expected: number): string {
  const kind = articulations.find(([name]) => name === note.articulation)?.[1] ?? '';
  if (note.ticks === usualTicks && note.at === expected && kind === '') return '';
  const length = note.ticks === usualTicks ? '' : String(note.ticks);
  return `(${length}${kind}${note.at === expected ? '' : `@${note.at}`})`;
}

function barText({ bar, hold, notes }: KeptBar, before: number): string {
  let expected = 0;
  const all = notes.map((note) => {
    const text = placeText(note) + timeText(note, expected);
    expected = note.at + note.ticks;
    return text;
  });
  return `${bar === before + 1 ? '' : `${bar}:`}${hold ? holdSigns[hold] : ''}${all.join('')}`;
}

export function keptToText(bars: readonly KeptBar[]): KeptText {
  const strings: Record<string, number> = {};
  for (const { notes } of bars) for (const { string, midi, stop } of notes) strings[string] = midi - stop;
  const text = bars.map((bar, index) => barText(bar, bars[index - 1]?.bar ?? 0)).join(';');
  const isMarked = bars.some(({ mark }) => mark !== undefined);
  return { strings, bars: text, ...(isMarked ? { marks: bars.map(({ mark }) => mark ?? '') } : {}) };
}

const notePattern = /([\w-])([\w-])([\w-])(?:\((\d{0,6})([gdta]?)(?:@(\d{1,6}))?\))?/y;

/** The notes of one bar; undefined when anything of it cannot be read. */
function readNotes(text: string, strings: KeptText['strings']): KeptNote[] | undefined {
  const notes: KeptNote[] = [];
  let expected = 0;
  notePattern.lastIndex = 0;
  while (notePattern.lastIndex < text.length) {
    const match = notePattern.exec(text);
    if (!match) return undefined;
    const [, holder = '', reach = '', place = '', length, kind, begins] = match;
    const held = alphabet.indexOf(holder);
    const string = Math.floor(held / fingers.length) + 1;
    const finger = fingers[held % fingers.length]!;
    const position = alphabet.indexOf(place) - positionOffset;
    const stop = finger === '0' ? 0 : position + alphabet.indexOf(reach) - stopOffset;
    const midi = (strings[string] ?? Number.NaN) + stop;
    const at = begins === undefined ? expected : Number(begins);
    const ticks = length ? Number(length) : usualTicks;
    if (!Number.isInteger(midi) || midi < 0 || midi > 127 || ticks < 1) return undefined;
    const articulation = articulations.find(([, sign]) => sign === kind)?.[0];
    notes.push({
      at,
      ticks,
      ...(articulation ? { articulation } : {}),
      midi: soundingMidi(midi),
      string: string as StringNumber,
      stop,
      finger,
      position: position as HandPosition,
    });
    expected = at + ticks;
  }
  return notes;
}

/** Reads kept bars back; undefined when they are damaged. Bars rise, so none stands twice. */
export function keptFromText({ strings, bars: text, marks }: KeptText): readonly KeptBar[] | undefined {
  if (text.length > mostKeptText) return undefined;
  if (text === '') return [];
  const parts = text.split(';');
  if (parts.length > mostKeptBars || (marks && marks.length !== parts.length)) return undefined;
  const bars: KeptBar[] = [];
  for (const [index, part] of parts.entries()) {
    const match = /^(?:(\d{1,5}):)?([!~]?)(.*)$/s.exec(part);
    const notes = match && readNotes(match[3] ?? '', strings);
    if (!match || !notes) return undefined;
    const before = bars.at(-1)?.bar ?? 0;
    const number = match[1] === undefined ? before + 1 : Number(match[1]);
    if (number <= before) return undefined;
    const hold = match[2] === '!' ? 'locked' : match[2] === '~' ? 'free' : undefined;
    const mark = marks?.[index];
    bars.push({
      bar: barNumber(number),
      ...(hold ? { hold } : {}),
      ...(mark === undefined ? {} : { mark }),
      notes,
    });
  }
  return bars;
}
