// What a tune comes to under prices, read from its path, beside what the line that is made of it says.
import { describe, expect, it } from 'vitest';
import { bpm } from '../../src/music';
import type { NightTune, NightWish } from '../../src/night';
import {
  deskOf,
  figuresUnder,
  requestUnder,
  solvedOf,
  solverOf,
  tempoOf,
  walkFreely,
  walkUnder,
} from '../../src/night/tune';
import { emptyCaches, walk } from '../../src/pipeline';
import { tuneOf } from './night';

const wishes: readonly NightWish[] = [
  { kind: 'most', region: 'middle', minutes: 1 },
  { kind: 'least', region: 'neck block', minutes: 1 },
];

const tunes: readonly NightTune[] = [
  tuneOf('wet-gravel-blues'),
  tuneOf('slow-tide', {}, 0.5),
  tuneOf('three-chairs', { tempo: bpm(190), choruses: 2 }),
  tuneOf('corner-table', { ending: 'final' }),
];

const deskFor = (tune: NightTune, asked: readonly NightWish[]) => {
  const solver = solverOf(tune, emptyCaches());
  return deskOf(tune, asked, tempoOf(walkFreely(tune, solver)), solver);
};

describe('figures read from the path', () => {
  it.each(tunes)('are those of the line: $title', (tune) => {
    for (const prices of [
      [0, 0],
      [9000, 0],
      [40_000, 25_000],
    ]) {
      const desk = deskFor(tune, wishes);
      const figured = figuresUnder(desk, prices);
      expect(figured).not.toBeNull();
      const fresh = walk(requestUnder(desk, prices));
      expect(figured).toEqual(solvedOf(desk, fresh, prices));
      expect(walkUnder(desk, prices)).toEqual(fresh);
    }
  });

  it('tell why there is no line, as `walk` does', () => {
    const barred = tuneOf('wet-gravel-blues', {
      limits: { barredPositions: [], barredStrings: [1, 2, 3, 4] as never },
    });
    const free = walkFreely(barred, solverOf(barred, emptyCaches()));
    expect(free.impossible).toEqual(walk(barred.request).impossible);
    expect(free.impossible!.message).toMatch(/string/);
  });

  it('are left to the line where a longest stay is asked for, and none where there is no line', () => {
    const [tune] = tunes;
    expect(figuresUnder(deskFor(tune!, [{ kind: 'stay', seconds: 4 }]), [])).toBeUndefined();
    const silent = { ...tune!, request: { ...tune!.request, chartText: 'Key: F\n| N.C. |' } };
    expect(figuresUnder(deskFor(silent, wishes), [1, 1])).toBeNull();
  });
});
