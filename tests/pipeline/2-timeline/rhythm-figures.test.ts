// Figures of the rhythm: where exactly their notes stand, what they keep, how many there are.
import { describe, expect, it } from 'vitest';
import { barIndex } from '../../../src/music';
import { readChart, type Feel } from '../../../src/pipeline/1-chart';
import { makeTimeline, type Slot, type Timeline } from '../../../src/pipeline/2-timeline';
import { putIn, withFigures } from '../../../src/pipeline/2-timeline/figures';
import {
  figures,
  hasOwnFigures,
  ownDensity,
  type Figure,
} from '../../../src/pipeline/2-timeline/figures-chances';
import {
  chooseFigures,
  fitsByGroup,
  type FigureWish,
  type Fit,
} from '../../../src/pipeline/2-timeline/figures-fits';
import { stopsOf, type Stop } from '../../../src/pipeline/2-timeline/rhythm-stops';
import { chartNames, chartText } from '../request';

const wish: FigureWish = { density: 1, seed: 1, goesRound: true, kept: [] };
const allFeels: readonly Feel[] = ['swing', 'two-feel', 'waltz', 'ballad', 'bossa', 'straight'];

const timelineOf = (text: string, changes: Partial<Parameters<typeof makeTimeline>[1]> = {}): Timeline =>
  makeTimeline(readChart(text).chart, { choruses: 1, tempo: null, ...changes }).timeline!;

interface Plain {
  readonly timeline: Timeline;
  readonly stops: readonly Stop[];
  readonly groups: ReturnType<typeof fitsByGroup>;
}

function plainOf(text: string, feel: Feel, changes: Partial<FigureWish> = {}): Plain {
  const timeline = timelineOf(text, { feel });
  const stops = timeline.bars.flatMap((bar) => stopsOf(bar, feel));
  return { timeline, stops, groups: fitsByGroup(stops, timeline.bars, feel, { ...wish, ...changes }) };
}

/** The same plain rhythm with the seeds of another take. */
const reseeded = ({ stops, timeline }: Plain, feel: Feel, seed: number): Plain['groups'] =>
  fitsByGroup(stops, timeline.bars, feel, { ...wish, seed });

const allFits = ({ groups }: Plain): readonly Fit[] => groups.flatMap(({ fits }) => fits);

/** "1+720" starts on tick 0 of the bar and lasts 720; the sign tells what kind of note it is. */
const signs = { plain: '+', ghost: 'x', drop: '↓', triplet: '3', anticipation: '<' } as const;
const shown = ({ bars }: Timeline, stops: readonly Stop[]): string =>
  stops
    .map(({ bar, tick, end, articulation }) => {
      const place = tick - bars[bar]!.tick;
      return `${bar + 1}:${place}${signs[articulation]}${end - tick}`;
    })
    .join(' ');

/** The chart with one figure that begins with the note on a beat, as text. */
function withOne(text: string, feel: Feel, figure: Figure, bar: number, beat: number): string {
  const plain = plainOf(text, feel);
  const fit = allFits(plain).find(({ figure: name, stop }) => {
    const { bar: index, beat: at } = plain.stops[stop]!;
    return name === figure && index === bar - 1 && at === beat;
  });
  if (!fit) throw new Error(`no ${figure} fits bar ${bar}, beat ${beat}`);
  return shown(plain.timeline, putIn(plain.stops, plain.timeline.bars, new Map([[fit.stop, fit]])));
}

