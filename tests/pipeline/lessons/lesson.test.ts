// Lessons: every rule of a layer holds on the line, whatever the chart, the key and the ground; checked by code that shares
// nothing with the engine. The whole matrix is reported by `npm run bench -- lessons`; here are samples of it.
import { describe, expect, it } from 'vitest';
import { parseKey, seededRandom, type SoundingMidi } from '../../../src/music';
import {
  emptyCaches,
  groundIds,
  layerIds,
  readChart,
  type GroundId,
  type LayerId,
  type Line,
} from '../../../src/pipeline';
import { layerFaults } from '../../checks/layer-rules';
import { chartNames, chartText, positions } from '../request';
import { faultsOf, lessonOf, lineOf } from './made';

const swingCharts = chartNames.filter((name) => readChart(chartText(name)).chart.header.feel === 'swing');
const keys = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const blues = chartText('back-stairs-blues.txt');

/** Some of all pairs, by a seed of their own. */
function sample<A, B>(as: readonly A[], bs: readonly B[], count: number, seed: number): [A, B][] {
  const random = seededRandom(seed);
  const pick = <T>(values: readonly T[]): T => values[Math.floor(random() * values.length)]!;
  return Array.from({ length: count }, () => [pick(as), pick(bs)]);
}

describe('lessons', () => {
  it('knows the swing charts', () => {
    expect(swingCharts.length).toBeGreaterThanOrEqual(7);
  });

  it.each(sample(swingCharts, layerIds, 6, 4))('%s, %s: every rule of the layer holds', (name, layer) => {
    const lesson = lessonOf(chartText(name), { layer });
    expect(faultsOf(lesson)).toEqual([]);
    expect(lesson.changes).toBeNull();
  });

  it.each(sample(keys, layerIds, 6, 7))('%s, %s: holds without half position', (key, layer) => {
    const half = positions('half');
    const lesson = lessonOf(blues, {
      layer,
      changes: { key: parseKey(key)!, limits: { barredPositions: half } },
    });
    expect(faultsOf(lesson)).toEqual([]);
    const stopped = lineOf(lesson).notes.filter(({ placement }) => placement.finger !== '0');
    expect(stopped.some(({ placement }) => half.includes(placement.position))).toBe(false);
  });

  it('says what every layer changed of the one before, and keeps the rest', () => {
    const caches = emptyCaches();
    let before: Line | null = null;
    for (const layer of ['frame', 'below', 'anywhere', 'pair', 'elsewhere'] satisfies LayerId[]) {
      const lesson = lessonOf(blues, { layer, before, caches });
      const line = lineOf(lesson);
      expect(faultsOf(lesson)).toEqual([]);
      if (before) {
        const changed = new Set(lesson.changes!.notes);
        line.notes.forEach(({ midi }, index) => {
          expect(changed.has(index)).toBe(midi !== (before as Line).notes[index]!.midi);
        });
        expect(changed.size).toBeGreaterThan(0);
        expect(changed.size).toBeLessThan(line.notes.length);
      }
      before = line;
    }
  });

  it('changes nothing of a line that holds the layer already', () => {
    const before = lineOf(lessonOf(blues, { layer: 'below' }));
    const lesson = lessonOf(blues, { layer: 'below', before });
    expect(lesson.changes).toEqual({ notes: [], fingers: [] });
    expect(lineOf(lesson).notes.map(({ placement }) => placement.id)).toHaveLength(before.notes.length);
  });
});

describe('fewest changes on a small chart', () => {
  const small = 'Key: F\nMeter: 2/4\n\n| F7 | Bb7 |\n';

  /** The fewest notes that a line holding the layer has otherwise, trying every line of the range by rising changes. */
  function fewestOf(layer: LayerId, before: Line): number {
    const midis = before.notes.map(({ midi }) => midi);
    const isGood = (line: readonly number[]): boolean =>
      layerFaults(
        layer,
        before.notes.map((note, index) => ({ ...note, midi: line[index]! as SoundingMidi })),
      ).length === 0;
    for (let count = 0; count <= midis.length; count++) if (someWith(midis, count, 0, isGood)) return count;
    return Number.POSITIVE_INFINITY;
  }

  function someWith(
    midis: readonly number[],
    count: number,
    from: number,
    isGood: (line: readonly number[]) => boolean,
  ): boolean {
    if (count === 0) return isGood(midis);
    for (let at = from; at <= midis.length - count; at++)
      for (let midi = 28; midi <= 55; midi++)
        if (midi !== midis[at] && someWith(midis.with(at, midi), count - 1, at + 1, isGood)) return true;
    return false;
  }

  it.each([
    ['ground', 'frame'],
    ['frame', 'below'],
    ['below', 'above'],
    ['above', 'fall'],
    ['pillars', 'step'],
    ['frame', 'elsewhere'],
  ] as const)('from %s to %s they are those of all lines tried', (from, layer) => {
    const before = lineOf(lessonOf(small, { layer: from }));
    const lesson = lessonOf(small, { layer, before });
    expect(lesson.changes!.notes).toHaveLength(fewestOf(layer, before));
  });
});

