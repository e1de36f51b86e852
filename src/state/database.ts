// The browser's database as a shelf. A browser that refuses it, or never answers, gets a shelf in memory instead.
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import { memoryShelf, type Shelf, type StudyRecord } from './persistence';

interface Schema extends DBSchema {
  studies: { key: string; value: StudyRecord };
}

/** How long the browser may take to answer before memory takes over. */
export const answerTime = 3_000;

/** Rejects when a promise has not settled in time: some private windows never answer. */
export function inTime<Value>(promise: Promise<Value>, milliseconds: number): Promise<Value> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => {
      reject(new Error('no answer in time'));
    }, milliseconds);
    promise.then(resolve, reject).finally(() => {
      clearTimeout(timer);
    });
  });
}

function databaseShelf(database: IDBPDatabase<Schema>): Shelf {
  const timed = <Value>(promise: Promise<Value>): Promise<Value> => inTime(promise, answerTime);
  return {
    kind: 'database',
    all: () => timed(database.getAll('studies')),
    get: (id) => timed(database.get('studies', id)),
    update: (id, decide) => {
      const write = async (): Promise<StudyRecord | null> => {
        const transaction = database.transaction('studies', 'readwrite');
        const next = decide(await transaction.store.get(id));
        if (next) await transaction.store.put(next);
        await transaction.done;
        return next;
      };
      return timed(write());
    },
    remove: (id) => timed(database.delete('studies', id)),
  };
}

type Open = () => Promise<IDBPDatabase<Schema>>;

const openStudies: Open = () =>
  openDB<Schema>('ramble', 1, {
    upgrade: (database) => {
      database.createObjectStore('studies', { keyPath: 'id' });
    },
    // Another tab wants a newer layout: let go, so that it is not kept waiting.
    blocking: (_current, _blocked, event) => {
      (event.target as IDBDatabase).close();
    },
  });

/** Opens the shelf in the browser's database, or one in memory when that fails or takes longer than `answerTime`. */
export async function openShelf(open: Open = openStudies): Promise<Shelf> {
  try {
    return databaseShelf(await inTime(open(), answerTime));
  } catch {
    return memoryShelf();
  }
}
