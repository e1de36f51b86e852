import { describe, expect, it, vi } from 'vitest';
import { inTime, openShelf, type OpenConnection } from '../../src/state/database';
import { newStudy } from '../../src/state/document';
import { envelop } from '../../src/state/envelope';
import type { StudyRecord } from '../../src/state/records';

const record = (id: string): StudyRecord => ({
  id,
  title: id,
  savedAt: 1,
  revision: 1,
  envelope: envelop(newStudy('| C |')),
});

/** A browser's database as far as the shelf asks it; its connections can be closed from outside. */
function browser() {
  const records = new Map<string, StudyRecord>();
  const connections: { close: () => void; onlost: () => void }[] = [];
  const open: OpenConnection = (onlost) => {
    let isOpen = true;
    const check = (): void => {
      if (!isOpen) throw new DOMException('The database connection is closing.', 'InvalidStateError');
    };
    const close = (): void => void (isOpen = false);
    connections.push({ close, onlost });
    const asked = <Value>(answer: () => Value): Promise<Value> => Promise.resolve().then(answer);
    const store = {
      get: (id: string) => asked(() => records.get(id)),
      getKey: (id: string) => asked(() => (records.has(id) ? id : undefined)),
      put: (one: StudyRecord) => asked(() => void records.set(one.id, one)),
      delete: (id: string) => asked(() => void records.delete(id)),
    };
    const database = {
      close,
      getAll: () => asked(() => (check(), [...records.values()])),
      get: (_name: string, id: string) => asked(() => (check(), records.get(id))),
      transaction: () => {
        check();
        return { store, done: Promise.resolve() };
      },
    };
    return Promise.resolve(database as unknown as Awaited<ReturnType<OpenConnection>>);
  };
  return { records, connections, open };
}

describe('the database', () => {
  it('keeps, gives, takes and puts back', async () => {
    const { open, records } = browser();
    const shelf = await openShelf(open);
    expect(await shelf.update('a', () => record('a'))).toEqual(record('a'));
    expect(await shelf.update('a', () => null)).toBeNull();
    expect(await shelf.all()).toEqual([record('a')]);
    const raw = await shelf.take('a');
    expect(records.size).toBe(0);
    expect(await shelf.putBack(raw)).toBe(true);
    expect(await shelf.putBack(raw)).toBe(false);
    expect(await shelf.get('a')).toEqual(record('a'));
  });

  it.each(['closed by the browser', 'cleared', 'found closed'])(
    'is opened again when the connection is lost: %s',
    async (how) => {
      const { open, connections, records } = browser();
      const shelf = await openShelf(open);
      await shelf.update('a', () => record('a'));
      connections[0]!.close();
      if (how !== 'found closed') connections[0]!.onlost();
      if (how === 'cleared') records.clear();
      await shelf.update('b', () => record('b'));
      expect(await shelf.get('b')).toEqual(record('b'));
      expect(connections).toHaveLength(2);
    },
  );

  it('opens another connection after one that broke, and does not do twice what may have been done', async () => {
    const { open, connections } = browser();
    let isBroken = false;
    const shelf = await openShelf(async (onlost) => {
      const database = await open(onlost);
      const transaction = database.transaction.bind(database) as unknown;
      const breaking = () => {
        if (isBroken) throw new DOMException('Internal error', 'UnknownError');
        return (transaction as () => unknown)();
      };
      return { ...database, transaction: breaking } as unknown as typeof database;
    });
    isBroken = true;
    const decide = vi.fn(() => record('a'));
    await expect(shelf.update('a', decide)).rejects.toThrow('Internal error');
    expect(decide).not.toHaveBeenCalled();
    isBroken = false;
    expect(await shelf.update('a', decide)).toEqual(record('a'));
    expect(connections).toHaveLength(2);
  });

  it('is refused when the browser refuses, and waits for as long as it takes', async () => {
    const refuse = (): never => {
      throw new DOMException('private window', 'SecurityError');
    };
    await expect(openShelf(refuse)).rejects.toThrow('private window');
    await expect(openShelf(() => Promise.reject(new Error('broken')))).rejects.toThrow('broken');
    vi.useFakeTimers();
    let isSettled = false;
    void openShelf(() => new Promise(() => undefined)).finally(() => (isSettled = true));
    await vi.advanceTimersByTimeAsync(3_600_000);
    expect(isSettled).toBe(false);
    vi.useRealTimers();
  });

  it('passes an answer in time through', async () => {
    await expect(inTime(Promise.resolve(7), 10)).resolves.toBe(7);
    await expect(inTime(Promise.reject(new Error('no')), 10)).rejects.toThrow('no');
    vi.useFakeTimers();
    const late = inTime(new Promise(() => undefined), 10);
    const told = expect(late).rejects.toThrow('no answer in time');
    await vi.advanceTimersByTimeAsync(10);
    await told;
    expect(vi.getTimerCount()).toBe(0);
    vi.useRealTimers();
  });
});
