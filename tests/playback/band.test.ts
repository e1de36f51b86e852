// The band over whole forms: how it varies, where it leads in, how it ends, and what less and more make of it.
import { describe, expect, it } from 'vitest';
import { readChart, feels, type Feel } from '../../src/pipeline/1-chart';
import { makeTimeline } from '../../src/pipeline/2-timeline';
import {
  amounts,
  drumSounds,
  makeSchedule,
  type Amount,
  type DrumEvent,
  type Music,
  type Part,
  type Schedule,
} from '../../src/playback';
import { deedsOf } from '../../src/playback/deeds';
import { partSamples } from '../../src/playback/mixdown';
import { bandPlan, endsForGood } from '../../src/playback/band/plan';
import { sectionSpans } from '../../src/playback/band/spans';
import { musicOf, settingsWith } from './fixtures';

const chartOf = (feel: Feel, meter = feel === 'waltz' ? '3/4' : '4/4'): string => `Key: F
Meter: ${meter}
Feel: ${feel}

[A]
| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | D7 |
[B]
| Gm7 | C7 | F7 D7 | Gm7 C7 | Am7 | D7 | Gm7 | C7 |
[A]
| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | D7 |]
`;
const seeds = Array.from({ length: 8 }, (_, i) => 3 * i + 1);
const three = new Map(feels.map((feel) => [feel, musicOf(chartOf(feel), undefined, 3)]));
const made = new Map<string, Schedule>();
function scheduleOf(feel: Feel, change: Parameters<typeof settingsWith>[0]): Schedule {
  const wish = { seed: 1, amount: 'as usual', isLoose: true, ...change } as const;
  const name = JSON.stringify([feel, wish.seed, wish.amount, wish.isLoose]);
  const schedule = made.get(name) ?? makeSchedule(three.get(feel)!, settingsWith({ swing: 1, ...wish }));
  made.set(name, schedule);
  return schedule;
}

/** What a part plays in every bar, as sounds and eighths of a beat. */
const barsOf = ({ events, bars }: Schedule, part: DrumEvent['part']): string[] =>
  bars.map(({ start, end }) =>
    events
      .filter((event): event is DrumEvent => event.part === part && event.tick >= start && event.tick < end)
      .map(({ sound, tick }) => `${sound}${Math.round((tick - start) / 60)}`)
      .join(' '),
  );

function bitsOf(list: readonly string[]): number {
  const counts = new Map<string, number>();
  for (const one of list) counts.set(one, (counts.get(one) ?? 0) + 1);
  return [...counts.values()].reduce((sum, n) => sum - (n / list.length) * Math.log2(n / list.length), 0);
}

