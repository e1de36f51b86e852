// The gate through which a night comes back: from storage, a file or a link. Its studies pass the gate of studies.
import * as v from 'valibot';
import type { NightWish } from '../../night';
import { regions } from '../../instrument';
import { envelopeFormat, restore } from '../envelope';
import { briefly, type LinkFault } from '../links';
import { fields } from '../study-schema';
import { fromBody, toBody } from '../link-body';
import { checksum, fromText, type Unpacked } from '../unpacked';
import type { NightFault } from '../night-faults';
import { emptySet, nightRange, usualBreak, type Night, type NightSet, type Tune } from './night';

export const nightFormat = 'ramble-night';
/** Version of what is written. Every version ever written stays readable. */
export const nightVersion = 1;

export interface NightEnvelope {
  readonly format: typeof nightFormat;
  readonly version: number;
  readonly night: Readonly<Record<string, unknown>>;
}

/** A night read back, with what had to be left out or at its usual value; or why nothing could be read. */
export type RestoredNight =
  | { readonly ok: true; readonly night: Night; readonly replaced: readonly string[] }
  | { readonly ok: false; readonly reason: NightFault };

const fault = (reason: NightFault): RestoredNight => ({ ok: false, reason });

const tuneOut = (tune: Tune): Record<string, unknown> => ({
  ...briefly(tune.study),
  source: tune.source && { ...tune.source },
  key: tune.key && { tonic: tune.key.tonic, mode: tune.key.mode },
  tempo: tune.tempo,
  choruses: tune.choruses,
  walked: tune.walked,
  feel: tune.feel,
  pinned: tune.pinned,
});

export const envelopNight = (night: Night): NightEnvelope => ({
  format: nightFormat,
  version: nightVersion,
  night: {
    title: night.title,
    start: night.start,
    between: night.between,
    sets: night.sets.map(({ tunes, breakAfter }) => ({ breakAfter, tunes: tunes.map(tuneOut) })),
    wishes: night.wishes.map((wish) => ({ ...wish })),
  },
});

const number = ({ least, most }: { least: number; most: number }): v.GenericSchema<number> =>
  v.pipe(v.number(), v.minValue(least), v.maxValue(most));
const whole = (range: { least: number; most: number }): v.GenericSchema<number> =>
  v.pipe(number(range), v.integer());

const envelopeSchema = v.object({
  format: v.literal(nightFormat),
  version: v.pipe(v.number(), v.integer(), v.minValue(1)),
  night: v.object({ sets: v.array(v.unknown()) }),
});

const parts = {
  title: v.pipe(v.string(), v.maxLength(nightRange.title.most)),
  start: v.nullable(whole(nightRange.start)),
  source: v.nullable(
    v.object({ id: v.pipe(v.string(), v.maxLength(200)), mark: v.pipe(v.string(), v.maxLength(20)) }),
  ),
  between: number(nightRange.between),
  choruses: whole(nightRange.choruses),
  walked: number(nightRange.walked),
  pinned: v.nullable(v.picklist(['first', 'last'])),
  breakAfter: whole(nightRange.breakAfter),
  wish: v.variant('kind', [
    v.object({
      kind: v.picklist(['most', 'least']),
      region: v.picklist(regions),
      minutes: number(nightRange.minutes),
    }),
    v.object({ kind: v.literal('stay'), seconds: number(nightRange.stay) }),
  ]),
} as const;

/** Reads values one by one, and writes down the names of those that took their usual value. */
class Reader {
  readonly replaced: string[] = [];
  read<Output>(
    name: string,
    schema: v.GenericSchema<unknown, Output>,
    value: unknown,
    usual: Output,
  ): Output {
    const result = v.safeParse(schema, value);
    if (result.success) return result.output;
    this.replaced.push(name);
    return usual;
  }
}

const asRecord = (value: unknown): Record<string, unknown> =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};

function readTune(input: unknown, reader: Reader): Tune | null {
  const raw = asRecord(input);
  const restored = restore({ format: envelopeFormat, version: raw['version'], study: raw['study'] });
  if (!restored.ok) {
    reader.replaced.push('tune');
    return null;
  }
  reader.replaced.push(...restored.replaced);
  const { study } = restored;
  return {
    study,
    source: reader.read('source', parts.source, raw['source'], null),
    key: reader.read('key', fields.key, raw['key'], study.key),
    tempo: reader.read('tempo', fields.tempo, raw['tempo'], study.tempo),
    choruses: reader.read('choruses', parts.choruses, raw['choruses'], study.choruses),
    walked: reader.read('walked', parts.walked, raw['walked'], 1),
    feel: reader.read('feel', v.nullable(fields.feel), raw['feel'], study.feel),
    pinned: reader.read('pinned', parts.pinned, raw['pinned'], null),
  };
}

