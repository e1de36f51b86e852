// The night on the desk: planned as it changes, saved by itself, and nothing of it lost when studies change or go.
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { planNight } from '../../src/night';
import { envelop } from '../../src/state/envelope';
import { Evening, type EveningParts } from '../../src/state/evening';
import * as nights from '../../src/state/night';
import { Notices } from '../../src/state/notices.svelte';
import { newStudy, type Study } from '../../src/state/study';
import { memoryShelf, type MemoryShelf } from './memory-shelf';

const chart = (title: string): string => `Title: ${title}\nKey: F\nTempo: 120\n| F7 | C7 |`;

interface Bench {
  readonly evening: Evening;
  readonly notices: Notices;
  readonly asks: Parameters<ReturnType<EveningParts['connect']>['request']>[0][];
  readonly studies: Map<string, Study>;
  /** Answers the last ask. */
  readonly answer: () => void;
}

function bench(shelf: MemoryShelf = memoryShelf(), name = 'night'): Bench {
  const asks: Bench['asks'] = [];
  const studies = new Map<string, Study>();
  const notices = new Notices();
  let told: Parameters<EveningParts['connect']>[0] = () => undefined;
  let count = 0;
  const evening = new Evening({
    library: {
      entries: [],
      refresh: () => Promise.resolve(),
      fileOf: (id) => {
        const study = studies.get(id);
        return Promise.resolve(study && JSON.stringify(envelop(study)));
      },
    },
    notices,
    connect: (onanswer) => {
      told = onanswer;
      return { request: (ask) => asks.push(ask), cancel: () => undefined, dispose: () => undefined };
    },
    now: () => 0,
    newId: () => `${name} ${++count}`,
    openShelf: () => Promise.resolve(shelf),
    tab: null,
    untitled: 'A night',
  });
  const answer = (): void => {
    const ask = asks.at(-1)!;
    told({ ask, answer: planNight({ ...ask, takes: 0 }), isLatest: true });
  };
  return { evening, notices, asks, studies, answer };
}

const addChart = ({ evening }: Bench, title: string): void =>
  evening.change(nights.addTune(evening.night, 0, nights.chartTune(chart(title), newStudy(''))));

let desk: Bench;
beforeEach(() => {
  vi.useRealTimers();
  desk = bench();
});

