import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { newStudy } from '../../src/state/document';
import { restoreText } from '../../src/state/envelope';
import { saveDelay } from '../../src/state/library.svelte';
import { linkFragment } from '../../src/state/links';
import { retryWaits } from '../../src/state/saver.svelte';
import { openTab, slow, texts } from './library-tab';
import { memoryShelf, memoryStorage } from './memory-shelf';

describe('work that is not in the store yet', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });
  /** The journal as it is found when all pages that wrote it have been left. */
  const allLeft = ({ entries }: ReturnType<typeof memoryStorage>) =>
    memoryStorage(
      new Map([...entries].map(([key, text]) => [key, text.replace('"isLeft":false', '"isLeft":true')])),
    );
  const never = new Promise<never>(() => undefined);
  const refuse = () => Promise.reject(new DOMException('no', 'SecurityError'));

  it('is back at once after a reload, before the store has answered', async () => {
    const journal = memoryStorage();
    const first = openTab({ journal, openShelf: () => never });
    void first.library.begin('');
    first.desk.setChartText('Title: Mine\n| C7 |');
    first.library.leave();
    const second = openTab({ journal, openShelf: () => never, remembered: first.remembered });
    void second.library.begin('');
    expect(second.desk.study.chartText).toBe('Title: Mine\n| C7 |');
    expect(second.codes()).toEqual([]);
    second.desk.setChartText('Title: Mine\n| C9 |');
    second.library.leave();
    const shelf = memoryShelf();
    const third = openTab({ journal, shelf, remembered: second.remembered });
    await third.library.begin('');
    await third.library.flush();
    expect(await texts(shelf)).toEqual(['Title: Mine\n| C9 |']);
    expect(third.library.saveState).toBe('saved');
    expect(journal.length).toBe(0);
  });

  it('is back in a new tab after the old one was closed', async () => {
    const journal = memoryStorage();
    const shelf = memoryShelf();
    const first = openTab({ journal, shelf: slow(shelf, 10_000) });
    void first.library.begin('');
    first.desk.setChartText('Title: Mine\n| C7 |');
    first.library.leave();
    const second = openTab({ journal, shelf: slow(shelf, 10_000) });
    void second.library.begin('');
    await vi.advanceTimersByTimeAsync(0);
    expect(second.desk.study.chartText).toBe('Title: Mine\n| C7 |');
    await vi.advanceTimersByTimeAsync(60_000);
    expect(await texts(shelf)).toEqual(['Title: Mine\n| C7 |']);
    expect(second.library.openId).toBe(first.library.openId);
  });

  it('goes on over a save that came through though the page never heard of it', async () => {
    const journal = memoryStorage();
    const shelf = memoryShelf();
    const first = openTab({ journal, shelf: slow(shelf, 5_000) });
    await Promise.all([first.library.begin(''), vi.advanceTimersByTimeAsync(20_000)]);
    first.desk.setChartText('Title: Mine\n| C7 |');
    void first.library.flush();
    first.library.leave();
    const second = openTab({ journal, shelf, remembered: first.remembered });
    void second.library.begin('');
    await vi.advanceTimersByTimeAsync(20_000);
    second.desk.setChartText('Title: Mine\n| C9 |');
    await second.library.flush();
    expect(await texts(shelf)).toEqual(['Title: Mine\n| C9 |']);
    expect(second.codes()).toEqual([]);
  });

  it('is kept beside what another tab saved meanwhile', async () => {
    const journal = memoryStorage();
    const shelf = memoryShelf();
    const first = openTab({ journal, shelf });
    await first.library.begin('');
    first.desk.setChartText('Title: Shared\n| C7 |');
    await first.library.flush();
    const other = openTab({ journal, shelf });
    await other.library.begin('');
    first.desk.setChartText('Title: Shared\n| C9 |');
    first.library.leave();
    other.desk.setChartText('Title: Shared\n| C13 |');
    await other.library.flush();
    const again = openTab({ journal, shelf, remembered: first.remembered });
    await again.library.begin('');
    await again.library.flush();
    expect(await texts(shelf)).toEqual(['Title: Shared\n| C13 |', 'Title: Shared\n| C9 |']);
  });

  it('of two pages that are gone is kept whole, one study on the desk and the other in the list', async () => {
    const journal = memoryStorage();
    const left = (text: string): void => {
      const tab = openTab({ journal, openShelf: () => never });
      void tab.library.begin('');
      tab.desk.setChartText(text);
    };
    left('Title: One\n| C7 |');
    left('Title: Two\n| D7 |');
    const shelf = memoryShelf();
    const tab = openTab({ journal: allLeft(journal), shelf });
    await tab.library.begin('');
    await tab.library.flush();
    expect(await texts(shelf)).toEqual(['Title: One\n| C7 |', 'Title: Two\n| D7 |']);
    expect(tab.codes()).toEqual(['brought back']);
  });

  it('on one study, left by two pages, becomes two studies', async () => {
    const journal = memoryStorage();
    const shelf = memoryShelf();
    const first = openTab({ journal, shelf });
    await first.library.begin('');
    first.desk.setChartText('Title: Shared\n| C |');
    await first.library.flush();
    const second = openTab({ journal, shelf: slow(shelf, 0) });
    await Promise.all([second.library.begin(''), vi.advanceTimersByTimeAsync(100)]);
    first.desk.setChartText('Title: Shared\n| C7 |');
    second.desk.setChartText('Title: Shared\n| C9 |');
    const found = allLeft(journal);
    const after = openTab({ journal: found, shelf });
    await after.library.begin('');
    await after.library.flush();
    expect(await texts(shelf)).toEqual(['Title: Shared\n| C7 |', 'Title: Shared\n| C9 |']);
    expect(found.length).toBe(0);
  });

  it('stays with a page that lives', async () => {
    const journal = memoryStorage();
    const first = openTab({ journal, openShelf: () => never });
    void first.library.begin('');
    first.desk.setChartText('Title: Mine\n| C7 |');
    const second = openTab({ journal });
    await second.library.begin('');
    expect(second.desk.study.chartText).toContain('Demo');
    expect(journal.length).toBe(1);
  });

  it('goes on as another study on a page that comes back after its work was taken over', async () => {
    const journal = memoryStorage();
    const shelf = memoryShelf();
    const first = openTab({ journal, shelf: slow(shelf, 10_000) });
    void first.library.begin('');
    first.desk.setChartText('Title: Mine\n| C7 |');
    first.library.leave();
    const heir = openTab({ journal, shelf });
    await heir.library.begin('');
    heir.desk.setChartText('Title: Mine\n| C9 |');
    await heir.library.flush();
    first.library.comeBack();
    await vi.advanceTimersByTimeAsync(60_000);
    expect(await texts(shelf)).toEqual(['Title: Mine\n| C7 |', 'Title: Mine\n| C9 |']);
  });

  it('of a link stays in the list when the page before left something', async () => {
    const journal = memoryStorage();
    const first = openTab({ journal, openShelf: () => never });
    void first.library.begin('');
    first.desk.setChartText('Title: Mine\n| C7 |');
    first.library.leave();
    const shelf = memoryShelf();
    const second = openTab({ journal, shelf, remembered: first.remembered });
    await second.library.begin(linkFragment(newStudy('Title: Sent\n| G7 |')));
    expect(second.desk.study.chartText).toContain('Sent');
    await second.library.flush();
    expect(await texts(shelf)).toEqual(['Title: Mine\n| C7 |', 'Title: Sent\n| G7 |']);
  });

  it('is called slow, not lost, while the store takes its time', async () => {
    const shelf = memoryShelf();
    const { desk, library, codes } = openTab({ journal: memoryStorage(), shelf: slow(shelf, 10_000) });
    await Promise.all([library.begin(''), vi.advanceTimersByTimeAsync(30_000)]);
    expect(codes()).toEqual([]);
    desk.setChartText('Title: Mine\n| C7 |');
    expect(library.saveState).toBe('saving');
    await vi.advanceTimersByTimeAsync(saveDelay + 2_999);
    expect(library.saveState).toBe('saving');
    await vi.advanceTimersByTimeAsync(1);
    expect([library.saveState, library.store, codes()]).toEqual(['kept', 'slow', ['slow store']]);
    await vi.advanceTimersByTimeAsync(7_000);
    expect([library.saveState, library.store, codes()]).toEqual(['saved', 'usual', []]);
  });

  it('opens from where it waits, and can be left for another study at once', async () => {
    const shelf = memoryShelf();
    const { desk, library } = openTab({ journal: memoryStorage(), openShelf: () => never });
    void library.begin('');
    desk.setChartText('Title: One\n| C7 |');
    const id = library.openId!;
    await library.openText('Title: Two\n| F7 |');
    expect(desk.study.chartText).toContain('Two');
    expect(library.entries.map(({ title }) => title)).toEqual(['One']);
    await library.open(id);
    expect(desk.study.chartText).toContain('One');
    expect(await texts(shelf)).toEqual([]);
  });

  it('is not lost when a slow study comes to the desk over it', async () => {
    const shelf = memoryShelf();
    const before = openTab({ shelf });
    await before.library.begin('');
    before.desk.setChartText('Title: Old\n| A7 |');
    await before.library.flush();
    const { desk, library } = openTab({ shelf: slow(shelf, 1_000), journal: memoryStorage() });
    await Promise.all([library.begin('#none'), vi.advanceTimersByTimeAsync(5_000)]);
    const opening = library.open(before.library.openId!);
    desk.setChartText('Title: Typed meanwhile\n| C7 |');
    await Promise.all([opening, vi.advanceTimersByTimeAsync(10_000)]);
    expect(await texts(shelf)).toContain('Title: Typed meanwhile\n| C7 |');
  });

  it.each([
    ['kept aside', memoryStorage(), 'kept', true],
    ['nowhere', null, 'unsaved', false],
  ])('where the browser refuses its database: %s', async (_what, journal, state, isHeld) => {
    const { desk, library, notices, files } = openTab({ journal, openShelf: refuse });
    await library.begin('');
    expect(library.store).toBe('refused');
    desk.setChartText('Title: Mine\n| C7 |');
    await vi.advanceTimersByTimeAsync(saveDelay);
    expect(library.saveState).toBe(state);
    expect(library.isAtRisk).toBe(!isHeld);
    expect(notices.list.map(({ message }) => message)).toEqual([{ code: 'memory only', isHeld }]);
    notices.list[0]?.action?.run();
    expect(files).toMatchObject([{ title: 'Mine' }]);
    expect(restoreText(files[0]!.text)).toMatchObject({
      ok: true,
      study: { chartText: 'Title: Mine\n| C7 |' },
    });
    expect(library.entries.map(({ title }) => title)).toEqual(['Mine']);
  });

  it('is told of once, tried again, and saved when that can be', async () => {
    const shelf = memoryShelf();
    let isBroken = true;
    const { desk, library, codes, notices } = openTab({
      journal: memoryStorage(),
      shelf: {
        ...shelf,
        update: (id, decide) =>
          isBroken ? Promise.reject(new DOMException('lost', 'UnknownError')) : shelf.update(id, decide),
      },
    });
    await library.begin('');
    desk.setChartText('Title: Mine\n| C7 |');
    await vi.advanceTimersByTimeAsync(saveDelay);
    expect([library.saveState, codes()]).toEqual(['kept', ['not saved']]);
    notices.dismiss(notices.list[0]!.id);
    desk.setChartText('Title: Mine\n| C9 |');
    await vi.advanceTimersByTimeAsync(saveDelay + retryWaits[0] + retryWaits[1]);
    expect(codes()).toEqual([]);
    isBroken = false;
    await vi.advanceTimersByTimeAsync(retryWaits[2] + retryWaits[3]);
    expect([library.saveState, codes()]).toEqual(['saved', []]);
    expect(await texts(shelf)).toEqual(['Title: Mine\n| C9 |']);
  });

  it('is said to belong to a newer version where the database does', async () => {
    const newer = () => Promise.reject(new DOMException('newer', 'VersionError'));
    const { desk, library, codes } = openTab({ journal: memoryStorage(), openShelf: newer });
    await library.begin('');
    desk.setChartText('Title: Mine\n| C7 |');
    await vi.advanceTimersByTimeAsync(saveDelay);
    expect([library.saveState, codes()]).toEqual(['kept', ['newer store']]);
  });

  it('is saved again, and said so, after the database was cleared', async () => {
    const shelf = memoryShelf();
    const { desk, library, codes } = openTab({ shelf });
    await library.begin('');
    desk.setChartText('Title: Mine\n| C7 |');
    await library.flush();
    shelf.records.clear();
    desk.setChartText('Title: Mine\n| C9 |');
    await library.flush();
    expect([library.saveState, codes()]).toEqual(['saved', ['saved again']]);
    expect(await texts(shelf)).toEqual(['Title: Mine\n| C9 |']);
  });

  it('can be renamed, copied, removed and put back where there is no store', async () => {
    const { desk, library, notices } = openTab({ journal: memoryStorage(), openShelf: refuse });
    await library.begin('');
    desk.setChartText('Title: One\n| C7 |');
    const id = library.openId!;
    await library.duplicate(id, 'Two');
    const copy = library.entries.find(({ title }) => title === 'Two')!;
    await library.rename(copy.id, 'Three');
    expect(library.entries.map(({ title }) => title).sort()).toEqual(['One', 'Three']);
    await library.remove(copy.id);
    expect(library.entries.map(({ title }) => title)).toEqual(['One']);
    notices.list.find(({ message }) => message.code === 'removed')?.action?.run();
    await vi.advanceTimersByTimeAsync(10);
    expect(library.entries.map(({ title }) => title).sort()).toEqual(['One', 'Three']);
  });
});

describe('damaged records', () => {
  it('are listed apart, given as they are, removed and put back', async () => {
    const shelf = memoryShelf();
    const broken = { id: 'broken', title: 'Broken', savedAt: 'never', revision: 1, envelope: null };
    shelf.records.set('broken', broken);
    shelf.records.set(7, { id: 7 });
    const { desk, library, notices } = openTab({ shelf });
    await library.begin('');
    desk.setChartText('Title: Mine\n| C7 |');
    await library.flush();
    expect(library.entries.map(({ title }) => title)).toEqual(['Mine']);
    expect(library.damaged.map(({ key }) => key)).toEqual(['broken', 7]);
    expect(JSON.parse((await library.damagedFile(library.damaged[0]!)) ?? '')).toEqual(broken);
    await library.removeDamaged(library.damaged[0]!);
    expect(library.damaged.map(({ key }) => key)).toEqual([7]);
    notices.list.find(({ message }) => message.code === 'removed')?.action?.run();
    await vi.waitFor(() => expect(library.damaged).toHaveLength(2));
  });
});
