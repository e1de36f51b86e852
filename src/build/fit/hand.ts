// The hand's part of the fit. A figure that fingerings should have "at most" or "at least" is an inequality; the weight that
// answers it is its multiplier, raised while the figure is missed and let back while it is met with room (dual ascent: Boyd &
// Vandenberghe 2004, Convex Optimization, 5.4; with noisy figures a stochastic approximation, so the steps grow smaller). A
// weight stays between what is assumed where nothing is missed and the most that still feels like a hand.
import weights from '../../../shared/weights/hand.json' with { type: 'json' };
import { defaultInstrument } from '../../instrument';
import {
  handFigures,
  wantedRows,
  type Line,
  type WantedFigure,
  type WantedLines,
} from '../../pipeline/5-line';

/** How far, of the way from one end to the other, a figure missed by as much as is wanted moves a weight of strength 1. */
const rate = 0.8;
/** Aimed at is this much inside of what is wanted, in parts of it: figures counted in takes have chance in them. */
const room = 0.15;
/** A miss counts no further than this, in parts of what is wanted. */
const mostMiss = 1;

interface Numbers {
  [name: string]: number | Numbers;
}

/** A number of the weights by its path, `landing.perSemitone`. */
function placeOf(path: string): { readonly in: Numbers; readonly name: string } {
  const names = path.split('.');
  const name = names.pop()!;
  let table = weights as unknown as Numbers;
  for (const one of names) table = table[one] as Numbers;
  if (typeof table[name] !== 'number') throw new Error(`hand.json has no number ${path}`);
  return { in: table, name };
}

/** A fit has no lines of who lives at the octave. */
type FittedLines = Exclude<WantedLines, 'summit'>;

interface Answer extends Pick<WantedFigure, 'figure' | 'strength'> {
  readonly lines: FittedLines;
  /** How far a figure is missed, in parts of what is wanted; negative where there is room. */
  readonly missed: (value: number) => number;
  readonly place: ReturnType<typeof placeOf>;
  readonly from: number;
  readonly to: number;
}

function answersOf({ figure, lines, wanted, strength, answers = [] }: WantedFigure): Answer[] {
  if (!wanted || lines === 'summit') return [];
  const { least, most } = wanted;
  const missed = (value: number): number =>
    room + (most === undefined ? (least! - value) / least! : (value - most) / most);
  return answers.map(({ weight, from, to }) => ({
    ...{ figure, lines, strength, missed, from, to },
    place: placeOf(weight),
  }));
}

export class HandFit {
  readonly #answers = wantedRows.flatMap(answersOf);
  readonly #opens = new Set<number>(defaultInstrument.strings.map(({ open }) => open));
  #rounds = 0;

  /** The weights as they stand; they are changed in place, where the features read them. */
  get weights(): typeof weights {
    return weights;
  }

  /** Moves every weight that answers a figure by how the lines show it; says in words what is missed. */
  answer(lines: Readonly<Record<FittedLines, readonly Line[]>>): string {
    const figures = {
      takes: handFigures(lines.takes, this.#opens),
      best: handFigures(lines.best, this.#opens),
    };
    this.#rounds += 1;
    const words = this.#answers.map((answer) => {
      const { from, to, place, strength } = answer;
      const value = figures[answer.lines][answer.figure];
      const missed = Math.min(Math.max(answer.missed(value), -mostMiss), mostMiss);
      const step = (rate * strength * missed) / Math.sqrt(this.#rounds);
      const part = Math.min(1, Math.max(0, ((place.in[place.name] as number) - from) / (to - from) + step));
      place.in[place.name] = from + part * (to - from);
      return `${answer.figure} ${value.toFixed(3)}: ${place.name} ${(place.in[place.name] as number).toFixed(3)}`;
    });
    return words.join('; ');
  }
}
