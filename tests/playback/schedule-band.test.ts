// What of a band's plan becomes events: where, how loud, how long; and what a schedule says of its rounds.
import { describe, expect, it } from 'vitest';
import patternData from '../../shared/rhythm/patterns.json' with { type: 'json' };
import { barIndex, bpm } from '../../src/music';
import { feels, readChart } from '../../src/pipeline/1-chart';
import { makeTimeline } from '../../src/pipeline/2-timeline';
import {
  fitLoop,
  makeSchedule,
  type ChordEvent,
  type DrumEvent,
  type PlaybackEvent,
} from '../../src/playback';
import { barHits } from '../../src/playback/band/hits';
import { bandPlan } from '../../src/playback/band/plan';
import { compHits } from '../../src/playback/comping';
import { chartIn } from './feel-charts';
import { musicOf, settingsWith, swingBlues, type Moment } from './fixtures';

const band = ['cymbal', 'hi-hat', 'drums'] as const;
const isOfBand = (event: PlaybackEvent): event is DrumEvent => band.some((part) => part === event.part);
const sorted = (list: readonly string[]): string[] => [...list].sort();

describe('the drums of a schedule', () => {
  it.each(feels)('are those of the plan in %s, each as loud as its bar is lifted', (feel) => {
    const music = musicOf(chartIn(feel), undefined, 2);
    const { timeline } = music;
    const wish = settingsWith({ seed: 11, swing: 1 });
    const plan = bandPlan(timeline, wish);
    const { events } = makeSchedule(music, wish);
    const { velocityShare } = patternData.variation;
    timeline.bars.forEach((bar, i) => {
      const written = barHits(bar, plan[i]!);
      const played = events
        .filter(isOfBand)
        .filter(({ tick }) => tick >= bar.tick && tick < bar.tick + bar.ticks);
      expect(sorted(played.map(({ sound }) => sound))).toEqual(sorted(written.map(({ sound }) => sound)));
      for (const { sound, offset, velocity } of written) {
        const near = played.filter(
          (event) => event.sound === sound && Math.abs(event.tick - bar.tick - offset) <= 3,
        );
        expect(near.length).toBeGreaterThan(0);
        const wanted = velocity * plan[i]!.lift;
        expect(
          near.some((event) => {
            const least = Math.max(0.05, wanted * (1 - velocityShare));
            return event.velocity >= least - 1e-9 && event.velocity <= wanted * (1 + velocityShare) + 1e-9;
          }),
        ).toBe(true);
      }
    });
    expect(new Set(plan.map(({ lift }) => lift)).size).toBeGreaterThan(1);
  });

  it('that are stopped by hand at the end are stopped where the ending says', () => {
    const { chart } = readChart(chartIn('swing'));
    const { timeline } = makeTimeline(chart, { choruses: 1, tempo: null, ending: 'final' });
    const music = { timeline: timeline!, notes: [] };
    const wish = settingsWith({ isLoose: false, swing: 1 });
    const last = timeline!.bars.at(-1)!;
    const written = barHits(last, bandPlan(timeline!, wish).at(-1)!).filter(
      ({ dampAt }) => dampAt !== undefined,
    );
    const damped = makeSchedule(music, wish)
      .events.filter(isOfBand)
      .filter((event) => event.damp !== undefined);
    expect(written.length).toBeGreaterThan(0);
    expect(damped.map(({ sound, damp }) => [sound, damp])).toEqual(
      written.map(({ sound, dampAt }) => [sound, last.tick + dampAt!]),
    );
  });

  it('stir without a gap: a brush that goes round ends where it begins again', () => {
    const { events } = makeSchedule(musicOf(chartIn('ballad')), settingsWith({}));
    const stirs = events.filter(
      (event): event is DrumEvent => isOfBand(event) && event.sound === 'brush stir',
    );
    expect(stirs.length).toBeGreaterThan(10);
    stirs.slice(1).forEach(({ tick }, i) => {
      expect(stirs[i]!.damp).toBe(tick);
    });
    expect(stirs.at(-1)!.damp).toBeUndefined();
    for (const event of events)
      if (isOfBand(event) && event.sound !== 'brush stir') expect(event.damp).toBeUndefined();
  });

  it('come a little early or late off the beat where the band is loose, never on it', () => {
    const music = musicOf(swingBlues, undefined, 3);
    /** How far from the half of a beat, of what is near it; fills have triplets, too. */
    const offsets = (isLoose: boolean): number[] => {
      const { events } = makeSchedule(music, settingsWith({ isLoose, swing: 1 }));
      const off = events.filter(isOfBand).map(({ tick }) => (tick % 480) - 240);
      return off.filter((offset) => Math.abs(offset) < 20);
    };
    expect(new Set(offsets(false))).toEqual(new Set([0]));
    expect([...new Set(offsets(true))].sort((a, b) => a - b)).toEqual([-3, -2, -1, 0, 1, 2, 3]);
    // The click keeps time.
    const clicks = makeSchedule(music, settingsWith({ swing: 1 })).events.filter(
      ({ part }) => part === 'click',
    );
    expect(clicks.every(({ tick }) => tick % 480 === 0)).toBe(true);
  });

  // At 60 the bass swings 2.35 to 1 or more, the cymbal otherwise: what both play may be 19 ms apart, 9.12 ticks.
  it('keep a cymbal with a bass note of its own beat, and leave one without alone', () => {
    const skip: Moment[] = [
      { tick: 0, ticks: 720 },
      { tick: 720, ticks: 240 },
      { tick: 960, ticks: 960 },
    ];
    const tempo = bpm(60);
    const wish = settingsWith({ tempo, isLoose: false });
    const skips = (moments: Moment[]): number[] =>
      makeSchedule(musicOf(swingBlues, moments), wish)
        .events.filter(({ part, tick }) => part === 'cymbal' && tick > 480 && tick < 960)
        .map(({ tick }) => tick);
    const [alone] = skips([{ tick: 0, ticks: 960 }]);
    const [together] = skips(skip);
    const bass = makeSchedule(musicOf(swingBlues, skip), wish).notes[1]!.start;
    expect(Math.abs(alone! - bass)).toBeGreaterThan(8);
    expect(together! - bass).toBe(8 * Math.sign(alone! - bass));
  });
});

