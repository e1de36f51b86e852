// Edits that reuse what the request before left, against the same requests made from nothing.
import { describe, expect, it } from 'vitest';
import type { StringNumber } from '../../src/instrument';
import { seededRandom, soundingMidi, barNumber, type Random } from '../../src/music';
import { emptyCaches, explain, walk, type Caches, type WalkRequest } from '../../src/pipeline';
import { makeTimeline } from '../../src/pipeline/2-timeline';
import { bestPath, makeSampler, type Lattice } from '../../src/pipeline/4-solver';
import { chartOf } from '../../src/pipeline/pipeline';
import { makeInstance, requestWishes, solvedIn } from '../../src/pipeline/problem/instance';
import { chartText, positions, requestFor } from './request';

const chords = ['F7', 'Bb7', 'Gm7', 'C7', 'Am7b5', 'D7b9', 'Dbmaj7', 'F#m7', 'B7', 'Ebmaj7'];
const pick = <T>(values: readonly T[], random: Random): T => values[Math.floor(random() * values.length)]!;

/** A study as a player edits it: bars, pins, limits, the freedom of takes. */
interface Study {
  readonly bars: readonly string[];
  readonly changes: Partial<WalkRequest>;
}

const textOf = ({ bars }: Study): string => `Key: F\nTempo: 140\n| ${bars.join(' | ')} |\n`;
const requestOf = (study: Study): WalkRequest => requestFor(textOf(study), study.changes);

const swapped = (bars: readonly string[], at: number, removed: number, ...added: string[]): string[] =>
  bars.toSpliced(at, removed, ...added);

/** One edit of any kind, drawn by chance. */
function edit(study: Study, random: Random): Study {
  const { bars, changes } = study;
  const at = Math.floor(random() * bars.length);
  const { pins = [] } = changes;
  switch (Math.floor(random() * 7)) {
    case 0:
      return { ...study, bars: swapped(bars, at, 1, pick(chords, random)) };
    case 1:
      return { ...study, bars: swapped(bars, at, 1, `${pick(chords, random)} ${pick(chords, random)}`) };
    case 2:
      return bars.length < 6 ? { ...study, bars: swapped(bars, at, 0, pick(chords, random)) } : study;
    case 3:
      return bars.length > 3 ? { ...study, bars: swapped(bars, at, 1) } : study;
    case 4: {
      const pin = { bar: barNumber(at + 1), beat: 1 + Math.floor(random() * 4) };
      const wish = pick(
        [{ role: 'root' as const }, { string: 2 as StringNumber }, { midi: soundingMidi(41) }],
        random,
      );
      return {
        ...study,
        changes: { ...changes, pins: [...pins.slice(-2), { ...pin, ...wish }] },
      };
    }
    case 5:
      return { ...study, changes: { ...changes, pins: pins.slice(1) } };
    default: {
      const barredPositions = pick([[], positions('half'), positions('half', 'II'), positions('V')], random);
      return { ...study, changes: { ...changes, limits: { barredPositions } } };
    }
  }
}

function latticeOf(request: WalkRequest, caches: Caches): Lattice | null {
  const { timeline } = makeTimeline(chartOf(request).chart, { choruses: 1, tempo: null });
  const wishes = requestWishes(request, timeline!);
  return makeInstance(request, timeline!, wishes, undefined, caches)?.lattice ?? null;
}

/** The same lattice for a solver that remembers nothing. */
const forgotten = ({ slots, placementCount, memoryCount, startMemory }: Lattice): Lattice => ({
  slots,
  placementCount,
  memoryCount,
  startMemory,
});

