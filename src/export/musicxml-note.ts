// One written note or rest as a MusicXML <note>.
import { alterationOf, letterOf, type SpelledPitch } from '../music';
import type { Finger, StringNumber } from '../instrument';
import type { LineNote } from '../pipeline/5-line';
import type { BeamMark } from './beams';
import type { WrittenNote } from './line-bars';
import { tag, tagWith, type XmlElement } from './xml';

/** The MusicXML name of an alteration from -2 to 2. */
const accidentalName = (alteration: number): string =>
  ['flat-flat', 'flat', 'natural', 'sharp', 'double-sharp'][alteration + 2]!;

/** Another way to hold a note; its string is null where that is the same. */
export interface OtherWay {
  readonly finger: Finger;
  readonly string: StringNumber | null;
}

/** What is decided outside the note itself. */
export interface NoteContext {
  /** Alteration to print as an accidental, null for none. */
  readonly accidental: number | null;
  readonly beams: readonly BeamMark[];
  /** The rest fills a bar by itself. */
  readonly isBarRest: boolean;
  /** Another way to hold the note; none when left out. */
  readonly otherWay?: OtherWay | null;
}

/** The page shows the bass an octave above its sound; <transpose> brings the sound back down. */
const writtenOctaveOf = (pitch: SpelledPitch): number => pitch.octave + 1;

function pitchElement(pitch: SpelledPitch): XmlElement {
  const alteration = alterationOf(pitch.name);
  return tag(
    'pitch',
    tag('step', letterOf(pitch.name)),
    ...(alteration === 0 ? [] : [tag('alter', String(alteration))]),
    tag('octave', String(writtenOctaveOf(pitch))),
  );
}

const alternateFinger = (finger: Finger): XmlElement => tagWith('fingering', { alternate: 'yes' }, finger);

/** String 1 is the highest, as in the rest of the program. */
function technicalElement({ placement }: LineNote, otherWay: OtherWay | null): XmlElement {
  const other = otherWay?.string === null ? [alternateFinger(otherWay.finger)] : [];
  const string = tag('string', String(placement.string));
  switch (placement.finger) {
    case '0':
      // The sign of the open string says what a finger 0 would say again.
      return tag('technical', ...other, string, tag('open-string'));
    case 'T':
      return tag('technical', ...other, string, tag('thumb-position'));
    default:
      return tag('technical', tag('fingering', placement.finger), ...other, string);
  }
}

/** Says whose <technical> the second one is: the standard has a level for every set of notations. */
const otherLevel = 'alternative fingering';

/**
 * Another string needs a level of its own: <string> has no attribute that says it is the other one, and only with its
 * string does the finger mean anything.
 */
const otherNotations = ({ finger, string }: OtherWay): XmlElement[] =>
  string === null
    ? []
    : [
        tag(
          'notations',
          tag('level', otherLevel),
          tag('technical', alternateFinger(finger), tag('string', String(string))),
        ),
      ];

function notationsElements(
  { note, piece, tiedInto, tiedOn }: WrittenNote,
  otherWay: OtherWay | null,
): XmlElement[] {
  const isHeld = note !== null && !tiedInto;
  const children = [
    ...(tiedInto ? [tagWith('tied', { type: 'stop' })] : []),
    ...(tiedOn ? [tagWith('tied', { type: 'start' })] : []),
    ...(piece.tuplet === 'start' || piece.tuplet === 'stop'
      ? [tagWith('tuplet', { type: piece.tuplet })]
      : []),
    ...(isHeld ? [technicalElement(note, otherWay)] : []),
  ];
  return [
    ...(children.length === 0 ? [] : [tag('notations', ...children)]),
    ...(isHeld && otherWay !== null ? otherNotations(otherWay) : []),
  ];
}

const timeModification = tag('time-modification', tag('actual-notes', '3'), tag('normal-notes', '2'));

/** The children stand in the order that the schema prescribes. */
export function noteElement(written: WrittenNote, context: NoteContext): XmlElement {
  const { note, piece, tiedInto, tiedOn } = written;
  const { value } = piece;
  const rest = context.isBarRest ? tagWith('rest', { measure: 'yes' }) : tag('rest');
  return tag(
    'note',
    note === null ? rest : pitchElement(note.pitch),
    tag('duration', String(piece.end - piece.start)),
    ...(tiedInto ? [tagWith('tie', { type: 'stop' })] : []),
    ...(tiedOn ? [tagWith('tie', { type: 'start' })] : []),
    tag('voice', '1'),
    ...(value === null ? [] : [tag('type', value.type)]),
    ...(value?.dots === 1 ? [tag('dot')] : []),
    ...(context.accidental === null ? [] : [tag('accidental', accidentalName(context.accidental))]),
    ...(value?.triplet ? [timeModification] : []),
    ...(note?.slot.articulation === 'ghost' ? [tag('notehead', 'x')] : []),
    ...context.beams.map((mark, index) => tagWith('beam', { number: String(index + 1) }, mark)),
    ...notationsElements(written, context.otherWay ?? null),
  );
}
