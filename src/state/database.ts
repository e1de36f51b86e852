// The browser's database as a shelf. A connection that is lost is opened again with the next use.
import { openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction } from 'idb';
import type { Shelf } from './persistence';
import type { StoredRecord } from './records';

interface Schema extends DBSchema {
  studies: { key: string; value: StoredRecord };
}

/** After so many milliseconds without an answer the storage is called slow. It is waited for all the same. */
export const answerTime = 3_000;

/** Rejects when a promise has not settled in time. */
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

/** Opens a connection; `onlost` is called when it can no longer be used. */
export type OpenConnection = (onlost: () => void) => Promise<IDBPDatabase<Schema>>;

/** Opens a database by its name; nights have one of their own, so that neither's layout binds the other's. */
export const openNamed =
  (name: string): OpenConnection =>
  (onlost) =>
    openDB<Schema>(name, 1, {
      upgrade: (database) => {
        database.createObjectStore('studies', { keyPath: 'id' });
      },
      // Another tab wants a newer layout: let go, so that it is not kept waiting.
      blocking: (_current, _blocked, event) => {
        (event.target as IDBDatabase).close();
        onlost();
      },
      // Somebody cleared the browser's data, or the browser gave up.
      terminated: onlost,
    });

const nameOf = (error: unknown): string => (error instanceof Error ? error.name : '');

/** A connection that was closed says so when a transaction is begun: nothing has been done then. */
const isClosed = (error: unknown): boolean => nameOf(error) === 'InvalidStateError';

/** A transaction to write in. What breaks it is told by its requests, too, so its end need not be heard of. */
function writing(database: IDBPDatabase<Schema>): IDBPTransaction<Schema, ['studies'], 'readwrite'> {
  const transaction = database.transaction('studies', 'readwrite');
  transaction.done.catch(() => undefined);
  return transaction;
}

interface Connection {
  connect(): Promise<IDBPDatabase<Schema>>;
  /** Runs on the connection, once more on a new one when it turns out to be closed. */
  use<Value>(run: (database: IDBPDatabase<Schema>) => Promise<Value>): Promise<Value>;
}

function connected(open: OpenConnection): Connection {
  let connection: Promise<IDBPDatabase<Schema>> | null = null;
  const connect = (): Promise<IDBPDatabase<Schema>> => {
    if (connection) return connection;
    const forget = (): void => {
      if (connection === opening) connection = null;
    };
    const opening: Promise<IDBPDatabase<Schema>> = (async () => open(forget))();
    connection = opening;
    opening.catch(forget);
    return opening;
  };
  return {
    connect,
    use: async <Value>(run: (database: IDBPDatabase<Schema>) => Promise<Value>): Promise<Value> => {
      const opening = connect();
      try {
        return await run(await opening);
      } catch (error) {
        // Whatever broke may be the connection: the next use opens another.
        if (connection === opening && nameOf(error) !== 'QuotaExceededError') {
          connection = null;
          opening.then((database) => database.close()).catch(() => undefined);
        }
        if (!isClosed(error)) throw error;
        return run(await connect());
      }
    },
  };
}

/** Opens the shelf in the browser's database. Rejects when the browser refuses; waits for as long as it takes. */
export async function openShelf(open: OpenConnection = openNamed('ramble')): Promise<Shelf> {
  const { connect, use } = connected(open);
  await connect();
  return {
    all: () => use((database) => database.getAll('studies')),
    get: (id) => use((database) => database.get('studies', id)),
    update: (id, decide) =>
      use(async (database) => {
        const transaction = writing(database);
        const next = decide(await transaction.store.get(id));
        if (next) await transaction.store.put(next);
        await transaction.done;
        return next;
      }),
    putBack: (raw) =>
      use(async (database) => {
        const record = raw as StoredRecord;
        const transaction = writing(database);
        const isFree = (await transaction.store.getKey(record.id)) === undefined;
        if (isFree) await transaction.store.put(record);
        await transaction.done;
        return isFree;
      }),
    take: (key) =>
      use(async (database) => {
        const transaction = writing(database);
        const raw = await transaction.store.get(key as string);
        if (raw !== undefined) await transaction.store.delete(key as string);
        await transaction.done;
        return raw;
      }),
  };
}