describe.each(feels)('the drums of a %s', (feel) => {
  it('vary on the cymbal by a bit and more from bar to bar, yet are no heap of chances', () => {
    for (const amount of amounts) {
      const bars = seeds.flatMap((seed) => barsOf(scheduleOf(feel, { seed, amount }), 'cymbal'));
      expect(bitsOf(bars), amount).toBeGreaterThan(1);
      expect(bitsOf(bars), amount).toBeLessThan(3);
    }
  });

  it('never play the same four bars twice in a chorus', () => {
    for (const amount of amounts)
      for (const seed of seeds) {
        const schedule = scheduleOf(feel, { seed, amount });
        const bars = barsOf(schedule, 'cymbal');
        for (const chorus of [0, 1, 2]) {
          const own = bars.filter((_, i) => schedule.bars[i]!.chorus === chorus);
          const fours = own.slice(3).map((_, i) => own.slice(i, i + 4).join(' | '));
          expect(new Set(fours).size).toBe(fours.length);
          for (const four of fours) expect(new Set(four.split(' | ')).size).toBeGreaterThan(1);
        }
      }
  });

  it('lead out of every section, seldom twice in the same way', () => {
    const { timeline } = three.get(feel)!;
    const sections = sectionSpans(timeline.bars);
    expect(sections).toHaveLength(9);
    const ways = seeds.map((seed) => {
      const plan = bandPlan(timeline, { seed, amount: 'as usual', isLoose: true });
      const { events, bars } = scheduleOf(feel, { seed });
      const leads = sections.map(({ to }) => plan[to]!.leadIn);
      leads.forEach((lead, i) => {
        expect(lead).not.toBeNull();
        const { end } = bars[sections[i]!.to]!;
        const last = events.filter(({ part, tick }) => part === 'drums' && tick >= end - 960 && tick < end);
        expect(last.length).toBeGreaterThan(0);
      });
      leads.slice(1).forEach((lead, i) => expect(lead).not.toBe(leads[i]));
      return new Set(leads).size;
    });
    expect(Math.max(...ways)).toBeGreaterThan(1);
  });

  it('are louder in the last chorus', () => {
    for (const part of ['cymbal', 'hi-hat', 'chords'] satisfies Part[]) {
      const mean = (chorus: number): number => {
        const found = seeds.flatMap((seed) => {
          const { events, bars } = scheduleOf(feel, { seed });
          const own = bars.filter((bar) => bar.chorus === chorus);
          return events.filter(
            (event) => event.part === part && event.tick >= own[0]!.start && event.tick < own.at(-1)!.end,
          );
        });
        return found.reduce((sum, { velocity }) => sum + velocity, 0) / found.length;
      };
      expect(20 * Math.log10(mean(2) / mean(1)), part).toBeGreaterThan(0.5);
      expect(Math.abs(20 * Math.log10(mean(1) / mean(0))), part).toBeLessThan(0.5);
    }
  });

  it('and the chords play more for more and less for less, and keep the time', () => {
    const countOf = (parts: readonly Part[], amount: Amount): number =>
      seeds.reduce(
        (sum, seed) =>
          sum + scheduleOf(feel, { seed, amount }).events.filter(({ part }) => parts.includes(part)).length,
        0,
      );
    for (const part of ['drums', 'chords'] satisfies Part[]) {
      const [less, usual, more] = amounts.map((amount) => countOf([part], amount)) as [
        number,
        number,
        number,
      ];
      expect(usual / less, part).toBeGreaterThan(1.04);
      expect(more / usual, part).toBeGreaterThan(1.02);
    }
    const clicks = amounts.map((amount) => countOf(['click'], amount));
    expect(new Set(clicks).size).toBe(1);
    // The hi-hat on its beat is the time: it is there in every bar, whatever is put in.
    for (const amount of amounts)
      for (const bar of barsOf(scheduleOf(feel, { amount }), 'hi-hat'))
        expect(bar).toMatch(/pedal hat(8|24)\b/);
  });

  it('are the same for the same seed, and plain where the band plays exactly', () => {
    const anew = makeSchedule(three.get(feel)!, settingsWith({ swing: 1, seed: 5 }));
    expect(scheduleOf(feel, { seed: 5 })).toEqual(anew);
    const of = (seed: number): string[] => barsOf(scheduleOf(feel, { seed }), 'drums');
    expect(of(5)).not.toEqual(of(6));
    for (const part of ['cymbal', 'hi-hat', 'drums'] as const)
      expect(new Set(barsOf(scheduleOf(feel, { isLoose: false }), part)).size).toBe(1);
  });
});

describe('sections', () => {
  const spans = (text: string, choruses = 1): string[] =>
    sectionSpans(musicOf(text, undefined, choruses).timeline.bars).map(({ from, to }) => `${from}-${to}`);

  it('begin with labels and choruses, and never with a pickup', () => {
    expect(spans(chartOf('swing'), 2)).toEqual(['0-7', '8-15', '16-23', '24-31', '32-39', '40-47']);
    expect(spans('Key: F\nMeter: 4/4\n\n| F7 | Bb7 | F7 | C7 |]', 2)).toEqual(['0-3', '4-7']);
    expect(spans('Key: F\nMeter: 4/4\n\n{pickup} C7 | F7 | Bb7 | F7 | C7 |]')).toEqual(['1-4']);
  });
});

/** Music whose line comes to rest. */
function restful(feel: Feel): Music {
  const music = musicOf(chartOf(feel));
  const { timeline } = makeTimeline(readChart(chartOf(feel)).chart, {
    choruses: 1,
    tempo: null,
    ending: 'final',
  });
  return { ...music, timeline: timeline! };
}

