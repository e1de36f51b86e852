// What is said about a note that was given: where the hand is, and what an open string does for it.
import type { NoteName } from '../../music';
import { isOpenString, positionName } from '../../instrument';
import { carrySentence, type LineNote } from '../5-line';

const readable = (name: NoteName): string => name.replaceAll('b', '♭').replaceAll('#', '♯');

/** One or two sentences. */
export function noteReason(name: NoteName, notes: readonly LineNote[], index: number): string {
  const { placement } = notes[index]!;
  const place = isOpenString(placement)
    ? 'on the open string'
    : `with ${placement.finger === 'T' ? 'the thumb' : `finger ${placement.finger}`} in position ${positionName(placement.position)}`;
  const sentence = `${readable(name)} is given; it is played ${place}.`;
  const carries = notes.map(({ carry }) => carry);
  return [sentence, ...carrySentence(index, carries)].join(' ');
}
