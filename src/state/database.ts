// The browser's database as a shelf. A browser that refuses it, or never answers, gets a shelf in memory instead.
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { Envelope } from './envelope';
import { memoryShelf, type Shelf, type Stored, type StudyRecord } from './persistence';

interface Schema<Kept extends Stored = Envelope> extends DBSchema {
  studies: { key: string; value: StudyRecord<Kept> };
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

function databaseShelf<Kept extends Stored>(database: IDBPDatabase<Schema<Kept>>): Shelf<Kept> {
  const timed = <Value>(promise: Promise<Value>): Promise<Value> => inTime(promise, answerTime);
  return {
    kind: 'database',
    all: () => timed(database.getAll('studies')),
    get: (id) => timed(database.get('studies', id)),
    update: (id, decide) => {
      const write = async (): Promise<StudyRecord<Kept> | null> => {
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

type Open<Kept extends Stored> = () => Promise<IDBPDatabase<Schema<Kept>>>;

/** Opens a database by its name; nights have one of their own, so that neither's layout binds the other's. */
export const openNamed =
  <Kept extends Stored = Envelope>(name: string): Open<Kept> =>
  () =>
    openDB<Schema<Kept>>(name, 1, {
      upgrade: (database) => {
        database.createObjectStore('studies', { keyPath: 'id' });
      },
      // Another tab wants a newer layout: let go, so that it is not kept waiting.
      blocking: (_current, _blocked, event) => {
        (event.target as IDBDatabase).close();
      },
    });

/** Opens the shelf in the browser's database, or one in memory when that fails or takes longer than `answerTime`. */
export async function openShelf<Kept extends Stored = Envelope>(
  open: Open<Kept> = openNamed('ramble'),
): Promise<Shelf<Kept>> {
  try {
    return databaseShelf(await inTime(open(), answerTime));
  } catch {
    return memoryShelf();
  }
}