describe.each(feels)('the end of a %s that comes to rest', (feel) => {
  const music = restful(feel);
  const endings = seeds.map((seed) => makeSchedule(music, settingsWith({ seed, swing: 1, loop: 'none' })));

  it('is known from the line', () => {
    expect(endsForGood(music.timeline)).toBe(true);
    expect(endsForGood(three.get(feel)!.timeline)).toBe(false);
  });

  it('is a hit on the last downbeat, one chord, and cymbals stopped by hand', () => {
    for (const { events, bars } of endings) {
      const { start, end } = bars.at(-1)!;
      const last = events.filter(({ tick, part }) => tick >= start && part !== 'bass' && part !== 'click');
      const metal = last.filter(({ part }) => part === 'cymbal');
      expect(metal.length).toBeGreaterThan(0);
      for (const event of metal) {
        expect(event.tick).toBe(start);
        expect('damp' in event && event.damp > start + 480 && event.damp < end).toBe(true);
      }
      const chords = last.filter(({ part }) => part === 'chords');
      expect(chords.map(({ tick }) => tick)).toEqual([start]);
      expect('damp' in chords[0]! && chords[0].damp - start).toBeGreaterThan(960);
      const others = last.filter((event) => !('sound' in event && event.sound === 'brush stir'));
      for (const { tick } of others) expect(tick).toBe(start);
    }
  });

  it('is set up now and then by a tag that drums and chords play together', () => {
    const together = endings.filter(({ events, bars }) => {
      const { start, end } = bars.at(-2)!;
      const chords = events.filter(({ part, tick }) => part === 'chords' && tick >= start && tick < end);
      const drums = events.filter(({ part, tick }) => part === 'drums' && tick >= start && tick < end);
      return (
        chords.length > 0 && chords.every(({ tick }) => drums.some((hit) => Math.abs(hit.tick - tick) <= 3))
      );
    });
    expect(together.length).toBeGreaterThan(0);
  });
});

describe('a brush that goes round', () => {
  it('is in every beat of a ballad, each sound ended by the next, through lead-ins too', () => {
    const { events, end } = scheduleOf('ballad', { seed: 4 });
    const stirs = events.filter(
      (event): event is DrumEvent => 'sound' in event && event.sound === 'brush stir',
    );
    expect(stirs.map(({ tick }) => tick)).toEqual(Array.from({ length: end / 480 }, (_, beat) => beat * 480));
    stirs.slice(1).forEach(({ tick }, i) => expect(stirs[i]!.damp).toBe(tick));
  });
});

describe('a cymbal that is stopped by hand', () => {
  it('is damped where it is written, once, and nothing of it is left', () => {
    const settings = settingsWith({ swing: 1, loop: 'none', tempo: 120 as never });
    const schedule = makeSchedule(restful('swing'), settings);
    const last = schedule.bars.at(-1)!;
    const hit = schedule.events.find((event) => event.part === 'cymbal' && event.tick === last.start);
    const seconds = (tick: number): number => (tick / 480) * 0.5;
    const deeds = deedsOf(schedule, settings.tempo, seconds(schedule.end) + 2);
    const stops = deeds.flatMap((deed) => ('damps' in deed && deed.damps === 'cymbal' ? [deed.time] : []));
    const wanted = hit && 'damp' in hit ? hit.damp : NaN;
    // The strokes of one moment are stopped together; before it the cymbal rings as it will.
    expect(stops.at(-1)).toBeCloseTo(seconds(wanted), 6);
    for (const time of stops) expect(time).toBeGreaterThanOrEqual(seconds(last.start) - 1e-6);
    const one = new Float32Array(88_200).fill(0.5);
    const drums = new Map(drumSounds.map((sound) => [sound, one]));
    const bank = { bass: new Map(), chords: new Map(), drums, strings: null };
    const length = Math.round((seconds(schedule.end) + 2) * 44_100);
    const samples = partSamples('cymbal', deeds, bank, length, 44_100);
    const at = (time: number): number => Math.abs(samples[Math.round(time * 44_100)]!);
    expect(at(seconds(wanted) - 0.01)).toBeGreaterThan(0.05);
    expect(at(seconds(wanted) + 0.35)).toBe(0);
  });
});
