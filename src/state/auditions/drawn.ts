// A take drawn beside the study: what is asked for it, what it is, and whether it still belongs to the study.
import { keptOf, type KeptBar, type WalkRequest, type WalkResult } from '../../pipeline';
import { newTake, setTake, type Study } from '../document';
import type { ShownLine } from '../edits';
import { letGo, lockedBars } from '../keeping';
import { requestOf } from '../request';
import { figuresOf, type TakeFigures } from './figures';
import type { WalkWishes } from './like';

/** How the takes of a run are drawn. */
export interface DrawnAs extends WalkWishes {
  /** Above 0: at none all takes would be the one best line. */
  readonly temperature: number;
}

export interface DrawnTake {
  /** Place in the order in which takes were drawn, from 0. */
  readonly index: number;
  /** Number of the take. */
  readonly seed: number;
  readonly drawnAs: DrawnAs;
  readonly shown: ShownLine;
  readonly result: WalkResult;
  /** Its notes, to be kept. */
  readonly kept: readonly KeptBar[];
  readonly figures: TakeFigures;
}

/** Takes in a run. */
export const takesARun = 10;
/** Takes that are held at a time. */
export const mostTakes = 120;

/** How freely takes are drawn of a study that asks for the one best line. */
const usualVariety = 1;

export const drawnAsOf = ({ bold, leaps, outside, temperature }: Study): DrawnAs => ({
  bold,
  leaps,
  outside,
  temperature: temperature === 0 ? usualVariety : temperature,
});

/** Number of the take after another. */
export const seedAfter = (study: Study, seed: number): number => newTake(setTake(study, seed)).seed;

/** What is asked for a take; bars that are held stay. */
export const drawRequest = (study: Study, seed: number, drawnAs: DrawnAs): WalkRequest =>
  requestOf(letGo({ ...study, ...drawnAs, seed, own: null }));

/** Null where the answer holds no line. */
export function drawnTake(
  result: WalkResult,
  { index, seed, drawnAs }: Pick<DrawnTake, 'index' | 'seed' | 'drawnAs'>,
): DrawnTake | null {
  const { line, timeline } = result;
  if (!line || !timeline) return null;
  const kept = keptOf(line, timeline);
  return {
    ...{ index, seed, drawnAs, result, kept },
    shown: { line, timeline },
    figures: figuresOf(line),
  };
}

/** The same notes in every bar, whichever of the bars are held. */
export const isSameNotes = (one: readonly KeptBar[], other: readonly KeptBar[]): boolean =>
  one.length === other.length &&
  one.every(({ notes }, index) => JSON.stringify(notes) === JSON.stringify(other[index]!.notes));

/** What may change without the takes losing their ground: which take is played, how fast, and what is kept aside. */
const besides: ReadonlySet<string> = new Set<keyof Study>([
  'seed',
  'kept',
  'redraws',
  'stars',
  'tempo',
  'bold',
  'leaps',
  'outside',
  'temperature',
]);

/** True while takes drawn for one version of a study can be taken for another. */
export function isSameGround(one: Study, other: Study): boolean {
  const names = Object.keys(one) as (keyof Study)[];
  return (
    names.every((name) => besides.has(name) || Object.is(one[name], other[name])) &&
    String(lockedBars(one)) === String(lockedBars(other))
  );
}
