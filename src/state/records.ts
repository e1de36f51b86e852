// The gate for records as they come out of the browser's database: one that is damaged never keeps the others from being
// read.
import { envelopeFault, type Envelope, type RestoreFault } from './envelope';
import { titleOf } from './titles';

/** What the list of studies shows. */
export interface StudyEntry {
  readonly id: string;
  readonly title: string;
  /** Milliseconds since 1970; null when the record holds no date. */
  readonly savedAt: number | null;
}

/**
 * Who wrote a version: one run of edits, which a page begins and the page after a reload carries on, and how many it made.
 * Whoever finds a version of its own run in the store has seen all that led to it.
 */
export interface Writer {
  readonly lineage: string;
  readonly step: number;
}

/** A piece of work as it lies in the store. The envelope is unchecked until it passes the restore gate of its kind. */
export interface StoredRecord<Kept extends object = object> extends StudyEntry {
  /** Counts the saves; a save must name the revision it started from. */
  readonly revision: number;
  readonly envelope: Kept;
  /** Missing in records of earlier versions. */
  readonly writer?: Writer;
}

export type StudyRecord = StoredRecord<Envelope>;

/** A record that cannot be opened; it can be taken out as it is, and removed. */
export interface DamagedEntry {
  /** Where it lies: usually text, but whatever the database was given. */
  readonly key: unknown;
  readonly title: string;
  readonly reason: RestoreFault;
}

export type RecordReading<Kept extends object = Envelope> =
  | { readonly ok: true; readonly record: StoredRecord<Kept> }
  | { readonly ok: false; readonly damaged: DamagedEntry };

/** One kind of work that is stored. */
export interface RecordKind<Kept extends object> {
  /** Why an envelope cannot be read; null when it is one. */
  readonly faultOf: (envelope: unknown) => RestoreFault | null;
  /** What work is called whose record has no title. */
  readonly titleOf: (envelope: Kept) => string;
}

const mostTitle = 300;
/** The largest distance from 1970 that a date can have, in milliseconds (ECMA-262, time values). */
const mostTime = 8.64e15;

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null;

/** A time that can be shown as a date; null for anything else. */
export const timeOf = (value: unknown): number | null =>
  typeof value === 'number' && Math.abs(value) <= mostTime ? value : null;

function writerOf(value: unknown): Writer | undefined {
  if (!isObject(value)) return undefined;
  const { lineage, step } = value;
  return typeof lineage === 'string' && typeof step === 'number' ? { lineage, step } : undefined;
}

/**
 * Reads one record of a kind. What can be put right is: a title is read from the work, a date that is none becomes null, a
 * count of saves that is none begins again. Where the kind finds a fault it is damaged.
 */
export function readAs<Kept extends object>(raw: unknown, kind: RecordKind<Kept>): RecordReading<Kept> {
  const fields = isObject(raw) ? raw : {};
  const { id, envelope } = fields;
  const fault = kind.faultOf(envelope);
  const given = typeof fields.title === 'string' ? fields.title.slice(0, mostTitle) : null;
  if (fault !== null || typeof id !== 'string')
    return { ok: false, damaged: { key: id, title: given ?? '', reason: fault ?? 'not a study' } };
  const whole = envelope as Kept;
  const writer = writerOf(fields.writer);
  const { revision } = fields;
  const record: StoredRecord<Kept> = {
    id,
    title: given ?? kind.titleOf(whole),
    savedAt: timeOf(fields.savedAt),
    revision: typeof revision === 'number' && Number.isSafeInteger(revision) && revision > 0 ? revision : 0,
    envelope: whole,
    ...(writer ? { writer } : {}),
  };
  return { ok: true, record };
}

const studies: RecordKind<Envelope> = {
  faultOf: envelopeFault,
  titleOf: ({ study }) => titleOf(String(study.chartText)) ?? '',
};

/** Reads the record of a study. Without a chart, or from a newer version, it is damaged. */
export const readRecord = (raw: unknown): RecordReading => readAs(raw, studies);

/** Studies, the latest first, and what cannot be opened. */
export interface StudyList {
  readonly entries: readonly StudyEntry[];
  readonly damaged: readonly DamagedEntry[];
}

export const latestFirst = (entries: readonly StudyEntry[]): readonly StudyEntry[] =>
  [...entries].sort((a, b) => (b.savedAt ?? -Infinity) - (a.savedAt ?? -Infinity));

/** Reads all records. Only what the list shows is kept of them. */
export function listOf(
  records: readonly unknown[],
  read: (raw: unknown) => RecordReading<object> = readRecord,
): StudyList {
  const readings = records.map((raw) => read(raw));
  return {
    entries: latestFirst(
      readings.flatMap((reading) => {
        if (!reading.ok) return [];
        const { id, title, savedAt } = reading.record;
        return [{ id, title, savedAt }];
      }),
    ),
    damaged: readings.flatMap((reading) => (reading.ok ? [] : [reading.damaged])),
  };
}

/** A record as text, whatever is in it. */
export function recordText(raw: unknown): string {
  try {
    const plain = (_name: string, value: unknown): unknown =>
      typeof value === 'bigint' ? String(value) : value;
    return `${JSON.stringify(raw, plain, 2)}\n`;
  } catch {
    return `${String(raw)}\n`;
  }
}
