import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { TaskClient, type Answered, type Doers, type WorkerLike } from '../../src/worker';
import { doers, makeDoers } from '../../src/worker/doers';
import { reply, throttled, type FromWorker, type ToWorker } from '../../src/worker/protocol';
import type { WalkRequest, WalkResult } from '../../src/pipeline';
import { newStudy } from '../../src/state/document';
import { requestOf } from '../../src/state/request';

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

/** A worker by hand: it clones what passes, as a real one does, and answers when told. */
class HandWorker implements WorkerLike {
  onmessage: WorkerLike['onmessage'] = null;
  onerror: WorkerLike['onerror'] = null;
  onmessageerror: WorkerLike['onmessageerror'] = null;
  readonly inbox: ToWorker[] = [];
  isTerminated = false;

  postMessage(message: ToWorker): void {
    this.inbox.push(structuredClone(message));
  }
  terminate(): void {
    this.isTerminated = true;
  }
  /** Answers the oldest message. */
  reply(walk = resultFor): void {
    const message = this.inbox.shift();
    if (!message) throw new Error('nothing to answer');
    const given: FromWorker = structuredClone(reply(message, { ...byHand, walk }));
    this.onmessage?.({ data: given } as MessageEvent<FromWorker>);
  }
  /** Tells that the oldest message is under way. */
  progress(id: number, done: number): void {
    const data: FromWorker = structuredClone({ kind: 'progress', id, progress: { pass: 'forward', done } });
    this.onmessage?.({ data } as MessageEvent<FromWorker>);
  }
  crash(): void {
    this.onerror?.({ preventDefault: () => undefined } as unknown as ErrorEvent);
  }
}

function bench(startWorker?: () => WorkerLike, onpainted?: (then: () => void) => void) {
  const workers: HandWorker[] = [];
  const answers: Answered<'walk'>[] = [];
  const failures: string[] = [];
  const progress: number[] = [];
  const client = new TaskClient({
    task: 'walk',
    patience: 2_000,
    onprogress: ({ done }) => progress.push(done),
    startWorker:
      startWorker ??
      (() => {
        const worker = new HandWorker();
        workers.push(worker);
        return worker;
      }),
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
    workers[0]?.reply();
    expect(titles()).toEqual([['a', true]]);
    expect(client.isBusy).toBe(false);
  });

  it('holds an answer back until the page has been painted after its ask', () => {
    const pictures: (() => void)[] = [];
    const { client, workers, titles } = bench(undefined, (then) => pictures.push(then));
    client.request(request('a'));
    workers[0]?.reply();
    expect(titles()).toEqual([]);
    expect(client.isBusy).toBe(true);
    pictures.shift()?.();
    expect(titles()).toEqual([['a', true]]);

    // In a run of asks an answer waits for one picture only.
    client.request(request('b'));
    client.request(request('c'));
    workers[0]?.reply();
    expect(pictures).toHaveLength(1);
    pictures.shift()?.();
    expect(titles()).toEqual([
      ['a', true],
      ['b', false],
    ]);
    workers[0]?.reply();
    expect(titles().at(-1)).toEqual(['c', true]);
  });

  it('forgets an answer held back when its ask is taken back', () => {
    const pictures: (() => void)[] = [];
    const { client, workers, titles } = bench(undefined, (then) => pictures.push(then));
    client.request(request('a'));
    workers[0]?.reply();
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
    workers[0]?.reply();
    workers[0]?.reply();
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
    workers[0]?.reply();
    expect(workers[0]?.inbox).toEqual([]);
  });

  it('runs one and keeps only the latest waiting', () => {
    const { client, workers, titles } = bench();
    for (const text of ['a', 'b', 'c', 'd']) client.request(request(text));
    expect(workers[0]?.inbox).toHaveLength(1);
    workers[0]?.reply();
    expect(workers[0]?.inbox).toHaveLength(1);
    workers[0]?.reply();
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
    workers[1]?.reply();
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
    workers[1]?.reply();
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
    workers[0]?.reply();
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
    workers[1]?.reply();
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
    workers[0]?.reply(() => {
      throw new Error('the lattice is empty');
    });
    expect(failures).toEqual(['the lattice is empty']);
    client.request(request('b'));
    workers[0]?.reply();
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
    const workers: HandWorker[] = [];
    const answers: Answered<'explain'>[] = [];
    const client = new TaskClient({
      task: 'explain',
      patience: 0,
      startWorker: () => {
        const worker = new HandWorker();
        workers.push(worker);
        return worker;
      },
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
    workers[1]?.reply();
    expect(answers.map(({ ask, answer }) => [ask.request.chartText, answer])).toEqual([['b', null]]);
  });
});

describe('progress', () => {
  it('is passed on once in an interval, the first time after one', () => {
    let time = 0;
    const seen: number[] = [];
    const tell = throttled(
      ({ done }) => seen.push(done),
      100,
      () => time,
    );
    for (const [at, done] of [
      [0, 0.1],
      [99, 0.2],
      [100, 0.3],
      [150, 0.4],
      [199, 0.5],
      [200, 0.6],
      [900, 0.7],
    ] as const) {
      time = at;
      tell({ pass: 'path', done });
    }
    expect(seen).toEqual([0.3, 0.6, 0.7]);
  });

  it('of a line comes pass by pass and rises to the end of each', () => {
    const seen = new Map<string, number[]>();
    const wanted = { ...request('Key: F\n| F7 | Bb7 | F7 | C7 |'), take: { seed: 1, temperature: 1 } };
    makeDoers().walk(wanted, ({ pass, done }) => seen.set(pass, [...(seen.get(pass) ?? []), done]));
    expect([...seen.keys()]).toEqual(['filter', 'path']);
    for (const values of seen.values()) {
      expect(values).toEqual([...values].sort((a, b) => a - b));
      expect(values.at(-1)).toBe(1);
    }
  });
});

describe('the computations of the worker', () => {
  it('walk and explain, with messages that can be cloned', () => {
    const wanted = request('Key: F\n| F7 | Bb7 | F7 | C7 |');
    const walked = reply(structuredClone({ task: 'walk', id: 1, ask: wanted }), doers);
    if (walked.kind !== 'done' || walked.answer === null || !('timeline' in walked.answer))
      throw new Error('no line');
    const result = structuredClone(walked.answer);
    expect(result.line?.notes).toHaveLength(16);
    const explained = structuredClone(
      reply({ task: 'explain', id: 2, ask: { request: wanted, result, room: false } }, doers),
    );
    expect(explained).toMatchObject({ kind: 'done', id: 2 });
    if (explained.kind !== 'done' || explained.answer === null || !('slots' in explained.answer)) {
      throw new Error('no explanation');
    }
    expect(explained.answer.slots).toHaveLength(16);
    expect(explained.answer.slots[0]?.spots[0]?.price).toBe(0);
  });

  it.each([
    ['a pasted text', '| F7 | Bb7 |'],
    ['a file', new TextEncoder().encode('| F7 | Bb7 |')],
  ])('read %s', (_how, ask) => {
    const read = structuredClone(reply(structuredClone({ task: 'read', id: 3, ask }), doers));
    if (read.kind !== 'done' || read.answer === null || !('chart' in read.answer))
      throw new Error('no chart');
    expect(read.answer.chart.bars).toHaveLength(2);
  });
});
