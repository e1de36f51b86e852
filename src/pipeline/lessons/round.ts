// A round: one study through twelve keys and the whole neck. Every key is solved on each of the four grounds of a round, and
// the keys are shared out so that each ground comes three times at the least sum (assignment.ts): 48 lessons and one exact
// assignment.
import { derivedSeed, practicalKeys, sameKey, seededRandom, type Key } from '../../music';
import { keyOfChart } from '../1-chart';
import { chartOf } from '../pipeline';
import { emptyCaches, type Caches } from '../problem/instance';
import type { WalkRequest } from '../types';
import { assign } from './assignment';
import { grounds } from './grounds';
import type { GroundId, LayerId } from './ids';
import { makeLesson, type Lesson } from './lesson';

export const roundOrders = ['fourths', 'mixed'] as const;
/** By fourths from the study's own key, or mixed by the seed. */
export type RoundOrder = (typeof roundOrders)[number];

export interface RoundWish {
  readonly layer: LayerId;
  readonly order: RoundOrder;
}

/** A key of the round with its ground and its line. */
export interface RoundKey {
  readonly key: Key;
  readonly ground: GroundId;
  readonly lesson: Lesson;
  /** What the line costs; thousandths. */
  readonly cost: number;
}

export interface Round {
  /** In the order in which they are played; empty where the keys cannot be shared out. */
  readonly keys: readonly RoundKey[];
  /** Sum of the costs, the least there is. */
  readonly total: number;
  /** What every key costs on every ground of a round: Infinity where it has no line there. */
  readonly costs: readonly (readonly number[])[];
  /** Keys and grounds without a line, with the reason. */
  readonly missing: readonly { readonly key: Key; readonly ground: GroundId; readonly message: string }[];
  /** Why there is no round; null where there is one. */
  readonly problem: 'nothing to play' | 'no sharing out' | null;
}

export const roundGrounds: readonly GroundId[] = grounds
  .filter(({ isOfRound }) => isOfRound)
  .map(({ id }) => id);

/** Keys that each ground has. */
const keysEach = 12 / roundGrounds.length;

/** The twelve keys of a mode that players read, by fourths from one of them on; mixed, in an order of the seed. */
export function roundKeys(own: Key, order: RoundOrder, seed: number): readonly Key[] {
  const rising = practicalKeys(own.mode);
  const at = rising.findIndex((key) => sameKey(key, own));
  const start = at < 0 ? rising.findIndex(({ fifths }) => (fifths - own.fifths) % 12 === 0) : at;
  const byFourths = rising.map((_, step) => rising[(start - step + rising.length) % rising.length]!);
  if (order === 'fourths') return byFourths;
  const random = seededRandom(derivedSeed(seed, mixPart));
  return byFourths
    .map((key) => ({ key, place: random() }))
    .sort((a, b) => a.place - b.place)
    .map(({ key }) => key);
}

/** Part of the seed that mixes the keys. */
const mixPart = 48;

/**
 * @param told how far the solves have come, from 0 to 1
 * @param caches carried on, where something was solved before
 */
export function makeRound(
  request: WalkRequest,
  { layer, order }: RoundWish,
  told: (done: number) => void = () => undefined,
  caches: Caches = emptyCaches(),
): Round {
  const { chart } = chartOf(request);
  // The same study in every key is the best there is in it: lines that are drawn could not be compared.
  const plain: WalkRequest = { ...request, take: { ...request.take, temperature: 0 } };
  const keys = roundKeys(keyOfChart(chart), order, request.take.seed);
  const lessons = keys.map((key, index) =>
    roundGrounds.map((ground, at) => {
      const lesson = makeLesson({ ...plain, key }, { layer, ground }, null, caches);
      told((index * roundGrounds.length + at + 1) / (keys.length * roundGrounds.length));
      return lesson;
    }),
  );
  const costs = lessons.map((row) => row.map(({ line }) => line?.cost ?? Number.POSITIVE_INFINITY));
  const missing = lessons.flatMap((row, index) =>
    row.flatMap(({ ground, impossible }) =>
      impossible ? [{ key: keys[index]!, ground, message: impossible.message }] : [],
    ),
  );
  const none = (problem: Round['problem']): Round => ({ keys: [], total: 0, costs, missing, problem });
  if (lessons.every((row) => row.every(({ timeline }) => timeline === null))) return none('nothing to play');
  const shared = assign(
    costs,
    roundGrounds.map(() => keysEach),
  );
  if (!shared) return none('no sharing out');
  return {
    keys: shared.places.map((place, index): RoundKey => ({
      key: keys[index]!,
      ground: roundGrounds[place]!,
      lesson: lessons[index]![place]!,
      cost: costs[index]![place]!,
    })),
    total: shared.cost,
    costs,
    missing,
    problem: null,
  };
}
