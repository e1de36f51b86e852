// What was last given to be fingered, read back from what the device keeps: anything missing or wrong is at its default.
import * as v from 'valibot';
import {
  modes,
  noteName,
  parseKey,
  parseNoteName,
  practicalKeys,
  printKey,
  type NoteName,
} from '../../music';
import {
  givenFingers,
  givenLimits,
  parseMeter,
  patternDirections,
  patternFigures,
  patternReaches,
  patternScales,
  type PatternWish,
  type PrintedPlace,
} from '../../pipeline';

export const bothWaysSources = ['walk', 'pattern', 'own'] as const;
/** Where the notes come from that are fingered both ways. */
export type BothWaysSource = (typeof bothWaysSources)[number];

export interface BothWaysWish {
  readonly source: BothWaysSource;
  readonly pattern: PatternWish;
  /** Keeps scales and own lines out of half position, whatever the study says. */
  readonly withoutHalf: boolean;
  /** Notes of the player's own, as typed. */
  readonly own: string;
  /** Fingers and strings that the file of these notes had, note for note; none once the notes are typed over. */
  readonly ownPrinted: readonly PrintedPlace[];
  readonly ownTitle: string;
  /** As `parseKey` and `parseMeter` read them. */
  readonly ownKey: string;
  readonly ownMeter: string;
}

/** Characters of a title of one's own. */
export const mostTitle = 120;

/** B flat major, which every player asks about first. */
const firstScale: PatternWish = {
  tonic: noteName('Bb'),
  scale: patternScales[0]!.id,
  figure: 'scale',
  reach: 'one octave',
  direction: 'up and down',
};

export const defaultBothWays: BothWaysWish = {
  source: 'walk',
  pattern: firstScale,
  withoutHalf: false,
  own: '',
  ownPrinted: [],
  ownTitle: '',
  ownKey: 'C major',
  ownMeter: '4/4',
};

/** That scale without half position, in one act. */
export const firstPattern: Partial<BothWaysWish> = {
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

const printedPlace = v.object({
  string: v.nullable(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(8))),
  finger: v.nullable(v.picklist(givenFingers)),
  otherFingers: v.pipe(v.array(v.picklist(givenFingers)), v.maxLength(givenFingers.length)),
});

const schema = v.object({
  source: v.fallback(v.picklist(bothWaysSources), defaultBothWays.source),
  pattern: v.fallback(pattern, defaultBothWays.pattern),
  withoutHalf: v.fallback(v.boolean(), defaultBothWays.withoutHalf),
  own: v.fallback(v.pipe(v.string(), v.maxLength(givenLimits.characters)), defaultBothWays.own),
  ownPrinted: v.fallback(v.pipe(v.array(printedPlace), v.maxLength(givenLimits.notes)), [
    ...defaultBothWays.ownPrinted,
  ]),
  ownTitle: v.fallback(v.pipe(v.string(), v.maxLength(mostTitle)), defaultBothWays.ownTitle),
  ownKey: v.fallback(
    v.pipe(
      v.string(),
      v.check((text) => parseKey(text) !== undefined),
    ),
    defaultBothWays.ownKey,
  ),
  ownMeter: v.fallback(
    v.pipe(
      v.string(),
      v.check((text) => parseMeter(text) !== undefined),
    ),
    defaultBothWays.ownMeter,
  ),
});

export function readBothWays(kept: unknown): BothWaysWish {
  const result = v.safeParse(schema, kept);
  return result.success ? result.output : defaultBothWays;
}

/** Keys and meters that notes of one's own are offered. */
export const ownKeys: readonly string[] = modes.flatMap((mode) => practicalKeys(mode).map(printKey));
export const ownMeters: readonly string[] = ['4/4', '3/4', '2/4', '5/4', '6/4', '6/8', '12/8'];

/** What a pattern can be, in the order it is offered in. */
export const patternChoices = {
  figures: patternFigures,
  reaches: patternReaches,
  directions: patternDirections,
} as const;
export { patternScales };
