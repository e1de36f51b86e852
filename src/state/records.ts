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

/** A study as it lies in the store. The envelope is unchecked until it passes the restore gate. */
export interface StudyRecord extends StudyEntry {
  /** Counts the saves; a save must name the revision it started from. */
  readonly revision: number;
  readonly envelope: Envelope;
  /** Missing in records of earlier versions. */
  readonly writer?: Writer;
}

/** A record that cannot be opened; it can be taken out as it is, and removed. */
export interface DamagedEntry {
  /** Where it lies: usually text, but whatever the database was given. */
  readonly key: unknown;
  readonly title: string;
  readonly reason: RestoreFault;
}

export type RecordReading =
  | { readonly ok: true; readonly record: StudyRecord }
  | { readonly ok: false; readonly damaged: DamagedEntry };

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
 * Reads one record. What can be put right is: a title is read from the chart, a date that is none becomes null, a count of
 * saves that is none begins again. Without a chart, or from a newer version, it is damaged.
 */
export function readRecord(raw: unknown): RecordReading {
  const fields = isObject(raw) ? raw : {};
  const { id, envelope } = fields;
  const fault = envelopeFault(envelope);
  const given = typeof fields.title === 'string' ? fields.title.slice(0, mostTitle) : null;
  if (fault !== null || typeof id !== 'string')
    return { ok: false, damaged: { key: id, title: given ?? '', reason: fault ?? 'not a study' } };
  const whole = envelope as StudyRecord['envelope'];
  const writer = writerOf(fields.writer);
  const { revision } = fields;
  const record: StudyRecord = {
    id,
    title: given ?? titleOf(String(whole.study.chartText)) ?? '',
    savedAt: timeOf(fields.savedAt),
    revision: typeof revision === 'number' && Number.isSafeInteger(revision) && revision > 0 ? revision : 0,
    envelope: whole,
    ...(writer ? { writer } : {}),
  };
  return { ok: true, record };
}

/** Studies, the latest first, and what cannot be opened. */
export interface StudyList {
  readonly entries: readonly StudyEntry[];
  readonly damaged: readonly DamagedEntry[];
}

export const latestFirst = (entries: readonly StudyEntry[]): readonly StudyEntry[] =>
  [...entries].sort((a, b) => (b.savedAt ?? -Infinity) - (a.savedAt ?? -Infinity));

/** Reads all records. Only what the list shows is kept of them. */
export function listOf(records: readonly unknown[]): StudyList {
  const readings = records.map(readRecord);
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
