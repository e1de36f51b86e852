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

/** The text of the kind says the degrees already, so nobody has to print them again. */
const degreeElement = ({ value, alter, type }: XmlDegree): XmlElement =>
  tagWith(
    'degree',
    { 'print-object': 'no' },
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

/** Writes the chords of one document; a symbol that comes back is worked out once. */
export type HarmonyWriter = (
  /** Null for N.C. */
  chord: Chord | null,
  /** Divisions after the place where the element stands. */
  offset: number,
) => XmlElement;

export function harmonyWriter(): HarmonyWriter {
  const known = new Map<string, readonly XmlElement[]>();
  const elementsOf = (chord: Chord): readonly XmlElement[] => {
    const elements = known.get(chord.symbol) ?? chordElements(chord);
    known.set(chord.symbol, elements);
    return elements;
  };
  return (chord, offset) =>
    tag(
      'harmony',
      ...(chord === null ? noChord : elementsOf(chord)),
      ...(offset === 0 ? [] : [tag('offset', String(offset))]),
    );
}