describe('grounds', () => {
  it.each(sample(groundIds, layerIds, 5, 2))('%s, %s: the hand lives there', (ground, layer) => {
    const lesson = lessonOf(blues, { layer, ground });
    expect(faultsOf(lesson)).toEqual([]);
    expectOn(ground, lineOf(lesson));
  });

  it.each(['neck', 'open'] as const)('%s keeps what no mask can say', (ground) => {
    const lesson = lessonOf(blues, { layer: 'pillars', ground });
    expect(faultsOf(lesson)).toEqual([]);
    expectOn(ground, lineOf(lesson));
  });
});

function expectOn(ground: GroundId, { notes, report }: Line): void {
  const stopped = notes.filter(({ placement }) => placement.finger !== '0');
  const all = (test: (note: Line['notes'][number]) => boolean): void =>
    expect(stopped.every(test)).toBe(true);
  const within = (from: number, to: number): void =>
    all(({ placement: { position } }) => position >= from && position <= to);
  switch (ground) {
    case 'anywhere':
      return within(1, 12);
    case 'first':
      return within(1, 3);
    case 'middle':
      return within(3, 7);
    case 'block':
      return within(5, 10);
    case 'string':
      return all(({ placement }) => placement.string === 1);
    case 'no half':
      return within(2, 12);
    case 'neck': {
      const open = report.byRegion.find(({ region }) => region === 'open')?.share ?? 0;
      for (const region of ['low', 'middle', 'neck block'] as const) {
        const share = report.byRegion.find((one) => one.region === region)?.share ?? 0;
        expect(share / (1 - open)).toBeGreaterThanOrEqual(0.15 - 1e-9);
      }
      return;
    }
    case 'open':
      expect(report.bareShifts).toBe(0);
  }
}

describe('what cannot be', () => {
  it.each([
    ['Key: C\n| C7 | C7 | F#7 |', 'fall', {}, null],
    [
      'Key: D minor\nMeter: 3/4\n\n| Dm7 | A7 | Gm7 | A7 |',
      'run',
      {},
      /Run: .*scale run.*Bar \d+, beat \d.*Run asks for/,
    ],
    [
      'Key: C\nFeel: bossa\n\n| Cmaj7 | Dm7 |',
      'frame',
      {},
      /Frame: the third or seventh.*Bar 1.*Frame asks for E or B/,
    ],
  ] as const)('%s, %s: is said in words', (text, layer, changes, words) => {
    const lesson = lessonOf(text, { layer, changes });
    if (words === null) {
      expect(faultsOf(lesson)).toEqual([]);
      return;
    }
    expect(lesson.line).toBeNull();
    expect(lesson.impossible!.message.replaceAll('\n', ' ')).toMatch(words);
  });

  it('names the limits that stand in the way, and a position that would help', () => {
    const lesson = lessonOf('Key: F\n| Db7 | Db7 |', {
      layer: 'pillars',
      ground: 'first',
      changes: { limits: { barredPositions: positions('half', 'I', 'II') } },
    });
    expect(lesson.line).toBeNull();
    expect(lesson.impossible!.message).toMatch(/ barred/);
    expect(lesson.impossible!.message).toMatch(/Bar \d+, beat \d/);
    expect(lesson.impossible!.conflict.length).toBeGreaterThan(1);
  });

  it('has no line for a chart that holds nothing to play', () => {
    const lesson = lessonOf('Key: F\n| N.C. |', { layer: 'frame' });
    expect([lesson.timeline, lesson.line, lesson.impossible]).toEqual([null, null, null]);
  });
});
