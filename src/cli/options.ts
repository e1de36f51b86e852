// Values of options, checked: what is wrong with one is said in a sentence.
import { bpm, parseKey, tempoRange, type Bpm, type Key } from '../music';
import { parsePosition, type HandPosition } from '../instrument';

export const largestSeed = 0xffffffff;

/** Wrong usage; the message says what is wrong. */
export class UsageError extends Error {}

export function numberOption(
  text: string | undefined,
  fallback: number,
  name: string,
  least: number,
  most: number,
): number {
  if (text === undefined) return fallback;
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value) || value < least || value > most) {
    throw new UsageError(`--${name} takes a number from ${least} to ${most}, not "${text}"`);
  }
  return value;
}

export function wholeOption(
  text: string | undefined,
  fallback: number,
  name: string,
  least: number,
  most: number,
): number {
  const value = numberOption(text, fallback, name, least, most);
  if (!Number.isInteger(value)) throw new UsageError(`--${name} takes a whole number, not "${text}"`);
  return value;
}

export function oneOf<T extends string>(
  text: string | undefined,
  allowed: readonly T[],
  fallback: T,
  name: string,
): T {
  if (text === undefined) return fallback;
  const found = allowed.find((one) => one === text);
  if (found === undefined) throw new UsageError(`--${name} takes ${allowed.join(', ')}, not "${text}"`);
  return found;
}

/** Null where none is given. */
export const tempoOption = (text: string | undefined): Bpm | null =>
  text === undefined ? null : bpm(numberOption(text, 0, 'tempo', tempoRange.least, tempoRange.most));

export function keyOption(text: string | undefined): Key | null {
  if (text === undefined) return null;
  const key = parseKey(text);
  if (!key) throw new UsageError(`--key takes a key such as F, Bb or "C minor", not "${text}"`);
  return key;
}

export function avoidOption(text: string | undefined): HandPosition[] {
  if (text === undefined) return [];
  return text.split(',').map((name) => {
    const position = parsePosition(name);
    if (position === undefined) {
      throw new UsageError(
        `--avoid takes positions such as half, I, II½ or III, with commas between, not "${name.trim()}"`,
      );
    }
    return position;
  });
}

/** A parsed wish, or the sentence that says what is wrong with it. */
export function orUsage<T>(parsed: T | string): T {
  if (typeof parsed === 'string') throw new UsageError(parsed);
  return parsed;
}

export function onlyChart(positionals: readonly string[]): string {
  const [chart, ...more] = positionals;
  if (chart === undefined) throw new UsageError('of what? Give a file, or - for standard input');
  if (more.length > 0) throw new UsageError(`one at a time, not also "${more[0]}"`);
  return chart;
}
