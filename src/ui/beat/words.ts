// Every word of the panel that speaks about one beat, and its sentences about the hand.
import { deviceOf, effortText, type LineNote, type Move } from '../../pipeline';
import { inPosition, millimetresText, type PositionName } from '../fingerboard';

const measure = (move: Move, isCalibrated: boolean): string =>
  `${millimetresText(move.distance)}, ${effortText(move, isCalibrated)}`;

/**
 * How the hand came to a note, or where it goes over an open string.
 * @param isCalibrated whether times are told in seconds
 */
export function moveSentence(note: LineNote, name: PositionName, isCalibrated: boolean): string {
  const { move, placement, carry } = note;
  // Open strings that carry the hand together all name the same places; the one that the shift is made on measures it.
  if (carry && (move.from !== carry.from || move.to !== carry.to))
    return `On the way ${name(carry.from)} → ${name(carry.to)}, over more than one open string.`;
  const way = `${name(move.from)} → ${name(move.to)}`;
  switch (move.kind) {
    case 'start':
      return `The hand starts ${inPosition(placement.position, name)}.`;
    case 'stay':
      return `The hand stays ${inPosition(placement.position, name)}.`;
    case 'pivot':
      return `Pivot ${way}: the thumb stays, the hand turns.`;
    case 'bare shift':
      return `Bare shift ${way}: ${measure(move, isCalibrated)}.`;
    case 'covered shift':
      return `Covered shift ${way}: ${measure(move, isCalibrated)}.`;
  }
}

/** Both labels of a note: "minor third; double chromatic below, semitone below". */
export function labelsText({ degree, devices }: Pick<LineNote, 'degree' | 'devices'>): string {
  const own = degree.name === degree.short || degree.place === 'chord' ? [] : [degree.short];
  const what = [...own, ...(degree.name === '' ? [] : [degree.name])].join(', ');
  const names = [...new Set(devices.map(({ device }) => deviceOf(device).name))];
  return names.length === 0 ? what : `${what}; ${names.join(', ')}`;
}

/** A cost in thousandths, with a true minus sign and all its digits, so that what is shown adds up. */
export const costText = (amount: number): string =>
  `${amount < 0 ? '−' : ''}${(Math.abs(amount) / 1000).toFixed(3)}`;

export const words = {
  hand: 'The hand',
  others: 'Other ways at this beat',
  all: (count: number): string => `See all ${count}`,
  place: (string: string, finger: string, position: string): string => `${string}, ${finger}, ${position}`,
  /** Over the open string that is played the position is where the hand goes meanwhile; over others that is not known. */
  openPlace: (string: string, finger: string, position: string | null): string =>
    position === null ? `${string}, ${finger}` : `${string}, ${finger} → ${position}`,
  string: 'string',
  price: 'price',
  pinHint: 'a press pins it',
  tryHint: 'up and down try them, Enter pins',
  /** What the prices are prices of. */
  priceHint: 'price: what the whole line loses by it',
  pending: 'Working out the prices…',
  asNow: 'as now',
  rules: 'Rules at this note',
  /** "5, one stretched", "5, all kept". */
  rulesCount: (all: number, stretched: number): string =>
    `${all}, ${stretched === 0 ? 'all kept' : `${stretched} stretched`}`,
  stretched: 'stretched',
  kept: 'kept',
  cost: 'Cost of this note in the line',
  costHint: 'Below zero is liked. The parts add up to the whole.',
  feature: 'part',
  amount: 'cost',
  total: 'this note in all',
  nothing: 'There is no such beat in this line.',
} as const;
