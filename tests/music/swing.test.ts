import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  barIndexAt,
  bpm,
  eighthGroups,
  swingAt,
  swingOver,
  swungTick,
  ticks,
  togetherSeconds,
  type Meter,
  type SwingBar,
} from '../../src/music';
import { barTicks, beatGroups, isCompound } from '../../src/pipeline/1-chart/meter';

const inFour: Meter = { beats: 4, unit: 4 };

/** Bars end to end; `pickup` shortens the first one. */
function barsOf(meters: readonly Meter[], pickup?: number): SwingBar[] {
  let tick = 0;
  return meters.map((meter, index) => {
    const length = index === 0 && pickup !== undefined ? pickup : barTicks(meter);
    const bar = { tick: ticks(tick), ticks: ticks(length), meter };
    tick += length;
    return bar;
  });
}

describe('swing ratio by tempo', () => {
  // Jazz Trio Database, manual onsets: medians of the bass by tempo band; the open last band is taken at 300.
  it.each([
    [140, 2.35],
    [180, 1.96],
    [220, 1.54],
    [260, 1.5],
    [300, 1.28],
  ])('has the measured median at %i', (tempo, ratio) => {
    expect(swingAt(bpm(tempo)).bass).toBeCloseTo(ratio, 10);
  });

  it('goes on level beyond the outer bands', () => {
    expect(swingAt(bpm(40)).bass).toBe(2.35);
    expect(swingAt(bpm(320)).bass).toBe(1.28);
  });

  it('never jumps and never rises with the tempo', () => {
    for (let tempo = 40; tempo < 320; tempo++) {
      const here = swingAt(bpm(tempo));
      const next = swingAt(bpm(tempo + 1));
      expect(next.bass).toBeLessThanOrEqual(here.bass);
      expect(here.bass - next.bass).toBeLessThan(0.02);
      expect(next.cymbal).toBeLessThanOrEqual(here.cymbal);
      expect(here.cymbal - next.cymbal).toBeLessThan(0.05);
    }
  });

  // Friberg and Sundstrom 2002: about 3.5:1 at slow tempi, 1:1 at the fastest, the short note about 100 ms.
  it('gives the cymbal 3.5:1 when slow, even eighths at 300, and a short note of 100 ms between', () => {
    expect(swingAt(bpm(60)).cymbal).toBe(3.5);
    expect(swingAt(bpm(300)).cymbal).toBeCloseTo(1, 10);
    for (const tempo of [140, 180, 220, 260]) {
      const { cymbal } = swingAt(bpm(tempo));
      expect(60 / tempo / (cymbal + 1)).toBeCloseTo(0.1, 10);
    }
  });

  // Hofmann et al. 2017.
  it('knows how close bass and cymbal stay', () => {
    expect(togetherSeconds).toBe(0.019);
  });
});

describe('the swung place of a tick', () => {
  it('moves the off-beat eighth alone: beats, triplets and sixteenths stay', () => {
    const straight = [0, 120, 160, 240, 320, 360, 480];
    expect(straight.map((tick) => swungTick(ticks(tick), 2))).toEqual([0, 120, 160, 320, 320, 360, 480]);
  });

  it('puts the off-beat at ratio/(ratio+1) of the beat, to the nearest tick', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 4, noNaN: true }),
        fc.integer({ min: 0, max: 2000 }),
        (ratio, beat) => {
          const swung = swungTick(ticks(beat * 480 + 240), ratio);
          expect(Number.isInteger(swung)).toBe(true);
          expect(Math.abs(swung - beat * 480 - (480 * ratio) / (ratio + 1))).toBeLessThanOrEqual(0.5);
        },
      ),
    );
  });

  it('leaves a note written at the triplet place where it is, so that it does not swing twice', () => {
    const once = swungTick(ticks(240), 2);
    expect(once).toBe(320);
    expect(swungTick(once, 2)).toBe(once);
    expect(swungTick(ticks(320), 2.35)).toBe(320);
  });

  it('moves nothing when the eighths are even', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (tick) => {
        expect(swungTick(ticks(tick), 1)).toBe(tick);
      }),
    );
  });
});

describe('swing over bars of any length', () => {
  it('counts beats from the bar after a pickup of one eighth', () => {
    const swung = swingOver(barsOf([inFour, inFour, inFour], 240), 2);
    // The pickup is itself an off-beat; the bars start at 240 and 2160.
    expect(swung(ticks(0))).toBe(80);
    expect(swung(ticks(240))).toBe(240);
    expect(swung(ticks(480))).toBe(560);
    expect(swung(ticks(720))).toBe(720);
    expect(swung(ticks(2160))).toBe(2160);
    expect(swung(ticks(2400))).toBe(2480);
  });

  it('keeps every downbeat of bars of seven eighths and swings the second of each pair', () => {
    const seven: Meter = { beats: 7, unit: 8 };
    const bars = barsOf([seven, seven, seven]);
    const swung = swingOver(bars, 2);
    for (const bar of bars) {
      const eighths = [0, 240, 480, 720, 960, 1200, 1440].map((offset) => swung(ticks(bar.tick + offset)));
      expect(eighths.map((tick) => tick - bar.tick)).toEqual([0, 320, 480, 800, 960, 1200, 1440]);
    }
  });

  it('leaves compound meters as they are', () => {
    const bars = barsOf([{ beats: 12, unit: 8 }]);
    for (let eighth = 0; eighth < 12; eighth++) {
      expect(swingOver(bars, 3)(ticks(eighth * 240))).toBe(eighth * 240);
    }
  });

  it('keeps every bar line and the order of eighths in every meter', () => {
    const meters = fc.record({
      beats: fc.integer({ min: 1, max: 12 }),
      unit: fc.constantFrom(2 as const, 4 as const, 8 as const),
    });
    fc.assert(
      fc.property(
        fc.array(meters, { minLength: 1, maxLength: 6 }),
        fc.double({ min: 1, max: 4, noNaN: true }),
        (list, ratio) => {
          const bars = barsOf(list);
          const swung = swingOver(bars, ratio);
          const end = bars.at(-1)!.tick + bars.at(-1)!.ticks;
          for (const bar of bars) expect(swung(bar.tick)).toBe(bar.tick);
          expect(swung(ticks(end))).toBe(end);
          let last = -1;
          for (let tick = 0; tick <= end; tick += 240) {
            expect(swung(ticks(tick))).toBeGreaterThan(last);
            last = swung(ticks(tick));
          }
        },
      ),
    );
  });

  it('groups eighths as the pipeline groups the beats of the same meter', () => {
    for (const beats of [2, 3, 4, 5, 7, 8, 10, 11]) {
      const meter: Meter = { beats, unit: 8 };
      if (!isCompound(meter) && beats > 3) expect(eighthGroups(beats)).toEqual(beatGroups(meter));
      expect(eighthGroups(beats).reduce((sum, group) => sum + group, 0)).toBe(beats);
    }
  });

  it('finds the bar of a tick', () => {
    const bars = barsOf([inFour, { beats: 3, unit: 4 }, inFour]);
    expect([0, 1919, 1920, 3359, 3360, 99_999].map((tick) => barIndexAt(bars, tick))).toEqual([
      0, 0, 1, 1, 2, 2,
    ]);
  });
});
