import { describe, expect, it } from 'vitest';
import { newStudy } from '../../src/state/document';
import { envelop } from '../../src/state/envelope';
import { StudyStore, type Version } from '../../src/state/persistence';
import { defaultPreferences, loadPreferences, savePreferences } from '../../src/state/preferences';
import { listOf, readRecord, recordText } from '../../src/state/records';
import { memoryShelf, type MemoryShelf } from './memory-shelf';

const version = (id: string, base: number, text: string, writer = 'tab', step = 1): Version => ({
  id,
  base,
  title: text.toUpperCase(),
  at: 1_000 + step,
  writer: { lineage: writer, step },
  envelope: envelop(newStudy(text)),
});
const textsOf = async (shelf: MemoryShelf): Promise<unknown[]> =>
  (await shelf.all()).map(({ envelope }) => envelope.study.chartText).sort();

describe('saving', () => {
  it('counts revisions and lists the latest first', async () => {
    const shelf = memoryShelf();
    const studies = new StudyStore(shelf);
    expect(await studies.save(version('1', 0, 'a'))).toMatchObject({
      kind: 'saved',
      record: { revision: 1 },
    });
    await studies.save(version('2', 0, 'b', 'tab', 2));
    expect(await studies.save(version('1', 1, 'c', 'tab', 3))).toMatchObject({
      kind: 'saved',
      record: { id: '1', revision: 2 },
    });
    expect((await studies.list()).entries.map(({ title }) => title)).toEqual(['C', 'B']);
    expect((await studies.load('1'))?.envelope.study.chartText).toBe('c');
    expect(await studies.load('3')).toBeUndefined();
  });

  it('keeps both works when two tabs edit one study', async () => {
    const shelf = memoryShelf();
    const studies = new StudyStore(shelf);
    await studies.save(version('x', 0, 'start'));
    expect((await studies.save(version('x', 1, 'by A', 'A'))).kind).toBe('saved');
    expect((await studies.save(version('x', 1, 'by B', 'B'))).kind).toBe('copied');
    expect(await textsOf(shelf)).toEqual(['by A', 'by B']);
    // The same version once more, as after a page that was closed before it heard of it.
    expect((await studies.save(version('x', 1, 'by B', 'B'))).kind).toBe('copied');
    expect(await textsOf(shelf)).toEqual(['by A', 'by B']);
  });

  it('knows its own work, whatever it was told about its last save', async () => {
    const shelf = memoryShelf();
    const studies = new StudyStore(shelf);
    await studies.save(version('x', 0, 'one', 'A', 1));
    expect(await studies.save(version('x', 0, 'two', 'A', 2))).toMatchObject({
      kind: 'saved',
      record: { revision: 2 },
    });
    expect(await studies.save(version('x', 0, 'one', 'A', 1))).toMatchObject({
      kind: 'saved',
      record: { revision: 2 },
    });
    expect(await studies.save(version('x', 0, 'two', 'B', 1))).toMatchObject({ kind: 'saved' });
    expect(await textsOf(shelf)).toEqual(['two']);
  });

  it('brings a study back whose record has gone', async () => {
    const shelf = memoryShelf();
    const studies = new StudyStore(shelf);
    await studies.save(version('x', 0, 'one'));
    await studies.take('x');
    expect(await studies.save(version('x', 1, 'two', 'tab', 2))).toMatchObject({
      kind: 'again',
      record: { id: 'x', revision: 2 },
    });
  });

  it('never goes over a record that it cannot read', async () => {
    const shelf = memoryShelf();
    shelf.records.set('x', { id: 'x', envelope: 'nothing of ours' });
    expect((await new StudyStore(shelf).save(version('x', 0, 'mine'))).kind).toBe('copied');
    expect(shelf.records.get('x')).toEqual({ id: 'x', envelope: 'nothing of ours' });
    expect(shelf.records.size).toBe(2);
  });

  it('puts a removed study back as it was, where its place is free', async () => {
    const shelf = memoryShelf();
    const studies = new StudyStore(shelf);
    await studies.save(version('x', 0, 'one'));
    const before = await shelf.get('x');
    const raw = await studies.take('x');
    expect((await studies.list()).entries).toEqual([]);
    expect(await studies.putBack(raw)).toBe(true);
    expect(await shelf.get('x')).toEqual(before);
    expect(await studies.putBack(raw)).toBe(false);
    expect(await studies.take('nothing')).toBeUndefined();
  });

  it.each([
    ['QuotaExceededError', 'quota'],
    ['VersionError', 'newer'],
    ['UnknownError', 'store'],
  ])('says why it failed: %s', async (name, reason) => {
    const shelf = { ...memoryShelf(), update: () => Promise.reject(new DOMException('no', name)) };
    expect(await new StudyStore(shelf).save(version('x', 0, 'x'))).toEqual({ kind: 'failed', reason });
  });

  it('stores plain values that can be cloned', () => {
    expect(() => structuredClone(version('x', 0, 'x'))).not.toThrow();
  });
});

describe('records as they come', () => {
  const good = {
    id: 'good',
    title: 'Good',
    savedAt: 5,
    revision: 3,
    envelope: envelop(newStudy('Title: Good\n| C |')),
  };

  it.each([
    ['no date', { savedAt: Number.NaN }],
    ['a date beyond all dates', { savedAt: 8.64e15 + 1 }],
    ['a date in words', { savedAt: 'yesterday' }],
    ['no title', { title: 7 }],
    ['no count of saves', { revision: -1 }],
    ['a writer that is none', { writer: { lineage: 4 } }],
  ])('puts right what can be: %s', (_what, change) => {
    const reading = readRecord({ ...good, ...change });
    expect(reading).toMatchObject({ ok: true, record: { id: 'good', title: 'Good' } });
    if (reading.ok && reading.record.savedAt !== null)
      expect(() => new Date(reading.record.savedAt!).toISOString()).not.toThrow();
  });

  it('sets apart what cannot be opened, and lists the rest', () => {
    const list = listOf([
      good,
      null,
      'text',
      { ...good, id: 17 },
      { ...good, id: 'later', savedAt: 9 },
      { ...good, id: 'undated', savedAt: null },
      { ...good, id: 'empty', envelope: { format: 'ramble-study', version: 1, study: {} } },
      { ...good, id: 'new', envelope: { ...good.envelope, version: 99 } },
    ]);
    expect(list.entries.map(({ id }) => id)).toEqual(['later', 'good', 'undated']);
    expect(list.damaged.map(({ key, reason }) => [key, reason])).toEqual([
      [undefined, 'not a study'],
      [undefined, 'not a study'],
      [17, 'not a study'],
      ['empty', 'no chart'],
      ['new', 'newer version'],
    ]);
  });

  it('writes any record as text', () => {
    expect(JSON.parse(recordText({ ...good, count: 3n }))).toMatchObject({ id: 'good', count: '3' });
    const circle: Record<string, unknown> = {};
    circle.self = circle;
    expect(recordText(circle)).toBe('[object Object]\n');
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
