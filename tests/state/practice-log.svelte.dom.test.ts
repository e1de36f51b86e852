import { describe, expect, it } from 'vitest';
import { newStudy, setChartText, type Study } from '../../src/state/document';
import { Library } from '../../src/state/library.svelte';
import { Notices } from '../../src/state/notices.svelte';
import { memoryShelf } from './memory-shelf';
import { dayOf, practiceKey, PracticeLog } from '../../src/state/practice-log.svelte';

/** What a browser keeps between visits, as text. */
function storage(start?: string) {
  const kept = new Map(start === undefined ? [] : [[practiceKey, start]]);
  return {
    kept,
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
  };
}

describe('the minutes played', () => {
  it('count to the day of the clock on the wall, written so that days compare as text', () => {
    expect(dayOf(new Date(2030, 1, 28, 23, 59))).toBe('2030-02-28');
    expect(dayOf(new Date(2030, 11, 1, 0, 0))).toBe('2030-12-01');
  });

  it('add up by study and by day, over visits and tabs', () => {
    const store = storage();
    let day = '2030-02-27';
    const here = new PracticeLog(store, () => day);
    const otherTab = new PracticeLog(store, () => day);
    here.add('a', 60);
    otherTab.add('a', 30);
    here.add('b', 5);
    expect(here.of('a')).toEqual({ today: 90, total: 90 });
    day = '2030-02-28';
    here.add('a', 10);
    expect(new PracticeLog(store, () => day).of('a')).toEqual({ today: 10, total: 100 });
    expect(here.of('b')).toEqual({ today: 0, total: 5 });
  });

  it('go on under another id, together with what is there', () => {
    const log = new PracticeLog(storage(), () => '2030-02-28');
    log.add('draft', 60);
    log.add('saved', 5);
    log.move('draft', 'saved');
    expect([log.of('draft').total, log.of('saved')]).toEqual([0, { today: 65, total: 65 }]);
    log.move('unknown', 'saved');
    log.move('saved', 'saved');
    expect(log.of('saved').total).toBe(65);
  });

  it('are forgotten, and brought back with what was played meanwhile', () => {
    const store = storage();
    const log = new PracticeLog(store, () => '2030-02-28');
    log.add('a', 60);
    const bringBack = log.forget('a');
    expect([log.of('a').total, store.kept.get(practiceKey)]).toEqual([0, '[]']);
    log.add('a', 1);
    bringBack();
    expect(log.of('a')).toEqual({ today: 61, total: 61 });
    log.forget('never played')();
    expect(log.of('never played').total).toBe(0);
  });

  it('pass over what is not theirs in the storage, and do without one', () => {
    const row = { id: 'a', seconds: 7, day: '2030-02-28', onDay: 7 };
    const spoilt = JSON.stringify([row, 3, { ...row, seconds: -1 }, { id: 'x' }]);
    expect(new PracticeLog(storage(spoilt), () => row.day).of('a')).toEqual({ today: 7, total: 7 });
    for (const text of ['{', '{}', 'null']) {
      expect(new PracticeLog(storage(text), () => row.day).of('a').total).toBe(0);
    }
    const refusing = {
      getItem: (): string => {
        throw new Error('refused');
      },
      setItem: () => undefined,
    };
    const log = new PracticeLog(refusing, () => row.day);
    expect(() => {
      log.add('a', 5);
    }).not.toThrow();
    expect(log.of('a').total).toBe(5);
  });
});

describe('the minutes of a study', () => {
  function open() {
    const log = new PracticeLog(storage(), () => '2030-02-28');
    const notices = new Notices();
    const desk = {
      study: newStudy('Title: Demo\n| F7 |'),
      open(study: Study) {
        this.study = study;
      },
      setChartText(text: string) {
        this.study = setChartText(this.study, text);
        library.touch();
      },
    };
    let count = 0;
    const library: Library = new Library({
      desk,
      notices,
      log,
      now: () => ++count,
      newId: () => `id-${++count}`,
      tab: null,
      openShelf: () => Promise.resolve(memoryShelf()),
    });
    return { log, notices, desk, library, total: () => log.of(library.deskId).total };
  }

  it('stay with it when it is saved for the first time, under whatever title', async () => {
    const { log, desk, library, total } = open();
    await library.begin('');
    const draft = library.deskId;
    log.add(draft, 120);
    desk.setChartText('Title: Mine now\n| F7 |');
    expect(total()).toBe(120);
    await library.flush();
    expect(library.deskId).toBe(library.openId);
    expect([total(), log.of(draft).total]).toEqual([120, 0]);
    log.add(library.deskId, 30);
    desk.setChartText('Title: Mine again\n| F7 |');
    await library.flush();
    expect(total()).toBe(150);
  });

  it('are not those of another', async () => {
    const { log, desk, library, total } = open();
    await library.begin('');
    log.add(library.deskId, 120);
    desk.setChartText('Title: Mine\n| F7 |');
    await library.flush();
    const first = library.deskId;
    await library.openText('Title: Other\n| C7 |');
    expect(total()).toBe(0);
    log.add(library.deskId, 40);
    await library.open(first);
    expect(total()).toBe(120);
    await library.openText('Title: Other\n| C7 |');
    expect(total()).toBe(40);
  });

  it('go with it when it is removed, and come back when that is undone', async () => {
    const { log, desk, library, notices } = open();
    await library.begin('');
    desk.setChartText('Title: Mine\n| F7 |');
    await library.flush();
    const id = library.deskId;
    log.add(id, 120);
    await library.remove(id);
    expect(log.of(id).total).toBe(0);
    notices.list.at(-1)?.action?.run();
    await expect.poll(() => log.of(id).total).toBe(120);
  });
});
