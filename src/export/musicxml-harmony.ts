// A chord symbol as a MusicXML <harmony>.
import { alterationOf, letterOf, type Chord, type NoteName } from '../music';
import { tag, tagWith, type XmlElement } from './xml';

export interface HarmonyPlace {
  /** Divisions after the place where the element stands. */
  readonly offset: number;
}

function noteElements(prefix: 'root' | 'bass', name: NoteName): XmlElement {
  const alteration = alterationOf(name);
  return tag(
    prefix,
    tag(`${prefix}-step`, letterOf(name)),
    ...(alteration === 0 ? [] : [tag(`${prefix}-alter`, String(alteration))]),
  );
}

/** The schema wants a root even where there is no chord; it is not printed. */
const noChord: readonly XmlElement[] = [
  tag('root', tagWith('root-step', { text: '' }, 'C')),
  tagWith('kind', { text: 'N.C.' }, 'none'),
];

function chordElements(chord: Chord): XmlElement[] {
  return [
    noteElements('root', chord.root),
    tagWith('kind', { text: chord.symbol }, 'other'),
    ...(chord.bass === null ? [] : [noteElements('bass', chord.bass)]),
  ];
}

/** @param chord null for N.C. */
export const harmonyElement = (chord: Chord | null, { offset }: HarmonyPlace): XmlElement =>
  tag(
    'harmony',
    ...(chord === null ? noChord : chordElements(chord)),
    ...(offset === 0 ? [] : [tag('offset', String(offset))]),
  );
