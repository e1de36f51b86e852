import { describe, expect, it } from 'vitest';
import { newStudy } from '../../src/state/document';
import { envelop } from '../../src/state/envelope';
import { isOrphan, Journal, journalKey, mostEntryText, mostSilence } from '../../src/state/journal';
import { alone, livingPages, live, type PageLocks } from '../../src/state/pages';
import type { Version } from '../../src/state/persistence';
import { memoryStorage } from './memory-shelf';

const version = (id: string, text: string, step = 1): Version => ({
  id,
  base: 0,
  title: text,
  at: 1_000 + step,
  writer: { lineage: 'run', step },
  envelope: envelop(newStudy(text)),
});

describe('the journal', () => {
  it('gives another page what this one wrote, the latest first', () => {
    const storage = memoryStorage();
    const mine = new Journal(storage, 'a');
    expect(mine.keep(version('x', 'one', 1))).toBe(true);
    mine.keep(version('x', 'two', 2));
    mine.keep(version('y', 'three', 3));
    expect(mine.others()).toEqual([]);
    const found = new Journal(storage, 'b').others();
    expect(found.map(({ title, page, isLeft }) => [title, page, isLeft])).toEqual([
      ['three', 'a', false],
      ['two', 'a', false],
    ]);
    expect(found[1]).toMatchObject(JSON.parse(JSON.stringify(version('x', 'two', 2))) as object);
  });

  it('strikes out what lies in the store, but not what came after it', () => {
    const storage = memoryStorage();
    const journal = new Journal(storage, 'a');
    journal.keep(version('x', 'two', 2));
    journal.drop('x', 1);
    expect(storage.length).toBe(1);
    journal.drop('x', 2);
    expect(storage.length).toBe(0);
  });

  it('says when the browser keeps nothing', () => {
    const full = {
      ...memoryStorage(),
      setItem: (): void => {
        throw new DOMException('full', 'QuotaExceededError');
      },
    };
    expect(new Journal(full, 'a').keep(version('x', 'one'))).toBe(false);
    expect(new Journal(null, 'a').keep(version('x', 'one'))).toBe(false);
    expect(new Journal(null, 'a').others()).toEqual([]);
    const refusing = {
      ...memoryStorage(),
      get length(): number {
        throw new DOMException('no', 'SecurityError');
      },
    };
    expect(new Journal(refusing, 'a').others()).toEqual([]);
  });

  it('keeps the entry before when one is too large, and says so', () => {
    const storage = memoryStorage();
    const journal = new Journal(storage, 'a');
    journal.keep(version('x', 'small'));
    expect(journal.keep({ ...version('x', 'large', 2), title: 'x'.repeat(mostEntryText) })).toBe(false);
    expect(new Journal(storage, 'b').others()).toMatchObject([{ title: 'small' }]);
  });

  it('leaves alone what it cannot read', () => {
    const storage = memoryStorage(
      new Map([
        [`${journalKey}a.x`, '{"id":'],
        [`${journalKey}a.y`, '{"id":"y"}'],
        ['ramble.preferences', '{}'],
      ]),
    );
    const entry = { ...version('z', 'z'), page: 'a', isLeft: true };
    storage.setItem(`${journalKey}a.z`, JSON.stringify({ ...entry, at: 1e300 }));
    storage.setItem(`${journalKey}a.n`, JSON.stringify({ ...entry, envelope: { study: {} } }));
    expect(new Journal(storage, 'b').others()).toEqual([]);
    expect(storage.length).toBe(5);
  });

  it('marks its entries when the page is left, and hears on return what was taken over', () => {
    const storage = memoryStorage();
    const mine = new Journal(storage, 'a');
    const heir = new Journal(storage, 'b');
    mine.keep(version('x', 'one'));
    mine.keep(version('y', 'two'));
    mine.leave();
    expect(heir.others().every(({ isLeft }) => isLeft)).toBe(true);
    heir.strike(heir.others().find(({ id }) => id === 'x')!);
    expect(mine.comeBack()).toEqual(['x']);
    expect(heir.others()).toMatchObject([{ id: 'y', isLeft: false }]);
  });
});

describe('pages that live', () => {
  /** The browser's locks as far as pages use them. */
  function locks(): PageLocks & { end(name: string): void } {
    const held = new Set<string>();
    return {
      request: async (name, work) => {
        held.add(name);
        await work();
        held.delete(name);
      },
      query: () => Promise.resolve({ held: [...held].map((name) => ({ name })) }),
      end: (name) => void held.delete(name),
    };
  }
  const entry = { ...version('x', 'one'), page: 'a', isLeft: false };

  it('keep what they wrote to themselves until they are gone', async () => {
    const pages = locks();
    live(pages, 'a');
    expect(isOrphan(entry, await livingPages(pages), 0)).toBe(false);
    expect(isOrphan({ ...entry, isLeft: true }, await livingPages(pages), 0)).toBe(true);
    pages.end('ramble.page.a');
    expect(isOrphan(entry, await livingPages(pages), 0)).toBe(true);
  });

  it('are told by their silence where the browser has no locks', async () => {
    const living = await livingPages(null);
    expect(living).toBeNull();
    expect(isOrphan(entry, living, entry.at + mostSilence)).toBe(false);
    expect(isOrphan(entry, living, entry.at + mostSilence + 1)).toBe(true);
    const refusing: PageLocks = {
      request: () => Promise.reject(new DOMException('no', 'SecurityError')),
      query: () => Promise.reject(new DOMException('no', 'SecurityError')),
    };
    expect(await livingPages(refusing)).toBeNull();
  });

  it('do their work once, with locks and without', async () => {
    const refusing: PageLocks = { ...locks(), request: () => Promise.reject(new Error('no')) };
    for (const some of [null, locks(), refusing]) {
      let count = 0;
      await alone(some, () => void count++);
      expect(count).toBe(1);
    }
  });
});
