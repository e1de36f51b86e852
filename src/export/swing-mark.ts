// The swing mark: notes are written as even eighths, the mark says how they are played.
import { straightRatio, swingAt, type Bpm } from '../music';
import { isStraight, type Feel } from '../pipeline/1-chart';
import { tag, type XmlElement } from './xml';

/** Length of the first eighth over the second; 1 is straight. */
export type SwingRatio = number;

/** What bands play: straight where the feel is, else by tempo. */
export const usualSwing = (feel: Feel, tempo: Bpm): SwingRatio =>
  isStraight(feel) ? straightRatio : swingAt(tempo).bass;

/** Largest error allowed for the sake of a small fraction; smaller than the spread between players. */
const tolerance = 0.03;

/** Enough for any ratio from 1 to 1 upwards; a bound, so that no number given can keep the search going. */
const largestSecond = 20;

/** The smallest whole numbers whose ratio is close to the one given, as <swing> asks for. */
export function smallRatio(ratio: SwingRatio): { readonly first: number; readonly second: number } {
  for (let second = 1; second <= largestSecond; second += 1) {
    const first = Math.round(ratio * second);
    if (first > 0 && Math.abs(first / second / ratio - 1) <= tolerance) return { first, second };
  }
  return { first: 1, second: 1 };
}

/** The <swing> element of MusicXML 4.0. */
export function swingElement(ratio: SwingRatio): XmlElement {
  if (ratio === straightRatio) return tag('swing', tag('straight'));
  const { first, second } = smallRatio(ratio);
  return tag(
    'swing',
    tag('first', String(first)),
    tag('second', String(second)),
    tag('swing-type', 'eighth'),
  );
}