function readSets(input: readonly unknown[], reader: Reader): readonly NightSet[] {
  let room: number = nightRange.tunes.most;
  const sets = input.slice(0, nightRange.sets.most).map((one): NightSet => {
    const raw = asRecord(one);
    const all: unknown[] = Array.isArray(raw['tunes']) ? raw['tunes'] : [];
    const taken = all.slice(0, room);
    room -= taken.length;
    if (taken.length < all.length) reader.replaced.push('tune');
    return {
      tunes: taken.flatMap((tune) => readTune(tune, reader) ?? []),
      breakAfter: reader.read('breakAfter', parts.breakAfter, raw['breakAfter'], usualBreak),
    };
  });
  if (input.length > sets.length) reader.replaced.push('set');
  return sets.length === 0 ? [emptySet] : sets;
}

function readWishes(input: unknown, reader: Reader): readonly NightWish[] {
  const wishes: NightWish[] = [];
  for (const one of Array.isArray(input) ? (input as unknown[]).slice(0, 20) : []) {
    const wish = reader.read<NightWish | null>('wish', parts.wish, one, null);
    const key = (of: NightWish): string => (of.kind === 'stay' ? of.kind : `${of.kind} ${of.region}`);
    if (wish && wishes.every((other) => key(other) !== key(wish))) wishes.push(wish);
  }
  return wishes;
}

/**
 * Reads an envelope of any version ever written. What is missing or out of its range takes its usual value, a tune whose
 * study cannot be read is left out, and both are named in `replaced`. Never throws.
 */
export function restoreNight(input: unknown): RestoredNight {
  const envelope = v.safeParse(envelopeSchema, input);
  if (!envelope.success) return fault('not a night');
  if (envelope.output.version > nightVersion) return fault('newer version');
  const raw = asRecord(asRecord(input)['night']);
  const reader = new Reader();
  const night: Night = {
    title: reader.read('title', parts.title, raw['title'], ''),
    start: reader.read('start', parts.start, raw['start'], null),
    // It came later: a night that says nothing of it goes on without a gap, as it did.
    between: raw['between'] === undefined ? 0 : reader.read('between', parts.between, raw['between'], 0),
    sets: readSets(envelope.output.night.sets, reader),
    wishes: readWishes(raw['wishes'], reader),
  };
  return { ok: true, night, replaced: [...new Set(reader.replaced)] };
}

/** Largest night file that is read, in characters: forty long charts. */
export const nightSizeLimit = 3_000_000;

const fromUnpacked = (unpacked: Unpacked): RestoredNight => {
  if (unpacked.ok) return restoreNight(unpacked.value);
  return fault(unpacked.reason === 'damaged' ? 'not a night' : unpacked.reason);
};

export const restoreNightText = (text: string): RestoredNight => fromUnpacked(fromText(text, nightSizeLimit));

/** The text of a night's file. */
export const nightFile = (night: Night): string => `${JSON.stringify(envelopNight(night), null, 2)}\n`;

/** Longest link that is opened, and most bytes it may inflate to. */
const mostLink = 200_000;
const mostBytes = 3_000_000;
const linkMark = 'n1';

/** The whole link, on the page it will open. It never leaves the browser: all of it is in the fragment. */
export function nightLink(night: Night, page: string): string {
  const body = toBody(envelopNight(night));
  return `${page.split('#')[0] ?? ''}#${linkMark}.${checksum(body)}.${body}`;
}

export type NightReading =
  | { readonly kind: 'none' }
  | RestoredNight
  | { readonly ok: false; readonly reason: Extract<LinkFault, 'cut'> };

/** True for the fragment of a link to a night, whole or not. */
export const isNightFragment = (fragment: string): boolean => /^#?n\d/.test(fragment);

/** Reads the fragment of an address; one that is not a night's is none and no fault. */
export function readNightFragment(fragment: string): NightReading {
  if (!isNightFragment(fragment)) return { kind: 'none' };
  if (fragment.length > mostLink) return fault('too large');
  const [, mark, sum = '', body = ''] = /^#?(n\d{1,4})\.([0-9a-z]{1,7})\.([\w-]*)$/.exec(fragment) ?? [];
  if (mark === undefined || checksum(body) !== sum) return { ok: false, reason: 'cut' };
  if (mark !== linkMark) return fault('newer version');
  return fromUnpacked(fromBody(body, mostBytes));
}
