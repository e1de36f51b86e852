// What lies on the bench, read back from what the device keeps: anything missing or wrong is at its default.
import * as v from 'valibot';
import { noteName, parseNoteName, type NoteName } from '../../music';
import {
  givenLimits,
  patternDirections,
  patternFigures,
  patternReaches,
  patternScales,
  type PatternWish,
} from '../../pipeline';

export const benchSources = ['walk', 'pattern', 'own'] as const;
/** Where the notes come from that are fingered both ways. */
export type BenchSource = (typeof benchSources)[number];

export interface BenchWish {
  readonly source: BenchSource;
  readonly pattern: PatternWish;
  /** Keeps scales and own lines out of half position, whatever the study says. */
  readonly withoutHalf: boolean;
  /** Notes of the player's own, as typed. */
  readonly own: string;
}

/** B flat major, which every player asks about first. */
const firstScale: PatternWish = {
  tonic: noteName('Bb'),
  scale: patternScales[0]!.id,
  figure: 'scale',
  reach: 'one octave',
  direction: 'up and down',
};

export const defaultBench: BenchWish = {
  source: 'walk',
  pattern: firstScale,
  withoutHalf: false,
  own: '',
};

/** That scale without half position, in one act. */
export const firstPattern: Partial<BenchWish> = {
  source: 'pattern',
  pattern: firstScale,
  withoutHalf: true,
};

export const patternTonics: readonly NoteName[] = (
  ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'F#', 'B', 'E', 'A', 'D', 'G'] as const
).map(noteName);

const pattern = v.object({
  tonic: v.pipe(
    v.string(),
    v.check((text) => parseNoteName(text) !== undefined),
    v.transform((text) => noteName(text)),
  ),
  scale: v.picklist(patternScales.map(({ id }) => id)),
  figure: v.picklist(patternFigures),
  reach: v.picklist(patternReaches),
  direction: v.picklist(patternDirections),
});

const schema = v.object({
  source: v.fallback(v.picklist(benchSources), defaultBench.source),
  pattern: v.fallback(pattern, defaultBench.pattern),
  withoutHalf: v.fallback(v.boolean(), defaultBench.withoutHalf),
  own: v.fallback(v.pipe(v.string(), v.maxLength(givenLimits.characters)), defaultBench.own),
});

export function readBench(kept: unknown): BenchWish {
  const result = v.safeParse(schema, kept);
  return result.success ? result.output : defaultBench;
}

/** What a pattern can be, in the order it is offered in. */
export const patternChoices = {
  figures: patternFigures,
  reaches: patternReaches,
  directions: patternDirections,
} as const;
export { patternScales };
