// Why a note is there, as a sentence: of the device that stands for it, else of its degree. The words are data; this file
// only fills them in.
import words from '../../../shared/words/degrees.json' with { type: 'json' };
import type { NoteName, SoundingMidi } from '../../music';
import { positionName } from '../../instrument';
import type { TimelineChord } from '../2-timeline';
import { degreeIn, deviceOf, type Degree, type NoteLabels } from './devices';
import type { Carry } from './types';

/** A note name as it is read: "B♭". */
export const readableNote = (name: NoteName): string => name.replaceAll('b', '♭').replaceAll('#', '♯');

const fill = (template: string, values: Readonly<Record<string, string>>): string =>
  template.replace(/\{(\w+)\}/g, (whole, key: string) => values[key] ?? whole);

const symbolOf = (harmony: TimelineChord): string => harmony.chord?.symbol ?? 'N.C.';

/** A note with its name and the harmony it falls in. */
export interface NamedNote {
  readonly name: NoteName;
  readonly midi: SoundingMidi;
  readonly harmony: TimelineChord;
}

/** What a pitch is in a harmony: "the minor third of Cm7", "outside C7". */
export function functionIn({ harmony, midi }: Pick<NamedNote, 'harmony' | 'midi'>): string {
  const { place, name } = degreeIn(harmony, midi);
  return fill(words.is[place], { chord: symbolOf(harmony), name });
}

function degreeSentence({ place, number, name }: Degree, note: NamedNote): string {
  const sentences: Readonly<Record<string, string | undefined>> = words.sentences;
  const own = place === 'chord' && number === 3 ? sentences[name] : undefined;
  const template = own ?? words.sentences[place];
  return fill(template, { note: readableNote(note.name), chord: symbolOf(note.harmony), name });
}

const numbered = (list: readonly string[], number: number): string => list[number - 1] ?? String(number);

/**
 * One or two sentences: what the note does in the line and, for an open string, what it does for the hand.
 *
 * @param index of the note, as in the spans of its labels and among the carries
 * @param noteAt the note of an index, undefined past the end
 */
export function reasonFor(
  index: number,
  labels: NoteLabels,
  noteAt: (index: number) => NamedNote | undefined,
  carries: readonly (Carry | null)[],
): string {
  const note = noteAt(index)!;
  const sentence = deviceSentence(index, labels, noteAt) ?? degreeSentence(labels.degree, note);
  return [sentence, ...carrySentence(index, carries)].join(' ');
}

/** What an open string does for the hand, by itself or with those beside it; empty where it does nothing. */
export function carrySentence(index: number, carries: readonly (Carry | null)[]): readonly string[] {
  const carry = carries[index] ?? null;
  if (carry === null) return [];
  const isOne = !carries[index - 1] && !carries[index + 1];
  const names = { from: positionName(carry.from), to: positionName(carry.to) };
  return [fill(isOne ? words.carry : words.carries, names)];
}

function deviceSentence(
  index: number,
  { device, devices }: NoteLabels,
  noteAt: (index: number) => NamedNote | undefined,
): string | undefined {
  const span = devices.find((one) => one.device === device);
  if (!span || device === null) return undefined;
  const note = noteAt(index)!;
  const target = span.target === null ? undefined : noteAt(span.target);
  return fill(deviceOf(device).sentence, {
    note: readableNote(note.name),
    chord: symbolOf(note.harmony),
    is: functionIn(note),
    nth: numbered(words.nth, span.notes.indexOf(index) + 1),
    count: numbered(words.count, span.notes.length),
    next: target ? readableNote(target.name) : words.theEnd,
    target: target ? functionIn(target) : words.endOfLine,
  });
}
