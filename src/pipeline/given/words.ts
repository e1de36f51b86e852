// What is said about a note that was given: where the hand is, and what an open string does for it.
import words from '../../../shared/words/degrees.json' with { type: 'json' };
import type { NoteName } from '../../music';
import { positionName, type Placement } from '../../instrument';
import type { LineNote } from '../5-line';

const readable = (name: NoteName): string => name.replaceAll('b', '♭').replaceAll('#', '♯');

/** One or two sentences. */
export function noteReason(name: NoteName, placement: Placement, carry: LineNote['carry']): string {
  const place =
    placement.finger === '0'
      ? 'on the open string'
      : `with ${placement.finger === 'T' ? 'the thumb' : `finger ${placement.finger}`} in position ${positionName(placement.position)}`;
  const sentence = `${readable(name)} is given; it is played ${place}.`;
  if (!carry) return sentence;
  const names = { from: positionName(carry.from), to: positionName(carry.to) };
  return `${sentence} ${words.carry.replace('{from}', names.from).replace('{to}', names.to)}`;
}
