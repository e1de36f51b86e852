// The longest stay in ticks: an eighth is half a beat, a note of a triplet a third.
import { describe, expect, it } from 'vitest';
import { regionOf } from '../../src/instrument';
import { ticks, ticksPerQuarter } from '../../src/music';
import {
  countStays,
  isCounted,
  stayOf,
  type LineNote,
  type SlotCandidates,
  type StayLimit,
} from '../../src/pipeline';
import { makeTimeline } from '../../src/pipeline/2-timeline';
import { chartOf } from '../../src/pipeline/pipeline';
import { candidatesUnder } from '../../src/pipeline/problem/instance';
import { fingerLine } from '../../src/pipeline/given';
import { fingered, givenRequest, notesOf } from './given/lines';
import { chartText, requestFor, walked } from './request';

/** Ticks of the longest run of stopped notes in the low region. */
function longestRun(notes: readonly LineNote[]): number {
  let run = 0;
  let longest = 0;
  for (const { placement, ticks: length } of notes) {
    run = placement.finger !== '0' && regionOf(placement.position) === 'low' ? run + length : 0;
    longest = Math.max(longest, run);
  }
  return longest;
}

/** Candidates of a blues with the lengths of their slots put in place of the beats. */
function candidatesOf(...lengths: readonly number[]): ReturnType<typeof candidatesUnder> {
  const request = requestFor('Key: F\n| F7 | Bb7 | F7 | C7 |');
  const { timeline } = makeTimeline(chartOf(request).chart, { choruses: 1, tempo: null });
  const { candidates, placements } = candidatesUnder(request, timeline!, [], undefined);
  return {
    placements,
    candidates: lengths.map((length, index): SlotCandidates => {
      const one = candidates[index]!;
      return { ...one, slot: { ...one.slot, ticks: ticks(length) } };
    }),
  };
}

/** For each slot the most notes that a stay can have come to there. */
function longestStays(lengths: readonly number[], beats: number): number[] {
  const { candidates, placements } = candidatesOf(...lengths);
  const counted = countStays(candidates, placements, { region: 'low', beats });
  return counted.candidates.map((one) => Math.max(...one.placements.map(stayOf)));
}

describe('a longest stay', () => {
  it('of two beats holds two beats, four eighths, or a triplet and a beat, and no more', () => {
    expect(longestStays([480, 480, 480, 480], 2)).toEqual([1, 2, 2, 2]);
    expect(longestStays([240, 240, 240, 240, 240], 2)).toEqual([1, 2, 3, 4, 4]);
    expect(longestStays([160, 160, 160, 480, 240], 2)).toEqual([1, 2, 3, 4, 3]);
    expect(longestStays([480, 240, 240, 480, 960, 480], 2)).toEqual([1, 2, 3, 3, 1, 1]);
  });

  it('is held in the bars it is said for alone, and counts from the first of them', () => {
    const { candidates, placements } = candidatesOf(480, 480, 480, 480, 480, 480, 480, 480);
    const bars = candidates.map(({ slot }) => slot.bar);
    expect(bars).toEqual([0, 0, 0, 0, 1, 1, 1, 1]);
    const most = (during: StayLimit['during']): number[][] =>
      countStays(candidates, placements, {
        region: 'low',
        beats: 2,
        ...(during ? { during } : {}),
      }).candidates.map((one) => [
        ...new Set(one.placements.filter((at) => isCounted(at, { region: 'low' })).map(stayOf)),
      ]);
    const [none, one, two] = [[0], [1], [1, 2]];
    expect(most({ bars: [1], of: 4 })).toEqual([none, none, none, none, one, two, two, two]);
    expect(most({ bars: [0], of: 1 })).toEqual(most(undefined));
  });

  it('leaves a note out that is longer than it', () => {
    expect(longestStays([960, 480], 1)).toEqual([0, 1]);
  });

  it('in any one region holds in each, and begins anew with the next region', () => {
    const places = (region: 'any' | 'low', temperature: number): number[] =>
      [1, 2].flatMap((seed) => {
        const { notes, report } = walked(chartText('back-stairs-blues.txt'), {
          limits: { barredPositions: [], stay: { region, beats: 3 } },
          take: { seed, temperature },
        }).line;
        expect(notes.length).toBeGreaterThan(40);
        return [report.longestStay?.beats ?? 0];
      });
    expect(Math.max(...places('low', 1))).toBeGreaterThan(3);
    expect(Math.max(...places('any', 1), ...places('any', 0))).toBe(3);
  });

  it('in any one region costs more than a free hand, and is named where it cannot be kept', () => {
    const stay = { region: 'any' as const, beats: 1 };
    const { line } = fingered('C2 C#2 D2 Eb2 F2', { limits: { barredPositions: [], stay } });
    expect(line.report.longestStay!.beats).toBe(1);
    const free = fingered('C2 C#2 D2 Eb2 F2').line;
    expect(free.report.longestStay!.beats).toBeGreaterThan(1);
    expect(line.cost).toBeGreaterThan(free.cost);
    const { impossible } = fingerLine(
      notesOf('F1 F#1'),
      givenRequest({ limits: { barredPositions: [], stay } }),
    );
    expect(impossible!.message).toContain('no more than 1 beats in a row in any one region');
  });

  it('is kept to the tick in lines with skips, drops and triplets, and lets a run come up to it', () => {
    const runs = [1, 2, 3].flatMap((seed) =>
      [1, 2, 3].map((beats) => {
        const { line } = walked(chartText('back-stairs-blues.txt'), {
          choruses: 2,
          density: 1,
          limits: { barredPositions: [], stay: { region: 'low', beats } },
          take: { seed, temperature: 1 },
        });
        expect(line.notes.some((note) => note.ticks < ticksPerQuarter)).toBe(true);
        const run = longestRun(line.notes);
        expect(run).toBeLessThanOrEqual(beats * ticksPerQuarter);
        return run / ticksPerQuarter - beats;
      }),
    );
    expect(Math.max(...runs)).toBe(0);
  });
});