describe('the chords of a schedule', () => {
  // High notes with rests between, so that what sounds is not what sounded last.
  const line: Moment[] = Array.from({ length: 96 }, (_, i) => ({
    tick: i * 480 + (i % 5 === 0 ? 240 : 0),
    ticks: i % 3 === 0 ? 240 : 480,
    midi: 34 + ((i * 11) % 30),
  }));
  const music = musicOf(swingBlues, line, 2);
  const { bars } = music.timeline;
  const wish = settingsWith({ swing: 1, isLoose: false, seed: 3 });
  const hits = compHits(bars, bandPlan(music.timeline, wish), {
    from: 0,
    to: bars.length - 1,
    goesRound: true,
    topOfBass: (from, to) =>
      Math.max(
        -Infinity,
        ...line.filter(({ tick, ticks }) => tick < to && tick + ticks > from).map(({ midi }) => midi!),
      ),
  }).flat();
  const chordsUnder = (notes: typeof music.notes, leans: boolean): ChordEvent[] =>
    makeSchedule({ ...music, notes }, { ...wish, leans }).events.filter((event) => event.part === 'chords');

  it('are those of the plan, off what the bass has meanwhile, whatever the order of its notes', () => {
    const wanted = hits.map(({ tick, ticks, midis }) => ({ tick, damp: tick + ticks, midis }));
    for (const notes of [music.notes, music.notes.toReversed()]) {
      const played = chordsUnder(notes, false).map(({ tick, damp, midis }) => ({ tick, damp, midis }));
      expect(played).toEqual(wanted);
    }
  });

  it('lean back a little and end where they would', () => {
    const played = chordsUnder(music.notes, true);
    const late = played.map(({ tick }, i) => tick - hits[i]!.tick);
    // 3 to 9 ms at 120: a tick is about one.
    expect(Math.min(...late)).toBeGreaterThanOrEqual(2);
    expect(Math.max(...late)).toBeLessThanOrEqual(9);
    expect(played.map(({ damp }) => damp)).toEqual(hits.map(({ tick, ticks }) => tick + ticks));
  });
});

describe('what a schedule says of its rounds', () => {
  const thrice = musicOf(swingBlues, undefined, 3);

  it('is how many choruses a pass has: all where the whole form goes round, else one', () => {
    expect(makeSchedule(thrice, settingsWith({})).roundsPerPass).toBe(3);
    expect(makeSchedule(thrice, settingsWith({ loop: 'none' })).roundsPerPass).toBe(3);
    const from = (first: number, last: number): number =>
      makeSchedule(thrice, settingsWith({ loop: { from: barIndex(first), to: barIndex(last) } }))
        .roundsPerPass;
    expect([from(0, 35), from(0, 34), from(1, 35)]).toEqual([3, 1, 1]);
  });

  it('is where each bar begins and ends, and in which chorus', () => {
    const { bars } = makeSchedule(thrice, settingsWith({}));
    expect(bars).toHaveLength(36);
    expect([bars[0], bars[12], bars[35]]).toEqual([
      { start: 0, end: 1920, chorus: 0 },
      { start: 23_040, end: 24_960, chorus: 1 },
      { start: 67_200, end: 69_120, chorus: 2 },
    ]);
  });

  it('is where it begins: at a bar of the loop, its ends among them', () => {
    const loop = { from: barIndex(4), to: barIndex(7) };
    const startAt = (bar: number): number =>
      makeSchedule(thrice, settingsWith({ loop }), barIndex(bar)).start / 1920;
    expect([3, 4, 5, 7, 8].map(startAt)).toEqual([4, 4, 5, 7, 4]);
  });

  it('has its loop in whole bars, and the first where there is no form', () => {
    expect(fitLoop({ from: barIndex(2), to: barIndex(2) }, 12)).toEqual({ from: 2, to: 2 });
    expect(fitLoop({ from: 2.7 as never, to: 5.2 as never }, 12)).toEqual({ from: 2, to: 5 });
    expect(fitLoop('form', 0)).toEqual({ from: 0, to: 0 });
    expect(fitLoop('none', 4)).toEqual({ from: 0, to: 3 });
  });
});
