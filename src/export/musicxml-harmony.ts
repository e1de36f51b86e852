// A chord symbol as a MusicXML <harmony>.
import { alterationOf, letterOf, musicXmlKind, type Chord, type NoteName, type XmlDegree } from '../music';
import { tag, tagWith, type XmlElement } from './xml';

function noteElement(prefix: 'root' | 'bass', name: NoteName): XmlElement {
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

const degreeElement = ({ value, alter, type }: XmlDegree): XmlElement =>
  tag(
    'degree',
    tag('degree-value', String(value)),
    tag('degree-alter', String(alter)),
    tag('degree-type', type),
  );

function chordElements(chord: Chord): XmlElement[] {
  const { kind, text, degrees } = musicXmlKind(chord);
  return [
    noteElement('root', chord.root),
    tagWith('kind', { text }, kind),
    ...(chord.bass === null ? [] : [noteElement('bass', chord.bass)]),
    ...degrees.map(degreeElement),
  ];
}

/**
 * @param chord null for N.C.
 * @param offset divisions after the place where the element stands
 */
export const harmonyElement = (chord: Chord | null, offset: number): XmlElement =>
  tag(
    'harmony',
    ...(chord === null ? noChord : chordElements(chord)),
    ...(offset === 0 ? [] : [tag('offset', String(offset))]),
  );
