// Why a note is there, as a sentence. The words are data; this file only fills them in.
import words from '../../../shared/words/roles.json' with { type: 'json' };
import { pitchClass, pitchClassOf, type NoteName, type SoundingMidi } from '../../music';
import { positionName } from '../../instrument';
import type { TimelineChord } from '../2-timeline';
import { toneClass } from './features';
import { degreeIn } from './roles';
import type { LineNote, Role } from './types';

/** A note name as it is read: "B♭". */
export const readableNote = (name: NoteName): string => name.replaceAll('b', '♭').replaceAll('#', '♯');

const fill = (template: string, values: Readonly<Record<string, string>>): string =>
  template.replace(/\{(\w+)\}/g, (whole, key: string) => values[key] ?? whole);

const symbolOf = (harmony: TimelineChord): string => harmony.chord?.symbol ?? 'N.C.';

/** What a pitch is in a harmony: "the third of C7", "outside C7". */
export function functionIn(harmony: TimelineChord, midi: SoundingMidi): string {
  const chord = symbolOf(harmony);
  const bass = harmony.chord?.bass;
  const { degrees } = words;
  if (bass !== null && bass !== undefined && pitchClassOf(bass) === pitchClass(midi)) {
    return fill(degrees.bass, { chord });
  }
  const degree = degreeIn(harmony, midi);
  const template = degree === undefined ? undefined : degrees[String(degree) as keyof typeof degrees];
  if (template !== undefined) return fill(template, { chord });
  return fill(toneClass(harmony, midi) === 'chrom' ? degrees.outside : degrees.scale, { chord });
}

/** The note that follows, with the harmony it falls in. */
export interface Ahead {
  readonly name: NoteName;
  readonly midi: SoundingMidi;
  readonly harmony: TimelineChord;
}

/** One or two sentences: what the note does in the line and, for an open string, what it does for the hand. */
export function reasonFor(
  role: Role,
  name: NoteName,
  midi: SoundingMidi,
  harmony: TimelineChord,
  ahead: Ahead | null,
  carry: LineNote['carry'],
): string {
  const sentence = fill(words.reasons[role], {
    note: readableNote(name),
    chord: symbolOf(harmony),
    is: functionIn(harmony, midi),
    next: ahead ? readableNote(ahead.name) : 'the end',
    target: ahead ? functionIn(ahead.harmony, ahead.midi) : 'the end of the line',
  });
  if (!carry) return sentence;
  return `${sentence} ${fill(words.carry, { from: positionName(carry.from), to: positionName(carry.to) })}`;
}
