// The one gate through which a study comes back: from storage, a file or a link. Tolerant of what is missing, strict about
// what is wrong, and never a throw.
import * as v from 'valibot';
import {
  modes,
  parseNoteName,
  type Bpm,
  type Key,
  type Millimetres,
  type NoteName,
  type SoundingMidi,
} from '../music';
import { findInstrument, fingers, regions, type HandPosition, type StringNumber } from '../instrument';
import { endings, feels, type KeptBar, type Pin } from '../pipeline';
import { newStudy, studyDefaults, studyRange, type Study } from './document';
import { keptFromText, keptToText, mostKeptText } from './kept-text';
import { keepingRange } from './keeping';
import { fifthsOf } from './keys';
import { defaultSetup, setupSchema } from './setup';

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

type NumberRange = Readonly<Record<'least' | 'most', number>>;
const number = (range: NumberRange): v.GenericSchema<number> =>
  v.pipe(v.number(), v.minValue(range.least), v.maxValue(range.most));
const whole = (range: NumberRange): v.GenericSchema<number> => v.pipe(number(range), v.integer());

const tonic = v.pipe(
  v.string(),
  v.check((text) => parseNoteName(text) !== undefined),
  v.transform((text) => text as NoteName),
);
const key = v.pipe(
  v.object({ tonic, mode: v.picklist(modes) }),
  v.transform((parts): Key => ({ ...parts, fifths: fifthsOf(parts.tonic, parts.mode) })),
  v.check((made) => Math.abs(made.fifths) <= 7),
);
const positions = v.pipe(
  v.array(whole(studyRange.position)),
  v.maxLength(studyRange.position.most),
  v.transform((list) => [...new Set(list)].sort((a, b) => a - b) as HandPosition[]),
);
const branded = <Unit extends number>(schema: v.GenericSchema<number>): v.GenericSchema<number, Unit> =>
  v.pipe(
    schema,
    v.transform((value) => value as Unit),
  );

/** Moments and places a pin can name; wider than any bass, so that only nonsense is refused. */
const pinRange = {
  bar: { least: 1, most: 10_000 },
  beat: { least: 1, most: 32 },
  midi: { least: 0, most: 127 },
  string: { least: 1, most: 8 },
  // Below nought on an extension.
  stop: { least: -12, most: 36 },
  position: { least: -12, most: 24 },
} as const;
const heldPin = v.pipe(
  v.object({
    bar: whole(pinRange.bar),
    beat: number(pinRange.beat),
    midi: whole(pinRange.midi),
    string: whole(pinRange.string),
    stop: whole(pinRange.stop),
    finger: v.picklist(fingers),
    position: whole(pinRange.position),
  }),
  v.transform((held): Pin => ({
    ...held,
    midi: held.midi as SoundingMidi,
    string: held.string as StringNumber,
    position: held.position as HandPosition,
  })),
);
const rolePin = v.object({
  bar: whole(pinRange.bar),
  beat: number(pinRange.beat),
  role: v.picklist(['root', 'open', 'stopped']),
});
const pin: v.GenericSchema<unknown, Pin> = v.union([heldPin, rolePin]);

/** Kept notes in their short form; what of it is damaged is refused as a whole. */
const kept: v.GenericSchema<unknown, readonly KeptBar[]> = v.pipe(
  v.nullable(
    v.object({
      strings: v.record(v.string(), whole({ least: -24, most: 127 })),
      bars: v.pipe(v.string(), v.maxLength(mostKeptText)),
      marks: v.optional(v.array(v.pipe(v.string(), v.maxLength(1_000)))),
    }),
  ),
  v.transform((stored) => {
    if (stored === null) return [];
    const { marks, ...text } = stored;
    return keptFromText(marks === undefined ? text : { ...text, marks });
  }),
  v.check((bars) => bars !== undefined),
  v.transform((bars): readonly KeptBar[] => bars ?? []),
);
const star = v.object({
  name: v.pipe(v.string(), v.maxLength(keepingRange.starName.most)),
  seed: whole(studyRange.seed),
  kept,
});
const share = v.object({ region: v.picklist(regions), share: number(studyRange.share) });
const strings = v.pipe(
  v.array(whole(pinRange.string)),
  v.maxLength(pinRange.string.most),
  v.transform((list) => [...new Set(list)].sort((a, b) => a - b) as StringNumber[]),
);

const fields = {
  key: v.nullable(key),
  tempo: v.nullable(branded<Bpm>(number(studyRange.tempo))),
  choruses: whole(studyRange.choruses),
  instrument: v.pipe(
    v.string(),
    v.check((id) => findInstrument(id) !== undefined),
  ),
  stringLength: v.nullable(branded<Millimetres>(number(studyRange.stringLength))),
  span: branded<Millimetres>(number(studyRange.span)),
  setup: setupSchema,
  barred: positions,
  lowStay: v.optional(v.nullable(whole(studyRange.lowStay)), studyDefaults.lowStay),
  pins: v.optional(v.pipe(v.array(pin), v.maxLength(studyRange.pins.most)), []),
  comfort: v.optional(number(studyRange.comfort), studyDefaults.comfort),
  seed: whole(studyRange.seed),
  temperature: number(studyRange.temperature),
  feel: v.optional(v.nullable(v.picklist(feels)), studyDefaults.feel),
  density: v.optional(number(studyRange.density), studyDefaults.density),
  ending: v.optional(v.picklist(endings), studyDefaults.ending),
  barredStrings: v.optional(strings, []),
  lowest: v.optional(v.nullable(branded<SoundingMidi>(whole(studyRange.midi))), studyDefaults.lowest),
  highest: v.optional(v.nullable(branded<SoundingMidi>(whole(studyRange.midi))), studyDefaults.highest),
  highestStop: v.optional(v.nullable(whole(studyRange.stop)), studyDefaults.highestStop),
  relaxedOnly: v.optional(v.boolean(), studyDefaults.relaxedOnly),
  shares: v.optional(v.pipe(v.array(share), v.maxLength(regions.length)), []),
  kept: v.optional(kept, null),
  redraws: v.optional(whole(keepingRange.redraws), studyDefaults.redraws),
  stars: v.optional(v.pipe(v.array(star), v.maxLength(keepingRange.stars.most)), []),
};