describe('the night on the desk', () => {
  it('is planned after a change, keeps the last plan meanwhile, and asks for takes once the plan stands', () => {
    const { evening, asks, answer } = desk;
    expect(asks).toHaveLength(0);
    addChart(desk, 'One');
    expect(asks.at(-1)).toMatchObject({ takes: 0 });
    expect(evening.progress).toBe(0);
    answer();
    expect(evening.progress).toBeNull();
    expect(evening.isStale).toBe(false);
    expect(asks.at(-1)!.takes).toBeGreaterThan(0);
    addChart(desk, 'Two');
    expect(evening.isStale).toBe(true);
    expect(evening.planned!.plan.sets[0]).toHaveLength(1);
    answer();
    expect(evening.isStale).toBe(false);
    expect(evening.planned!.plan.sets[0]).toHaveLength(2);
  });

  it('is planned again after it was stopped, and says meanwhile that it was', () => {
    const { evening, asks, answer } = desk;
    expect(evening.isStopped).toBe(false);
    addChart(desk, 'One');
    evening.stop();
    expect([evening.isStopped, evening.progress, evening.planned]).toEqual([true, null, null]);
    const { length } = asks;
    evening.planAgain();
    expect([evening.isStopped, evening.progress]).toEqual([false, 0]);
    expect(asks).toHaveLength(length + 1);
    answer();
    expect(evening.isStale).toBe(false);
    // What only the takes are stopped of is planned.
    evening.stop();
    expect(evening.isStopped).toBe(false);
    addChart(desk, 'Two');
    evening.stop();
    evening.undo();
    expect(evening.isStopped).toBe(false);
  });

  it('goes back and forth through its changes', () => {
    const { evening } = desk;
    addChart(desk, 'One');
    const one = evening.night;
    addChart(desk, 'Two');
    evening.undo();
    expect(evening.night).toBe(one);
    evening.redo();
    expect(nights.countTunes(evening.night)).toBe(2);
    evening.undo();
    evening.undo();
    expect(evening.planned).toBeNull();
    expect(evening.progress).toBeNull();
  });

  it('is saved, opened again and removed with a way back', async () => {
    const { evening, notices } = desk;
    addChart(desk, 'One');
    const { night } = evening;
    await evening.flush();
    expect(evening.saveState).toBe('saved');
    const id = evening.openId!;
    await evening.startNew();
    expect(nights.countTunes(evening.night)).toBe(0);
    await evening.open(id);
    expect(evening.night).toEqual(night);
    await evening.remove(id, night.title);
    expect(evening.entries).toEqual([]);
    expect(evening.night).toEqual(night);
    notices.list.at(-1)!.action!.run();
    await vi.waitFor(() => expect(evening.entries).toHaveLength(1));
  });

  it('keeps both nights when two tabs edit one', async () => {
    const shelf = memoryShelf();
    const [one, other] = [bench(shelf, 'one'), bench(shelf, 'other')];
    addChart(one, 'One');
    await one.evening.flush();
    const id = one.evening.openId!;
    await other.evening.open(id);
    addChart(one, 'Two');
    await one.evening.flush();
    expect(one.evening.openId).toBe(id);
    addChart(other, 'Three');
    await other.evening.flush();
    expect(other.evening.openId).not.toBe(id);
    expect(other.notices.list.at(-1)!.message).toEqual({ code: 'night saved beside' });
    expect(shelf.records.size).toBe(2);
  });

  it('keeps a night on the desk that the browser refuses to store, and saves it when it can', async () => {
    const shelf = memoryShelf();
    let isRefused = true;
    const update: MemoryShelf['update'] = (id, decide) =>
      isRefused ? Promise.reject(new DOMException('full', 'QuotaExceededError')) : shelf.update(id, decide);
    const { evening, notices, ...rest } = bench({ ...shelf, update });
    addChart({ evening, notices, ...rest }, 'One');
    const { night } = evening;
    await evening.flush();
    expect(evening.saveState).toBe('unsaved');
    expect(notices.list.at(-1)!.message).toEqual({ code: 'night not saved', reason: 'quota' });
    await evening.startNew();
    expect(evening.night).toBe(night);
    isRefused = false;
    await evening.flush();
    expect(evening.saveState).toBe('saved');
    expect(notices.list).toEqual([]);
    expect(shelf.records.size).toBe(1);
  });

  it('keeps what is there when a file is no night, and says so', async () => {
    const { evening, notices } = desk;
    addChart(desk, 'One');
    const { night } = evening;
    await evening.importFile('{}');
    expect(evening.night).toBe(night);
    expect(notices.list.at(-1)!.message).toEqual({ code: 'night fault', reason: 'not a night' });
    await evening.importFile(nights.nightFile(night));
    expect(evening.night).toEqual(night);
  });

  it('tells a study that changed and one that is gone, and takes a change when asked', async () => {
    const { evening, studies } = desk;
    studies.set('a', newStudy(chart('Kept')));
    await evening.addStudy('a', 0);
    const told = (): string => evening.toldOf(evening.night.sets[0]!.tunes[0]!);
    expect(told()).toBe('same');
    studies.set('a', newStudy(`${chart('Kept')} F7 |`));
    await evening.look();
    expect(told()).toBe('changed');
    evening.renew({ set: 0, tune: 0 });
    expect(told()).toBe('same');
    expect(evening.night.sets[0]!.tunes[0]!.study.chartText).toMatch(/F7 \|$/);
    studies.clear();
    await evening.look();
    expect(told()).toBe('gone');
    expect(nights.tuneTitle(evening.night.sets[0]!.tunes[0]!)).toBe('Kept');
  });

  it('says of an order whether it is the best, and finds none for a plan that is out of date', () => {
    const { evening, answer } = desk;
    for (const title of ['One', 'Two', 'Three']) addChart(desk, title);
    evening.order(0);
    expect(evening.ordered).toBeNull();
    answer();
    evening.order(0);
    expect(evening.ordered).toMatchObject({ set: 0, isExact: true });
    addChart(desk, 'Four');
    expect(evening.ordered).toBeNull();
  });
});
