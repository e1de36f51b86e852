// A shelf in memory: what the browser's database does, without a browser.
import type { Shelf } from '../../src/state/persistence';
import type { StudyRecord } from '../../src/state/records';

export interface MemoryShelf extends Shelf {
  readonly records: Map<unknown, unknown>;
  all(): Promise<readonly StudyRecord[]>;
}

export function memoryShelf(): MemoryShelf {
  const records = new Map<unknown, unknown>();
  return {
    records,
    all: () => Promise.resolve([...records.values()] as StudyRecord[]),
    get: (id) => Promise.resolve(records.get(id)),
    update: (id, decide) => {
      const next = decide(records.get(id));
      if (next) records.set(id, structuredClone(next));
      return Promise.resolve(next);
    },
    putBack: (raw) => {
      const { id } = raw as StudyRecord;
      const isFree = !records.has(id);
      if (isFree) records.set(id, raw);
      return Promise.resolve(isFree);
    },
    take: (key) => {
      const raw = records.get(key);
      records.delete(key);
      return Promise.resolve(raw);
    },
  };
}

/** The part of the browser's storage that a journal needs. */
export function memoryStorage(entries = new Map<string, string>()) {
  return {
    entries,
    getItem: (key: string) => entries.get(key) ?? null,
    setItem: (key: string, value: string): void => void entries.set(key, value),
    removeItem: (key: string): void => void entries.delete(key),
    key: (index: number) => [...entries.keys()][index] ?? null,
    get length() {
      return entries.size;
    },
  };
}