/** Fields that may be missing: they came after version 1. Their usual values must never change. */
export const optionalFields = [
  'setup',
  'lowStay',
  'pins',
  'feel',
  'density',
  'ending',
  'barredStrings',
  'lowest',
  'highest',
  'highestStop',
  'relaxedOnly',
  'shares',
  'kept',
  'redraws',
  'stars',
] as const satisfies readonly (keyof typeof fields)[];

const envelopeSchema = v.object({
  format: v.literal(envelopeFormat),
  version: v.pipe(v.number(), v.integer(), v.minValue(1)),
  study: v.record(v.string(), v.unknown()),
});

const fault = (reason: RestoreFault): Restored => ({ ok: false, reason });

/** Wraps a study as plain data that can be stored, posted and written as JSON. */
export const envelop = (study: Study): Envelope => ({
  format: envelopeFormat,
  version: envelopeVersion,
  study: {
    ...study,
    key: study.key && { ...study.key },
    // A setup that nobody changed is left out: links stay short.
    setup: study.setup === defaultSetup ? undefined : { ...study.setup },
    barred: [...study.barred],
    pins: study.pins.map((held) => ({ ...held })),
    kept: keptToText(study.kept),
    stars: study.stars.map((one) => ({ ...one, kept: keptToText(one.kept) })),
  },
});

/**
 * Reads an envelope of any version ever written. A field that is missing or out of its range takes its default and is
 * named in `replaced`; without a chart, or from a newer version than this program knows, nothing is read.
 */
export function restore(input: unknown): Restored {
  const envelope = v.safeParse(envelopeSchema, input);
  if (!envelope.success) return fault('not a study');
  if (envelope.output.version > envelopeVersion) return fault('newer version');
  let raw: Record<string, unknown> = envelope.output.study;
  for (let version = envelope.output.version; version < envelopeVersion; version++) {
    raw = upgrades[version]?.(raw) ?? raw;
  }
  const { chartText } = raw;
  if (typeof chartText !== 'string') return fault('no chart');
  if (chartText.length > studyRange.chartText.most) return fault('too large');
  const replaced: string[] = [];
  const read = <Output>(
    name: keyof typeof fields,
    schema: v.GenericSchema<unknown, Output>,
    standard: Output,
  ): Output => {
    const result = v.safeParse(schema, raw[name]);
    if (result.success) return result.output;
    replaced.push(name);
    return standard;
  };
  const study = newStudy(chartText, {
    key: read('key', fields.key, studyDefaults.key),
    tempo: read('tempo', fields.tempo, studyDefaults.tempo),
    choruses: read('choruses', fields.choruses, studyDefaults.choruses),
    instrument: read('instrument', fields.instrument, studyDefaults.instrument),
    stringLength: read('stringLength', fields.stringLength, studyDefaults.stringLength),
    span: read('span', fields.span, studyDefaults.span),
    setup: read('setup', fields.setup, studyDefaults.setup),
    barred: read('barred', fields.barred, [...studyDefaults.barred]),
    lowStay: read('lowStay', fields.lowStay, studyDefaults.lowStay),
    pins: read('pins', fields.pins, [...studyDefaults.pins]),
    comfort: read('comfort', fields.comfort, studyDefaults.comfort),
    seed: read('seed', fields.seed, studyDefaults.seed),
    temperature: read('temperature', fields.temperature, studyDefaults.temperature),
    feel: read('feel', fields.feel, studyDefaults.feel),
    density: read('density', fields.density, studyDefaults.density),
    ending: read('ending', fields.ending, studyDefaults.ending),
    barredStrings: read('barredStrings', fields.barredStrings, [...studyDefaults.barredStrings]),
    lowest: read('lowest', fields.lowest, studyDefaults.lowest),
    highest: read('highest', fields.highest, studyDefaults.highest),
    highestStop: read('highestStop', fields.highestStop, studyDefaults.highestStop),
    relaxedOnly: read('relaxedOnly', fields.relaxedOnly, studyDefaults.relaxedOnly),
    shares: read('shares', fields.shares, [...studyDefaults.shares]),
    kept: read('kept', fields.kept, [...studyDefaults.kept]),
    redraws: read('redraws', fields.redraws, studyDefaults.redraws),
    stars: read('stars', fields.stars, [...studyDefaults.stars]),
  });
  return { ok: true, study, replaced };
}

/** Largest study file that is read, in characters. */
export const fileSizeLimit = 500_000;

/** Reads the text of a study file. */
export function restoreText(text: string): Restored {
  if (text.length > fileSizeLimit) return fault('too large');
  try {
    return restore(JSON.parse(text) as unknown);
  } catch {
    return fault('not a study');
  }
}

/** The text of a study file. */
export const studyFile = (study: Study): string => `${JSON.stringify(envelop(study), null, 2)}\n`;
