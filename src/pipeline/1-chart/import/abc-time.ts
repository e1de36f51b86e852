// How long the notes of ABC last and where in the bar they stand: unit lengths, tuplets, broken rhythm.
import { ticksPerQuarter } from '../../../music';
import type { AbcToken } from './abc-tokens';

const wholeNote = 4 * ticksPerQuarter;
/** Notes of a tuplet in the time of how many, when it does not say. */
const usualTime: Readonly<Record<number, number>> = { 2: 3, 3: 2, 4: 3, 6: 2, 8: 3 };

/** Time in one bar. */
export class AbcTime {
  /** Place in the bar in ticks, not yet whole. */
  cursor = 0;
  private lastLength = 0;
  private nextFactor = 1;
  private tuplet = { left: 0, factor: 1 };

  get tick(): number {
    return Math.round(this.cursor);
  }

  startTuplet({ notes, inTimeOf, count }: AbcToken & { readonly kind: 'tuplet' }, isCompound: boolean): void {
    const time = inTimeOf ?? usualTime[notes] ?? (isCompound ? 3 : 2);
    this.tuplet = { left: count, factor: time / notes };
  }

  /** Ticks of the next note or rest; `unit` is a part of a whole note. */
  next(units: number, unit: number): number {
    const inTuplet = this.tuplet.left > 0 ? this.tuplet.factor : 1;
    this.tuplet.left = Math.max(0, this.tuplet.left - 1);
    this.lastLength = units * unit * wholeNote * inTuplet * this.nextFactor;
    this.nextFactor = 1;
    return this.lastLength;
  }

  /** `a>b` dots the first and halves the second. Gives what the first became longer by. */
  breakRhythm(strokes: number): number {
    const short = 0.5 ** Math.abs(strokes);
    const [first, second] = strokes > 0 ? [2 - short, short] : [short, 2 - short];
    const change = this.lastLength * (first - 1);
    this.cursor += change;
    this.nextFactor = second;
    return change;
  }
}