describe('an edit', () => {
  it('costs the slots around it and gives what solving from nothing gives, hundreds of times over', () => {
    const random = seededRandom(2024);
    const caches = emptyCaches();
    let study: Study = { bars: ['F7', 'Bb7', 'Gm7', 'C7'], changes: {} };
    let solved = 0;
    for (let count = 0; count < 300; count++) {
      study = edit(study, random);
      // Low on the neck: a small lattice for many edits.
      const { limits = { barredPositions: [] } } = study.changes;
      const lattice = latticeOf({ ...requestOf(study), limits: { ...limits, highestStop: 4 } }, caches);
      if (!lattice) continue;
      solved++;
      if (count % 3 === 0) {
        const take = (from: Lattice): Int32Array | null =>
          makeSampler(from, 1, 1000).draw(seededRandom(count));
        expect(take(lattice)).toEqual(take(forgotten(lattice)));
      } else {
        expect(bestPath(lattice)).toEqual(bestPath(forgotten(lattice)));
      }
    }
    expect(solved).toBeGreaterThan(270);
  }, 120_000);

  it('gives the line, and everything told about it, that the same request gives from nothing', () => {
    const random = seededRandom(7);
    const caches = emptyCaches();
    let study: Study = { bars: ['Gm7', 'C7', 'F7'], changes: {} };
    for (let count = 0; count < 10; count++) {
      study = edit(study, random);
      const stay = count % 5 === 4 ? { stay: { region: 'low' as const, beats: 2 } } : {};
      const { limits = { barredPositions: [] } } = study.changes;
      const request = {
        ...requestOf(study),
        limits: { ...limits, ...stay },
        take: { seed: count, temperature: count % 2 },
      };
      const result = walk(request, undefined, caches);
      expect(result).toEqual(walk(request));
      expect(explain(request, result, { room: false }, caches)).toEqual(
        explain(request, result, { room: false }),
      );
    }
  }, 120_000);

  it('of a limit of any kind gives what the same request gives from nothing, on the way in and on the way out', () => {
    const none = { barredPositions: [] };
    const limits: readonly WalkRequest['limits'][] = [
      { barredPositions: positions('half') },
      { ...none, hardest: 'gentle' },
      { ...none, barredStrings: [1 as StringNumber], hardest: 'gentle' },
      { ...none, highest: soundingMidi(50) },
      { ...none, shares: [{ region: 'low', share: 0.5 }] },
      { ...none, stay: { region: 'low', beats: 3 }, hardest: 'gentle' },
    ];
    for (const temperature of [0, 1]) {
      const caches = emptyCaches();
      const text = textOf({ bars: ['F7', 'D7', 'Gm7', 'C7'], changes: {} });
      const limited = (limit: WalkRequest['limits']): WalkRequest =>
        requestFor(text, { limits: limit, choruses: 2, take: { seed: 5, temperature } });
      const unlimited = walk(limited(none));
      for (const limit of limits) {
        expect(walk(limited(limit), undefined, caches)).toEqual(walk(limited(limit)));
        expect(walk(limited(none), undefined, caches)).toEqual(unlimited);
      }
    }
  }, 120_000);

  it('taken back needs nothing solved again, limits and pins too', () => {
    for (const temperature of [0, 1]) {
      const caches = emptyCaches();
      const plain = requestFor(textOf({ bars: chords, changes: {} }), { take: { seed: 5, temperature } });
      const computed = (request: WalkRequest): number => {
        expect(walk(request, undefined, caches)).toEqual(walk(request));
        const { forward, filtered } = solvedIn(caches)!;
        return (temperature === 0 ? forward : filtered).last!.chain.computed;
      };
      const barred = { ...plain, limits: { barredPositions: positions('half') } };
      expect(computed(plain)).toBeGreaterThan(20);
      expect(computed(barred)).toBeGreaterThan(20);
      expect(computed(plain)).toBe(0);
      expect(computed(barred)).toBe(0);
      const pinned = computed({ ...plain, pins: [{ bar: barNumber(9), beat: 4, role: 'root' }] });
      expect(pinned).toBeGreaterThan(0);
      expect(pinned).toBeLessThan(20);
    }
  }, 60_000);

  it('of a form of 32 bars solves less than half of it again, for the best line and for takes', () => {
    const text = chartText('corner-table.txt');
    const bars = [...text.matchAll(/\|\s*([A-G][^|\n]*?)\s*(?=\|)/g)];
    const middle = bars[Math.floor(bars.length / 2)]!;
    const place = middle.index + middle[0].length;
    const edited = `${text.slice(0, middle.index)}| Bbm7 ${text.slice(place)}`;
    for (const temperature of [0, 1]) {
      const caches = emptyCaches();
      const take = { seed: 3, temperature };
      walk(requestFor(text, { take }), undefined, caches);
      const request = requestFor(edited, { take });
      expect(walk(request, undefined, caches)).toEqual(walk(request));
      const { forward, filtered } = solvedIn(caches)!;
      const { chain } = (temperature === 0 ? forward : filtered).last!;
      expect(chain.length).toBeGreaterThan(128);
      expect(chain.computed).toBeGreaterThan(3);
      expect(chain.computed).toBeLessThan(chain.length / 2);
    }
  }, 120_000);
});
