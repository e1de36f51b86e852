import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { newStudy } from '../../src/state/document';
import { envelop, studyFile } from '../../src/state/envelope';
import { saveDelay } from '../../src/state/library.svelte';
import { linkFragment } from '../../src/state/links';
import { openTab, texts } from './library-tab';
import { memoryShelf } from './memory-shelf';

describe('the library', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('saves nothing before the first change, then once after a run of changes', async () => {
    const { desk, library, shelf } = openTab();
    await library.begin('');
    await vi.advanceTimersByTimeAsync(10_000);
    expect(await shelf.all()).toEqual([]);
    for (const text of ['Title: Mine\n|', 'Title: Mine\n| C', 'Title: Mine\n| C7 |']) desk.setChartText(text);
    expect(library.saveState).toBe('saving');
    await vi.advanceTimersByTimeAsync(saveDelay);
    expect(library.saveState).toBe('saved');
    expect(await shelf.all()).toMatchObject([{ title: 'Mine', revision: 1 }]);
    expect(await texts(shelf)).toEqual(['Title: Mine\n| C7 |']);
  });

  it('opens what the tab had open, else what was saved last', async () => {
    const { desk, library, shelf, remembered } = openTab();
    await library.begin('');
    desk.setChartText('Title: First\n| C7 |');
    await library.flush();
    vi.setSystemTime(Date.now() + 1_000);
    await library.openText('Title: Second\n| D7 |');
    desk.setChartText('Title: Second\n| D9 |');
    await library.flush();
    const sameTab = openTab({ shelf, remembered: new Map(remembered) });
    await sameTab.library.begin('');
    expect(sameTab.desk.study.chartText).toBe('Title: Second\n| D9 |');
    const newTab = openTab({ shelf });
    await newTab.library.begin('');
    expect(newTab.desk.study.chartText).toBe('Title: Second\n| D9 |');
  });

  it('keeps the work of two tabs on one study', async () => {
    const first = openTab();
    await first.library.begin('');
    first.desk.setChartText('Title: Shared\n| C7 |');
    await first.library.flush();
    const second = openTab({ shelf: first.shelf });
    await second.library.begin('');
    first.desk.setChartText('Title: Shared\n| C9 |');
    await first.library.flush();
    second.desk.setChartText('Title: Shared\n| C13 |');
    await second.library.flush();
    expect(await texts(first.shelf)).toEqual(['Title: Shared\n| C13 |', 'Title: Shared\n| C9 |']);
    expect(second.codes()).toContain('saved beside');
    second.desk.setChartText('Title: Shared\n| C7 | F7 |');
    await second.library.flush();
    expect(await first.shelf.all()).toHaveLength(2);
  });

  it('opens a link as a study of its own and keeps it', async () => {
    const { desk, library, shelf } = openTab();
    await library.begin(linkFragment(newStudy('Title: Sent\n| G7 |')));
    expect(desk.study.chartText).toBe('Title: Sent\n| G7 |');
    await library.flush();
    expect(await texts(shelf)).toEqual(['Title: Sent\n| G7 |']);
  });

  it('tells what else a link shows, once', async () => {
    const { library, views } = openTab();
    await library.begin(linkFragment(newStudy('| G7 |'), { roles: true }));
    await library.openFragment(linkFragment(newStudy('| A7 |')));
    expect(views).toEqual([{ roles: true }]);
  });

  it('leaves the work alone when a link or a file is broken', async () => {
    const { desk, library, codes } = openTab();
    await library.begin('');
    desk.setChartText('Title: Mine\n| C7 |');
    const { study } = desk;
    expect(await library.openFragment(linkFragment(newStudy('x')).slice(0, -4))).toBe(false);
    await library.importFile('{"format":"ramble-study","version":99,"study":{"chartText":"x"}}');
    await library.importFile('<xml/>');
    expect(desk.study).toBe(study);
    expect(codes()).toEqual(expect.arrayContaining(['link fault', 'restore fault']));
  });

  it('saves the open work before something else is opened', async () => {
    const { desk, library, shelf } = openTab();
    await library.begin('');
    desk.setChartText('Title: Mine\n| C7 |');
    await library.importFile(studyFile(newStudy('Title: From a file\n| A7 |')));
    await library.flush();
    expect(await texts(shelf)).toEqual(['Title: From a file\n| A7 |', 'Title: Mine\n| C7 |']);
  });

  it('keeps the work on the desk when it cannot be saved', async () => {
    const full = new DOMException('full', 'QuotaExceededError');
    const { desk, library, codes } = openTab({
      shelf: { ...memoryShelf(), update: () => Promise.reject(full) },
    });
    await library.begin('');
    desk.setChartText('Title: Precious\n| C7 |');
    await library.openText('Title: Demo\n| F7 |');
    expect(desk.study.chartText).toContain('Precious');
    expect(library.saveState).toBe('unsaved');
    expect(codes()).toContain('quota');
  });

  it('does not let a slow store overwrite what was typed meanwhile', async () => {
    const shelf = memoryShelf();
    await shelf.update('old', () => ({
      id: 'old',
      title: 'Old',
      savedAt: 1,
      revision: 1,
      envelope: envelop(newStudy('Title: Old\n| A7 |')),
    }));
    const { desk, library } = openTab({ shelf });
    const beginning = library.begin('');
    desk.setChartText('Title: Typed\n| C7 |');
    await beginning;
    expect(desk.study.chartText).toContain('Typed');
  });

  it('renames, duplicates, removes and puts back', async () => {
    const { desk, library, notices, shelf } = openTab();
    await library.begin('');
    desk.setChartText('Title: One\n| C7 |');
    await library.flush();
    const id = library.openId ?? '';
    await library.rename(id, '  Two\nlines ');
    expect(desk.study.chartText).toBe('Title: Two lines\n| C7 |');
    await library.duplicate(id, 'Three');
    expect(library.entries.map(({ title }) => title).sort()).toEqual(['Three', 'Two lines']);
    const copy = library.entries.find(({ title }) => title === 'Three');
    await library.rename(copy?.id ?? '', 'Four');
    expect(await texts(shelf)).toEqual(['Title: Four\n| C7 |', 'Title: Two lines\n| C7 |']);
    await library.remove(id);
    expect(library.openId).toBeNull();
    expect(await shelf.all()).toHaveLength(1);
    notices.list.find(({ message }) => message.code === 'removed')?.action?.run();
    await vi.runAllTimersAsync();
    expect(await shelf.all()).toHaveLength(2);
    expect(library.openId).toBe(id);
  });

  it('says so when a study is gone or cannot be read', async () => {
    const shelf = memoryShelf();
    const { desk, library, codes } = openTab({ shelf });
    await library.begin('');
    const { study } = desk;
    await library.open('nothing');
    await shelf.update('broken', () => ({
      id: 'broken',
      title: 'Broken',
      savedAt: 1,
      revision: 1,
      envelope: { format: 'ramble-study', version: 1, study: {} },
    }));
    await library.open('broken');
    expect(desk.study).toBe(study);
    expect(codes()).toEqual(['gone']);
    expect(library.damaged).toMatchObject([{ key: 'broken', title: 'Broken', reason: 'no chart' }]);
  });
});
