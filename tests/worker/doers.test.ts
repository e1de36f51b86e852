// What the worker computes, and how often it tells how far it has come.
import { describe, expect, it } from 'vitest';
import { doers, makeDoers } from '../../src/worker/doers';
import { reply, throttled } from '../../src/worker/protocol';
import type { WalkRequest } from '../../src/pipeline';
import { newStudy } from '../../src/state/document';
import { requestOf } from '../../src/state/request';

const request = (text: string): WalkRequest => requestOf(newStudy(text));

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
    expect([...seen.keys()]).toEqual(['filter', 'path', 'choice', 'repeats']);
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
  ])('read %s', (_how, source) => {
    const ask = { source, part: null };
    const read = structuredClone(reply(structuredClone({ task: 'read', id: 3, ask }), doers));
    if (read.kind !== 'done' || read.answer === null || !('chart' in read.answer))
      throw new Error('no chart');
    expect(read.answer.chart.bars).toHaveLength(2);
  });
});
