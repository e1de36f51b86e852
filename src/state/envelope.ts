// The one gate through which a study comes back: from storage, a file or a link. Tolerant of what is missing, strict about
// what is wrong, and never a throw.
import * as v from 'valibot';
import { optionalPlainNames, type OwnLine } from '../pipeline';
import { newStudy, studyDefaults, studyRange, type Study } from './document';
import { keptToText } from './kept-text';
import { ownToText } from './own-text';
import { defaultSetup } from './setup';
import { fields } from './study-schema';
import { fromText } from './unpacked';

/** Marks a file or record as ours. */
export const envelopeFormat = 'ramble-study';
/** Version of what is written. Every version ever written stays readable: see `upgrades`. */
export const envelopeVersion = 2;

/** A study as it is stored, sent and saved to a file. */
export interface Envelope {
  readonly format: typeof envelopeFormat;
  readonly version: number;
  readonly study: Readonly<Record<string, unknown>>;
}

/** A study read back, with what had to be left at its default; or why nothing could be read. */
export type Restored =
  | { readonly ok: true; readonly study: Study; readonly replaced: readonly string[] }
  | { readonly ok: false; readonly reason: RestoreFault };

export const restoreFaults = ['not a study', 'newer version', 'no chart', 'too large'] as const;
export type RestoreFault = (typeof restoreFaults)[number];

/** Rewrites the fields of a version into those of the next, keyed by the version it starts from. */
const upgrades: Readonly<Record<number, (study: Record<string, unknown>) => Record<string, unknown>>> = {
  // Kept notes, starred takes and limits beyond positions and stays came with version 2.
  1: (study) => ({ ...study, kept: null, stars: [], redraws: 0 }),
};

/** Fields that may be missing: they came after version 1. Their usual values must never change. */
export const optionalFields: readonly (keyof typeof fields)[] = [
  ...optionalPlainNames,
  'setup',
  'pins',
  'barredStrings',
  'shares',
  'shapes',
  'heights',
  'kept',
  'redraws',
  'stars',
  'lesson',
  'own',
];

const envelopeSchema = v.object({
  format: v.literal(envelopeFormat),
  version: v.pipe(v.number(), v.integer(), v.minValue(1)),
  study: v.record(v.string(), v.unknown()),
});

const fault = (reason: RestoreFault): Restored => ({ ok: false, reason });

const ownText = ({ notes, fingering }: OwnLine): Record<string, string> => ({
  notes: ownToText(notes),
  fingering,
});

/** Wraps a study as plain data that can be stored, posted and written as JSON. */
export const envelop = (study: Study): Envelope => ({
  format: envelopeFormat,
  version: envelopeVersion,
  study: {
    ...study,
    key: study.key && { ...study.key },
    // A setup that nobody changed is left out: links stay short.
    setup: study.setup === defaultSetup ? undefined : { ...study.setup },
    lesson: study.lesson && { ...study.lesson },
    own: study.own && ownText(study.own),
    barred: [...study.barred],
    pins: study.pins.map((held) => ({ ...held })),
    kept: keptToText(study.kept),
    stars: study.stars.map(({ own, ...one }) => ({
      ...one,
      kept: keptToText(one.kept),
      ...(own ? { own: ownText(own) } : {}),
    })),
  },
});

/** Whether anything can be read from an envelope: null when it can, else why not. Its single fields are not looked at. */
export function envelopeFault(input: unknown): RestoreFault | null {
  const envelope = v.safeParse(envelopeSchema, input);
  if (!envelope.success) return 'not a study';
  if (envelope.output.version > envelopeVersion) return 'newer version';
  const { chartText } = envelope.output.study;
  if (typeof chartText !== 'string') return 'no chart';
  return chartText.length > studyRange.chartText.most ? 'too large' : null;
}

/**
 * Reads an envelope of any version ever written. A field that is missing or out of its range takes its default and is
 * named in `replaced`; without a chart, or from a newer version than this program knows, nothing is read.
 */
export function restore(input: unknown): Restored {
  const reason = envelopeFault(input);
  if (reason !== null) return fault(reason);
  const envelope = input as Envelope;
  let raw: Record<string, unknown> = envelope.study;
  for (let { version } = envelope; version < envelopeVersion; version++) {
    raw = upgrades[version]?.(raw) ?? raw;
  }
  const chartText = raw.chartText as string;
  const replaced: string[] = [];
  const names = Object.keys(fields) as (keyof typeof fields)[];
  const values = names.map((name) => {
    const result = v.safeParse<v.GenericSchema<unknown, unknown>>(fields[name], raw[name]);
    if (!result.success) replaced.push(name);
    return [name, result.success ? result.output : studyDefaults[name]];
  });
  const study = newStudy(chartText, Object.fromEntries(values) as Pick<Study, keyof typeof fields>);
  return { ok: true, study, replaced };
}

/** Largest study file that is read, in characters. */
export const fileSizeLimit = 500_000;

/** Reads the text of a study file. */
export function restoreText(text: string): Restored {
  const unpacked = fromText(text, fileSizeLimit);
  if (unpacked.ok) return restore(unpacked.value);
  return fault(unpacked.reason === 'damaged' ? 'not a study' : unpacked.reason);
}

/** The text of a study file. */
export const studyFile = (study: Study): string => `${JSON.stringify(envelop(study), null, 2)}\n`;
