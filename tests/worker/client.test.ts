import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { TaskClient, type Answered, type Doers, type WorkerLike } from '../../src/worker';
import { doers } from '../../src/worker/doers';
import { reply, type FromWorker } from '../../src/worker/protocol';
import type { WalkRequest, WalkResult } from '../../src/pipeline';
import { newStudy } from '../../src/state/document';
import { requestOf } from '../../src/state/request';
import { handWorkers } from './hand-worker';

const request = (text: string): WalkRequest => requestOf(newStudy(text));
const resultFor = (wanted: WalkRequest): WalkResult => ({
  chart: {
    header: {
      title: wanted.chartText,
      key: null,
      meter: { beats: 4, unit: 4 },
      tempo: null,
      feel: 'swing',
      parts: [],
    },
    bars: [],
  },
  problems: [],
  timeline: null,
  line: null,
  impossible: null,
  timings: {},
});

const byHand: Doers = { ...doers, walk: resultFor, explain: () => null };

function bench(startWorker?: () => WorkerLike, onpainted?: (then: () => void) => void) {
  const hand = handWorkers();
  const { workers } = hand;
  const answers: Answered<'walk'>[] = [];
  const failures: string[] = [];
  const progress: number[] = [];
  const client = new TaskClient({
    task: 'walk',
    patience: 2_000,
    onprogress: ({ done }) => progress.push(done),
    startWorker: startWorker ?? hand.startWorker,
    loadDoers: () => Promise.resolve(byHand),
    onanswer: (given) => answers.push(given),
    onfailure: (message) => failures.push(message),
    ...(onpainted ? { onpainted } : {}),
  });
  const titles = () => answers.map(({ answer, isLatest }) => [answer.chart.header.title, isLatest]);
  return { client, workers, answers, failures, progress, titles };
}

