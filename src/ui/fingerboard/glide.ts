// Where something moved by keyframes is at a moment, worked out instead of asked for: asking the page would make it lay
// everything out anew in the middle of a beat.
import { cssMatrix, type Matrix } from './hand';

/** Control points of a cubic Bézier timing curve, as CSS writes them. */
export type Easing = readonly [x1: number, y1: number, x2: number, y2: number];

/** A transform at a share (0 to 1) of the whole time, and how it goes on from there. */
export interface GlideKey {
  readonly offset: number;
  readonly matrix: Matrix;
  /** Left out: evenly. */
  readonly easing?: Easing;
}

/** The share of the way at a share of the time. */
export function eased([x1, y1, x2, y2]: Easing, time: number): number {
  if (time <= 0 || time >= 1) return Math.min(Math.max(time, 0), 1);
  const along = (a: number, b: number, t: number): number =>
    3 * a * t * (1 - t) ** 2 + 3 * b * t ** 2 * (1 - t) + t ** 3;
  // The curve never turns back in time, so halving finds its one place.
  let [low, high] = [0, 1];
  for (let step = 0; step < 24; step++) {
    const middle = (low + high) / 2;
    if (along(x1, x2, middle) < time) low = middle;
    else high = middle;
  }
  return along(y1, y2, (low + high) / 2);
}

/**
 * The transform at a share of the whole time. Keys that differ in place and size only, as positions of one board do, are
 * joined number by number.
 */
export function matrixAt(keys: readonly GlideKey[], time: number): Matrix | null {
  const at = keys.findLastIndex(({ offset }) => offset <= time);
  const [from, to] = [keys[Math.max(at, 0)], keys[at + 1]];
  if (!from) return null;
  if (!to || at < 0 || to.offset <= from.offset) return from.matrix;
  const share = (time - from.offset) / (to.offset - from.offset);
  const way = from.easing ? eased(from.easing, share) : share;
  const join = (index: 0 | 1 | 2 | 3 | 4 | 5): number =>
    from.matrix[index] + (to.matrix[index] - from.matrix[index]) * way;
  return [join(0), join(1), join(2), join(3), join(4), join(5)];
}

export const keyframesOf = (keys: readonly GlideKey[]): Keyframe[] =>
  keys.map(({ offset, matrix, easing }) => ({
    offset,
    transform: cssMatrix(matrix),
    ...(easing && { easing: `cubic-bezier(${easing.join(', ')})` }),
  }));

/** The share of the time before anything moves. */
export function waitOf(keys: readonly GlideKey[]): number {
  const [first] = keys;
  if (!first) return 0;
  const still = cssMatrix(first.matrix);
  const moved = keys.findIndex(({ matrix }) => cssMatrix(matrix) !== still);
  return keys[moved - 1]?.offset ?? 0;
}

/** Moves one element along keys, one way after the other without a jump. */
export class Glide {
  readonly #element: HTMLElement;
  #animation: Animation | null = null;
  #keys: readonly GlideKey[] = [];
  /** Milliseconds the keys take. */
  #duration = 0;
  /** Where the element rests when nothing moves it. */
  #rest: Matrix | null = null;

  constructor(element: HTMLElement) {
    this.#element = element;
  }

  /** Where it is seen now; null before it was ever put anywhere. */
  #seen(): Matrix | null {
    const time = this.#animation?.currentTime;
    if (this.#animation?.playState !== 'running' || typeof time !== 'number') return this.#rest;
    return matrixAt(this.#keys, time / this.#duration);
  }

  /** Puts it in place at once. */
  put(matrix: Matrix): void {
    this.#animation?.cancel();
    this.#animation = null;
    if (this.#rest && cssMatrix(this.#rest) === cssMatrix(matrix)) return;
    this.#rest = matrix;
    this.#element.style.transform = cssMatrix(matrix);
  }

  /**
   * Sends it along keys that take some seconds; it sets out from where it is seen now, and rests where they end. While it
   * waits for its first move nothing is animated, so that a hand that stays costs no picture.
   */
  send(keys: readonly GlideKey[], seconds: number): void {
    const seen = this.#seen();
    const end = keys.at(-1);
    if (!end) return;
    this.put(end.matrix);
    this.#duration = seconds * 1000;
    this.#keys = keys.map((key) => (key.offset === 0 && seen ? { ...key, matrix: seen } : key));
    const wait = waitOf(this.#keys);
    const moving = this.#keys
      .filter(({ offset }) => offset >= wait)
      .map((key) => ({ ...key, offset: (key.offset - wait) / (1 - wait) }));
    this.#animation = this.#element.animate(keyframesOf(moving), {
      delay: wait * this.#duration,
      duration: (1 - wait) * this.#duration,
      fill: 'backwards',
    });
  }
}