describe('the notes of a figure', () => {
  const two = 'Meter: 4/4\nKey: C\n| Dm7 | G7 |\n';
  const waltz = 'Meter: 3/4\nKey: C\n| Dm7 | G7 |\n';

  it.each<readonly [string, Figure, string, Feel, number, number, string]>([
    [
      'skip before 2',
      'skip',
      two,
      'swing',
      1,
      1,
      '1:0+240 1:240x240 1:480+480 1:960+480 1:1440+480 2:0+480 2:480+480 2:960+480 2:1440+480',
    ],
    [
      'skip from the last beat back to the top',
      'skip',
      two,
      'swing',
      2,
      4,
      '1:0+480 1:480+480 1:960+480 1:1440+480 2:0+480 2:480+480 2:960+480 2:1440+240 2:1680x240',
    ],
    [
      'drop after 3',
      'drop',
      two,
      'swing',
      1,
      3,
      '1:0+480 1:480+480 1:960+240 1:1200↓240 1:1440+480 2:0+480 2:480+480 2:960+480 2:1440+480',
    ],
    [
      'triplet on 2',
      'triplet',
      two,
      'swing',
      1,
      2,
      '1:0+480 1:480+160 1:6403160 1:8003160 1:960+480 1:1440+480 2:0+480 2:480+480 2:960+480 2:1440+480',
    ],
    [
      'anticipation of the second bar',
      'anticipation',
      two,
      'swing',
      1,
      4,
      '1:0+480 1:480+480 1:960+480 1:1440+240 1:1680<720 2:480+480 2:960+480 2:1440+480',
    ],
    ['fill in two', 'fill', two, 'two-feel', 1, 3, '1:0+960 1:960+480 1:1440+480 2:0+960 2:960+960'],
    ['skip in two', 'skip', two, 'two-feel', 1, 1, '1:0+720 1:720x240 1:960+960 2:0+960 2:960+960'],
    [
      'a bar of three walked after one',
      'fill',
      waltz,
      'two-feel',
      1,
      1,
      '1:0+480 1:480+480 1:960+480 2:0+1440',
    ],
    [
      'skip before 3',
      'skip',
      waltz,
      'waltz',
      1,
      2,
      '1:0+480 1:480+240 1:720x240 1:960+480 2:0+480 2:480+480 2:960+480',
    ],
    [
      'half a bar held',
      'held',
      two,
      'ballad',
      1,
      1,
      '1:0+960 1:960+480 1:1440+480 2:0+480 2:480+480 2:960+480 2:1440+480',
    ],
    [
      'bossa with the next chord on and of 4',
      'anticipation',
      two,
      'bossa',
      1,
      4.5,
      '1:0+720 1:720+240 1:960+720 1:1680<960 2:720+240 2:960+720 2:1680+240',
    ],
  ])('%s', (_what, figure, text, feel, bar, beat, expected) => {
    expect(withOne(text, feel, figure, bar, beat)).toBe(expected);
  });

  it('an anticipated downbeat takes a skip of its own bar', () => {
    const plain = plainOf(two, 'swing');
    const pick = (figure: Figure, stop: number): Fit =>
      allFits(plain).find((fit) => fit.figure === figure && fit.stop === stop)!;
    const chosen = new Map([
      [3, pick('anticipation', 3)],
      [4, pick('skip', 4)],
    ]);
    expect(shown(plain.timeline, putIn(plain.stops, plain.timeline.bars, chosen))).toBe(
      '1:0+480 1:480+480 1:960+480 1:1440+240 1:1680<480 2:240x240 2:480+480 2:960+480 2:1440+480',
    );
  });

  it('is not put where a rest follows, where beats are pinned, or over a chord change', () => {
    const rests = plainOf('Meter: 4/4\n| C6 | N.C. | G7 |\n', 'swing', { goesRound: false });
    const beats = allFits(rests).map(({ stop }) =>
      [rests.stops[stop]!.bar, rests.stops[stop]!.beat].join('.'),
    );
    expect(beats).not.toContain('0.4');
    expect(beats).not.toContain('2.4');
    const pinned = plainOf(two, 'swing', { kept: [{ bar: barIndex(1), beat: 1 }] });
    expect(allFits(pinned).filter(({ figure }) => figure === 'anticipation')).toEqual([]);
    const halves = plainOf('Meter: 4/4\n| C6 G7 A7 D7 |\n', 'ballad');
    expect(allFits(halves).filter(({ figure }) => figure === 'held')).toEqual([]);
  });
});

