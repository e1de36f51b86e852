import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { newStudy } from '../../src/state/document';
import { envelop } from '../../src/state/envelope';
import { answerTime, inTime, openShelf } from '../../src/state/database';
import { memoryShelf, StudyStore, type Shelf } from '../../src/state/persistence';
import { defaultPreferences, loadPreferences, savePreferences } from '../../src/state/preferences';

let count = 0;
const store = (shelf: Shelf): StudyStore =>
  new StudyStore(shelf, { now: () => ++count, newId: () => `id-${++count}` });
const envelope = (text: string) => envelop(newStudy(text));

describe('saving', () => {
  it('counts revisions and lists the latest first', async () => {
    const studies = store(memoryShelf());
    const first = await studies.save(null, 'One', envelope('a'));
    if (first.kind !== 'saved') throw new Error('not saved');
    await studies.save(null, 'Two', envelope('b'));
    const again = await studies.save(first.record, 'One again', envelope('c'));
    expect(again).toMatchObject({ kind: 'saved', record: { id: first.record.id, revision: 2 } });
    expect((await studies.list()).map((entry) => entry.title)).toEqual(['One again', 'Two']);
    expect((await studies.load(first.record.id))?.envelope.study.chartText).toBe('c');
  });

  it('keeps both works when two tabs edit one study', async () => {
    const shelf = memoryShelf();
    const [tabA, tabB] = [store(shelf), store(shelf)];
    const opened = await tabA.save(null, 'Blues', envelope('start'));
    if (opened.kind !== 'saved') throw new Error('not saved');
    const fromA = await tabA.save(opened.record, 'Blues', envelope('by A'));
    const fromB = await tabB.save(opened.record, 'Blues', envelope('by B'));
    expect(fromA.kind).toBe('saved');
    expect(fromB.kind).toBe('copied');
    const texts = await Promise.all(
      (await tabA.list()).map(async ({ id }) => (await tabA.load(id))?.envelope.study.chartText),
    );
    expect(texts.sort()).toEqual(['by A', 'by B']);
  });

  it('keeps other studies of another tab untouched', async () => {
    const shelf = memoryShelf();
    const [tabA, tabB] = [store(shelf), store(shelf)];
    const one = await tabA.save(null, 'One', envelope('1'));
    const two = await tabB.save(null, 'Two', envelope('2'));
    if (one.kind !== 'saved' || two.kind !== 'saved') throw new Error('not saved');
    await tabA.save(one.record, 'One', envelope('1 faster'));
    expect((await tabB.load(two.record.id))?.envelope.study.chartText).toBe('2');
  });

  it('makes a study of its own of work whose record was removed elsewhere', async () => {
    const shelf = memoryShelf();
    const studies = store(shelf);
    const saved = await studies.save(null, 'One', envelope('1'));
    if (saved.kind !== 'saved') throw new Error('not saved');
    await shelf.remove(saved.record.id);
    expect((await studies.save(saved.record, 'One', envelope('2'))).kind).toBe('copied');
  });

  it('puts a removed study back as it was', async () => {
    const studies = store(memoryShelf());
    const saved = await studies.save(null, 'One', envelope('1'));
    if (saved.kind !== 'saved') throw new Error('not saved');
    const removed = await studies.remove(saved.record.id);
    expect(await studies.list()).toEqual([]);
    expect(removed && (await studies.putBack(removed))).toBe(true);
    expect(await studies.load(saved.record.id)).toEqual(saved.record);
    expect(await studies.remove('nothing')).toBeUndefined();
  });

  it('says why it failed', async () => {
    const refusing = (error: Error): Shelf => ({ ...memoryShelf(), update: () => Promise.reject(error) });
    const full = new DOMException('full', 'QuotaExceededError');
    expect(await store(refusing(full)).save(null, 'x', envelope('x'))).toEqual({
      kind: 'failed',
      reason: 'quota',
    });
    expect(await store(refusing(new Error('lost'))).save(null, 'x', envelope('x'))).toEqual({
      kind: 'failed',
      reason: 'store',
    });
  });

  it('stores plain values that can be cloned', () => {
    expect(() => structuredClone(envelope('x'))).not.toThrow();
  });
});

describe('a database that refuses', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('gives way to memory when opening fails', async () => {
    const shelf = await openShelf(() =>
      Promise.reject(new DOMException('private window', 'InvalidStateError')),
    );
    expect(shelf.kind).toBe('memory');
  });

  it('gives way to memory when opening throws at once', async () => {
    const shelf = await openShelf(() => {
      throw new DOMException('private window', 'SecurityError');
    });
    expect(shelf.kind).toBe('memory');
  });

  it('gives way to memory after three seconds without an answer', async () => {
    const opening = openShelf(() => new Promise<never>(() => undefined));
    let settled = false;
    void opening.then(() => (settled = true));
    await vi.advanceTimersByTimeAsync(answerTime - 1);
    expect(settled).toBe(false);
    await vi.advanceTimersByTimeAsync(1);
    expect((await opening).kind).toBe('memory');
    expect(answerTime).toBe(3_000);
  });

  it('passes an answer in time through', async () => {
    await expect(inTime(Promise.resolve(7), 10)).resolves.toBe(7);
    await expect(inTime(Promise.reject(new Error('no')), 10)).rejects.toThrow('no');
    expect(vi.getTimerCount()).toBe(0);
  });
});

describe('preferences', () => {
  const storage = (initial?: string) => {
    let text = initial ?? null;
    return { getItem: () => text, setItem: (_key: string, value: string) => void (text = value) };
  };

  it('come back as they were saved', () => {
    const kept = storage();
    const wanted = { ...defaultPreferences, theme: 'stage' as const, countInBars: 2 as const, swing: 2 };
    expect(savePreferences(kept, wanted)).toBe(true);
    expect(loadPreferences(kept)).toEqual(wanted);
  });

  it('fall back field by field', () => {
    const kept = storage(
      '{"theme":"neon","mix":{"bass":{"on":false,"level":7},"cymbal":3},"countInBars":2,"speedUp":-4}',
    );
    expect(loadPreferences(kept)).toEqual({ ...defaultPreferences, countInBars: 2 });
    expect(loadPreferences(storage('not json'))).toEqual(defaultPreferences);
    expect(loadPreferences(null)).toEqual(defaultPreferences);
  });

  it('survive a storage that throws', () => {
    const refusing = {
      getItem: (): string => {
        throw new DOMException('no', 'SecurityError');
      },
      setItem: (): void => {
        throw new DOMException('no', 'QuotaExceededError');
      },
    };
    expect(loadPreferences(refusing)).toEqual(defaultPreferences);
    expect(savePreferences(refusing, defaultPreferences)).toBe(false);
  });
});
