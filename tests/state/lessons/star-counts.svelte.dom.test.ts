// The devices of starred takes, counted together.
import { describe, expect, it } from 'vitest';
import { countDevices, keptOf, type WalkRequest } from '../../../src/pipeline';
import { newStudy, type StarredTake } from '../../../src/state';
import { StarCounts } from '../../../src/state/lessons';
import { doers } from '../../../src/worker/doers';
import { walked } from '../../pipeline/request';

const text = 'Key: F\n| F7 | Bb7 | F7 | Gm7 C7 |';

function counting(seeds: readonly number[]) {
  const takes = seeds.map((seed) => walked(text, { take: { seed, temperature: 1 } }));
  const stars = takes.map(({ line, timeline }, index): StarredTake => ({
    name: `${index}`,
    seed: seeds[index]!,
    kept: keptOf(line, timeline, []),
  }));
  const studio = { study: newStudy(text, { stars }), stars: stars as readonly StarredTake[] };
  const pending: (() => void)[] = [];
  let fail: () => void = () => undefined;
  const counts = new StarCounts(studio, (onanswer, onfailure) => ({
    request: (ask: WalkRequest) => {
      pending.push(() => onanswer({ ask, answer: doers.walk(ask, () => undefined) }));
      fail = () => onfailure('broken');
    },
    dispose: () => void pending.splice(0),
  }));
  return { takes, studio, counts, answer: () => pending.shift()?.(), fail: () => fail() };
}

describe('devices of starred takes', () => {
  it('are those of all of them together, beside people’s figures', () => {
    const { takes, counts, answer } = counting([1, 2, 3]);
    counts.count();
    for (const seen of [0, 1, 2]) {
      expect([counts.isWorking, counts.counted, counts.rows]).toEqual([true, seen, null]);
      answer();
    }
    expect(counts.isWorking).toBe(false);
    const expected = countDevices(
      takes.map(({ line, timeline }) => ({
        notes: line.notes,
        devices: line.devices,
        bars: timeline.bars.length,
      })),
    ).filter(({ count, compared }) => count > 0 || compared.length > 0);
    expect(counts.rows!.map(({ count, compared }) => [count, compared])).toEqual(
      expected.map(({ count, compared }) => [count, compared]),
    );
  });

  it('are forgotten when the stars change, can be stopped, and say when the work broke', () => {
    const { studio, counts, answer, fail } = counting([1, 2]);
    counts.count();
    counts.stop();
    expect(counts.isWorking).toBe(false);
    counts.count();
    answer();
    answer();
    expect(counts.rows).not.toBeNull();
    studio.stars = studio.stars.slice(1);
    expect(counts.rows).toBeNull();
    counts.count();
    fail();
    expect([counts.hasFailed, counts.isWorking]).toEqual([true, false]);
  });
});