describe('the worker client', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('answers a request', () => {
    const { client, workers, titles } = bench();
    client.request(request('a'));
    expect(client.isBusy).toBe(true);
    workers[0]?.reply(byHand);
    expect(titles()).toEqual([['a', true]]);
    expect(client.isBusy).toBe(false);
  });

  it('holds an answer back until the page has been painted after its ask', () => {
    const pictures: (() => void)[] = [];
    const { client, workers, titles } = bench(undefined, (then) => pictures.push(then));
    client.request(request('a'));
    workers[0]?.reply(byHand);
    expect(titles()).toEqual([]);
    expect(client.isBusy).toBe(true);
    pictures.shift()?.();
    expect(titles()).toEqual([['a', true]]);

    // In a run of asks an answer waits for one picture only.
    client.request(request('b'));
    client.request(request('c'));
    workers[0]?.reply(byHand);
    expect(pictures).toHaveLength(1);
    pictures.shift()?.();
    expect(titles()).toEqual([
      ['a', true],
      ['b', false],
    ]);
    workers[0]?.reply(byHand);
    expect(titles().at(-1)).toEqual(['c', true]);
  });

  it('forgets an answer held back when its ask is taken back', () => {
    const pictures: (() => void)[] = [];
    const { client, workers, titles } = bench(undefined, (then) => pictures.push(then));
    client.request(request('a'));
    workers[0]?.reply(byHand);
    client.cancel();
    pictures.shift()?.();
    expect(titles()).toEqual([]);
    expect(client.isBusy).toBe(false);
  });

  it('makes a worker ready without answering, and lets an ask wait for that', () => {
    const { client, workers, titles, progress } = bench();
    client.prepare(request('known'));
    expect(workers[0]?.inbox).toHaveLength(1);
    workers[0]?.progress(1, 0.5);
    client.request(request('a'));
    expect(workers[0]?.inbox).toHaveLength(1);
    workers[0]?.reply(byHand);
    workers[0]?.reply(byHand);
    expect(titles()).toEqual([['a', true]]);
    expect(progress).toEqual([]);
    expect(workers).toHaveLength(1);
  });

  it('makes nothing ready where there are no workers, or while something is asked', () => {
    const none = bench(() => {
      throw new Error('no workers');
    });
    none.client.prepare(request('known'));
    expect(none.client.isBusy).toBe(false);
    const { client, workers } = bench();
    client.request(request('a'));
    client.prepare(request('known'));
    workers[0]?.reply(byHand);
    expect(workers[0]?.inbox).toEqual([]);
  });

  it('runs one and keeps only the latest waiting', () => {
    const { client, workers, titles } = bench();
    for (const text of ['a', 'b', 'c', 'd']) client.request(request(text));
    expect(workers[0]?.inbox).toHaveLength(1);
    workers[0]?.reply(byHand);
    expect(workers[0]?.inbox).toHaveLength(1);
    workers[0]?.reply(byHand);
    expect(titles()).toEqual([
      ['a', false],
      ['d', true],
    ]);
  });

  it('never lets an answer come after a later one', () => {
    const { client, workers, titles } = bench();
    client.request(request('a'));
    const stale = workers[0]?.inbox[0];
    client.cancel();
    client.request(request('b'));
    workers[1]?.reply(byHand);
    if (stale) {
      workers[0]?.onmessage?.({ data: reply(stale, byHand) } as MessageEvent<FromWorker>);
    }
    expect(titles()).toEqual([['b', true]]);
    expect(workers[0]?.isTerminated).toBe(true);
  });

  it('gives a long computation up for a later request, and only then', () => {
    const { client, workers, titles } = bench();
    client.request(request('long'));
    vi.advanceTimersByTime(60_000);
    expect(workers[0]?.isTerminated).toBe(false);
    client.request(request('next'));
    vi.advanceTimersByTime(10_000);
    expect(workers[0]?.isTerminated).toBe(true);
    workers[1]?.reply(byHand);
    expect(titles()).toEqual([['next', true]]);
  });

  it('tells how far the ask under way has come, and of no other', () => {
    const { client, workers, progress, titles } = bench();
    client.request(request('long'));
    workers[0]?.progress(1, 0.25);
    client.request(request('next'));
    workers[0]?.progress(2, 0.3);
    workers[0]?.progress(1, 0.5);
    expect(progress).toEqual([0.25, 0.5]);
    expect(client.isBusy).toBe(true);
    workers[0]?.reply(byHand);
    workers[0]?.progress(1, 0.9);
    workers[0]?.progress(2, 0.1);
    expect(progress).toEqual([0.25, 0.5, 0.1]);
    client.cancel();
    expect(workers[0]?.isTerminated).toBe(true);
    workers[0]?.progress(2, 0.6);
    expect(progress).toEqual([0.25, 0.5, 0.1]);
    expect(titles()).toEqual([['long', false]]);
  });

  it('starts a crashed worker again and asks once more', () => {
    const { client, workers, titles } = bench();
    client.request(request('a'));
    workers[0]?.crash();
    expect(workers).toHaveLength(2);
    workers[1]?.reply(byHand);
    expect(titles()).toEqual([['a', true]]);
  });

  it('computes here when workers keep crashing or cannot be started', async () => {
    const crashing = bench();
    crashing.client.request(request('a'));
    crashing.workers[0]?.crash();
    crashing.workers[1]?.crash();
    await vi.runAllTimersAsync();
    expect(crashing.titles()).toEqual([['a', true]]);
    expect(crashing.workers).toHaveLength(2);

    const without = bench(() => {
      throw new DOMException('not allowed', 'SecurityError');
    });
    without.client.request(request('a'));
    without.client.request(request('b'));
    await vi.runAllTimersAsync();
    expect(without.titles().at(-1)).toEqual(['b', true]);
  });

  it('tells of an error in the computation and goes on', () => {
    const { client, workers, failures, titles } = bench();
    client.request(request('a'));
    workers[0]?.reply({
      ...byHand,
      walk: () => {
        throw new Error('the lattice is empty');
      },
    });
    expect(failures).toEqual(['the lattice is empty']);
    client.request(request('b'));
    workers[0]?.reply(byHand);
    expect(titles()).toEqual([['b', true]]);
  });

  it('does nothing more after being disposed of', () => {
    const { client, workers, answers } = bench();
    client.request(request('a'));
    client.dispose();
    expect(workers[0]?.isTerminated).toBe(true);
    expect(answers).toEqual([]);
  });

  it('gives an explanation up at once when another line is to be explained', () => {
    const { workers, startWorker } = handWorkers();
    const answers: Answered<'explain'>[] = [];
    const client = new TaskClient({
      task: 'explain',
      patience: 0,
      startWorker,
      loadDoers: () => Promise.resolve(byHand),
      onanswer: (given) => answers.push(given),
      onfailure: () => undefined,
    });
    const first = request('a');
    const second = request('b');
    client.request({ request: first, result: resultFor(first), room: true });
    client.request({ request: second, result: resultFor(second), room: true });
    vi.advanceTimersByTime(1);
    expect(workers[0]?.isTerminated).toBe(true);
    workers[1]?.reply(byHand);
    expect(answers.map(({ ask, answer }) => [ask.request.chartText, answer])).toEqual([['b', null]]);
  });
});