describe('density', () => {
  const text = chartText('corner-table.txt');

  it.each(chartNames)('0 leaves the rhythm of %s alone where its feel has no figures of its own', (name) => {
    const { feel: written } = timelineOf(chartText(name), {});
    const swung = hasOwnFigures(written) ? ('swing' as const) : written;
    const plain = timelineOf(chartText(name), { choruses: 2, feel: swung });
    expect(timelineOf(chartText(name), { choruses: 2, density: 0, seed: 77, feel: swung })).toEqual(plain);
    expect(plain.slots.every(({ articulation }) => articulation === undefined)).toBe(true);
    const { feel, bars } = plain;
    const stops = bars.flatMap((bar) => stopsOf(bar, feel));
    expect(plain.slots.map(({ tick, ticks }) => [tick, ticks])).toEqual(
      stops.map(({ tick, end }) => [tick, end - tick]),
    );
  });

  it.each([
    ['two-feel', 'fill', 0.4],
    ['ballad', 'held', 0.8],
  ] as const)('0 in a %s still makes its "%s", and no other figure', (feel, figure, own) => {
    expect(ownDensity(feel, figure)).toBe(own);
    const plain = plainOf(text, feel);
    const seeds = 200;
    let count = 0;
    for (let seed = 0; seed < seeds; seed++) {
      const chosen = chooseFigures(reseeded(plain, feel, seed * 7919), (_bar, one) => ownDensity(feel, one));
      expect([...chosen.values()].every((fit) => fit.figure === figure)).toBe(true);
      count += chosen.size;
    }
    const sum = allFits(plain)
      .filter((fit) => fit.figure === figure)
      .reduce((total, { chance }) => total + chance, 0);
    expect(Math.abs(count / seeds - own * sum)).toBeLessThan(4 * Math.sqrt((own * sum) / seeds));
  });

  it('gives the same figures for the same seed and others for another', () => {
    const slots = (seed: number): readonly Slot[] => timelineOf(text, { density: 0.6, seed }).slots;
    expect(slots(3)).toEqual(slots(3));
    expect(new Set([1, 2, 3, 4, 5].map((seed) => JSON.stringify(slots(seed)))).size).toBe(5);
  });

  it('adds figures as it grows and changes none', () => {
    const plain = plainOf(text, 'swing');
    for (let seed = 0; seed < 40; seed++) {
      const groups = reseeded(plain, 'swing', seed);
      let before = chooseFigures(groups, () => 0);
      expect(before.size).toBe(0);
      for (const density of [0.1, 0.3, 0.5, 0.8, 1]) {
        const now = chooseFigures(groups, () => density);
        for (const [stop, fit] of before) expect(now.get(stop)).toBe(fit);
        before = now;
      }
      expect(before.size).toBeGreaterThan(0);
    }
  });

  it.each(allFeels)('makes as many figures as its share of the chances: %s', (feel) => {
    const seeds = 400;
    const plain = plainOf(text, feel);
    const atMost = allFits(plain).reduce((sum, { chance }) => sum + chance, 0);
    const takes = Array.from({ length: seeds }, (_, seed) => reseeded(plain, feel, seed * 7919));
    for (const density of [0.25, 0.5, 1]) {
      const count = takes.reduce((sum, groups) => sum + chooseFigures(groups, () => density).size, 0);
      const expected = density * atMost;
      // A count of independent draws strays from its mean by less than its root; four of these are allowed.
      expect(Math.abs(count / seeds - expected)).toBeLessThan(4 * Math.sqrt(expected / seeds));
    }
  });

  it('uses every figure somewhere, and no group of beats can ask for more than one', () => {
    const used = new Set<string>();
    for (const name of chartNames) {
      for (const feel of allFeels) {
        for (const { fits } of plainOf(chartText(name), feel).groups) {
          expect(fits.reduce((sum, { chance }) => sum + chance, 0)).toBeLessThanOrEqual(1);
          for (const { figure } of fits) used.add(figure);
        }
      }
    }
    expect([...used].sort()).toEqual([...figures].sort());
  });

  it.each(allFeels)('never loses a chord change, nor leaves gaps or overlaps: %s', (feel) => {
    for (const name of chartNames) {
      const { stops, timeline } = plainOf(chartText(name), feel);
      for (let seed = 0; seed < 8; seed++) {
        const dense = withFigures(stops, timeline.bars, feel, { ...wish, seed });
        const places = new Set(dense.map(({ tick }) => tick));
        const early = new Set(
          dense.filter(({ articulation }) => articulation === 'anticipation').map(({ tick }) => tick + 240),
        );
        const firm = stops.filter(({ isChange, strength }) => isChange || strength === 3);
        expect(firm.filter(({ tick }) => !places.has(tick) && !early.has(tick))).toEqual([]);
        expect(dense.slice(1).every(({ tick }, index) => dense[index]!.end <= tick)).toBe(true);
        const sounding = (some: readonly Stop[]): number =>
          some.reduce((sum, { tick, end }) => sum + end - tick, 0);
        expect(sounding(dense)).toBe(sounding(stops));
      }
    }
  });

  it('takes no number amiss', () => {
    const most = timelineOf(text, { density: 1, seed: 4 }).slots;
    expect(timelineOf(text, { density: 5, seed: 4 }).slots).toEqual(most);
    const none = timelineOf(text).slots;
    expect(timelineOf(text, { density: -1, seed: 4 }).slots).toEqual(none);
    expect(timelineOf(text, { density: Number.NaN, seed: 4 }).slots).toEqual(none);
  });
});

describe('what a slot looks ahead to', () => {
  it('is the next note of its own, ornaments passed over; an anticipation brings its chord', () => {
    const { slots } = timelineOf(chartText('corner-table.txt'), { density: 1, seed: 5, choruses: 3 });
    const ornaments = slots.filter(({ articulation }) =>
      ['ghost', 'drop', 'triplet'].includes(articulation ?? ''),
    );
    expect(ornaments.length).toBeGreaterThan(20);
    for (const slot of ornaments) {
      expect(slot.isChange).toBe(false);
      expect(slot.harmony).toBe(slots[slot.index - 1]!.harmony);
      expect(slots[slot.index - 1]!.nextArticulation).toBe(slot.articulation);
    }
    const early = slots.filter(({ articulation }) => articulation === 'anticipation');
    expect(early.length).toBeGreaterThan(1);
    for (const slot of early) {
      expect(slot.harmony.tick).toBe(slot.tick + 240);
      expect(slots[slot.index - 1]!.nextIsDownbeat).toBe(true);
      expect(slots[slot.index - 1]!.nextHarmony).toBe(slot.harmony);
    }
  });
});
