import { describe, expect, it } from 'vitest';
import { barIndex } from '../../src/music';
import { makeSchedule, type BassEvent, type PlaybackEvent, type PlaybackSettings } from '../../src/playback';
import { Conductor } from '../../src/playback/conductor';
import { heldInto } from '../../src/playback/lookup';
import { musicOf, settingsWith, type Moment } from './fixtures';

const chart = 'Key: F\nMeter: 4/4\nTempo: 120\nFeel: swing\n\n| F7 | Bb7 | F7 | C7 |]';
const exact: Partial<PlaybackSettings> = { isLoose: false, swing: 2 };
const bassOf = (moments: readonly Moment[], settings: Partial<PlaybackSettings> = exact): BassEvent[] =>
  makeSchedule(musicOf(chart, moments), settingsWith({ ...exact, ...settings })).events.filter(
    (event) => event.part === 'bass',
  );

interface Struck {
  readonly tick: number;
  readonly time: number;
  readonly note: number;
}
function heard(moments: readonly Moment[], settings: Partial<PlaybackSettings>, until: number): Struck[] {
  const struck: Struck[] = [];
  const wishes = settingsWith({ ...exact, ...settings });
  const sink = {
    strike: (event: PlaybackEvent, time: number) => {
      if (event.part === 'bass') struck.push({ tick: event.tick, time, note: event.note });
    },
    damp: () => undefined,
  };
  const schedule = makeSchedule(musicOf(chart, moments, 1), wishes);
  const conductor = new Conductor(schedule, wishes.tempo, 0, sink);
  for (let now = 0; now < until; now += 0.025) conductor.advance(now + 0.15);
  return struck.filter(({ time }) => time < until);
}

describe('the touch', () => {
  it('lets an open string ring up to the next note and on under another string, and ends a stopped one early', () => {
    const [open, stopped, last, same] = bassOf([
      { tick: 0, ticks: 480, open: true, string: 2, midi: 38 },
      { tick: 480, ticks: 480, string: 1, midi: 45 },
      { tick: 960, ticks: 480, open: true, string: 1, midi: 43 },
      { tick: 1440, ticks: 480, string: 1, midi: 45 },
    ]);
    expect([open?.damp, stopped!.damp < 960]).toEqual([480, true]);
    expect(stopped!.damp).toBeGreaterThanOrEqual(960 - 60);
    expect(open!.release).toBeGreaterThan(4 * stopped!.release);
    // A finger that comes down on the string ends what it rang.
    expect(last!.release).toBe(same!.release);
  });

  it('is louder on strong beats, short and soft on a dead note, without a pluck on a note pulled off', () => {
    const [down, weak, dead, first, pulled] = bassOf([
      { tick: 0, ticks: 480 },
      { tick: 480, ticks: 240 },
      { tick: 720, ticks: 240, articulation: 'ghost' },
      { tick: 960, ticks: 160, midi: 45 },
      { tick: 1120, ticks: 160, midi: 43, articulation: 'triplet' },
    ]);
    expect(down!.velocity).toBeGreaterThan(weak!.velocity);
    expect(weak!.velocity).toBeGreaterThan(dead!.velocity);
    expect(dead!.damp - dead!.tick).toBeLessThan(0.4 * 160);
    expect(dead!.release).toBeLessThan(weak!.release);
    expect([first!.attack, pulled!.attack > 0.005]).toEqual([0, true]);
    expect(pulled!.velocity).toBeLessThan(first!.velocity);
  });

  it('plucks a note of a triplet that is higher, or on another string', () => {
    const events = bassOf([
      { tick: 0, ticks: 160, midi: 43 },
      { tick: 160, ticks: 160, midi: 45, articulation: 'triplet' },
      { tick: 320, ticks: 160, midi: 40, string: 3, articulation: 'triplet' },
    ]);
    expect(events.map(({ attack }) => attack)).toEqual([0, 0, 0]);
  });

  it('differs slightly by seed, and not at all when it is not to', () => {
    const moments = [{ tick: 0, ticks: 480 }];
    const loose = [1, 2, 3].map((seed) => bassOf(moments, { seed, isLoose: true })[0]?.velocity);
    expect(new Set(loose).size).toBe(3);
    const plain = [1, 2, 3].map((seed) => bassOf(moments, { seed, isLoose: false })[0]?.velocity);
    expect(new Set(plain).size).toBe(1);
  });
});

describe('a loop over an anticipated bar', () => {
  /** Bar 2 (from 0) is anticipated by an eighth; so is bar 3. */
  const moments: Moment[] = [
    ...[0, 480, 960, 1440, 1920, 2400, 2880].map((tick) => ({ tick, ticks: 480 })),
    { tick: 3360, ticks: 240 },
    { tick: 3600, ticks: 240 + 480, midi: 41, articulation: 'anticipation' },
    { tick: 4320, ticks: 480 },
    { tick: 4800, ticks: 480 },
    { tick: 5280, ticks: 240 },
    { tick: 5520, ticks: 240 + 480, midi: 36, articulation: 'anticipation' },
    { tick: 6240, ticks: 480 },
    { tick: 6720, ticks: 960 },
  ];

  it('has its bass on the first beat, every time round', () => {
    const struck = heard(moments, { loop: { from: barIndex(2), to: barIndex(2) } }, 8);
    const perPass = 4;
    expect(struck).toHaveLength(4 * perPass);
    struck.forEach(({ time, note }, i) => {
      expect(time).toBeCloseTo(i * 0.5, 9);
      expect(note).toBe([8, 9, 10, 11][i % perPass]);
    });
  });

  it('does not anticipate the bar after it, which is not played: the note before is held', () => {
    const schedule = makeSchedule(
      musicOf(chart, moments),
      settingsWith({ ...exact, loop: { from: barIndex(2), to: barIndex(2) } }),
    );
    const last = schedule.events.findLast((event) => event.part === 'bass' && event.tick < 5760);
    expect(last).toMatchObject({ tick: 5280, damp: 5760 });
    expect(schedule.notes.find(({ note }) => note === 11)?.end).toBe(5760);
    const whole = makeSchedule(musicOf(chart, moments), settingsWith(exact));
    // Off the beat at 2:1: an eighth of 160 ticks before the bar.
    expect(whole.events.some((event) => event.part === 'bass' && event.tick === 5600)).toBe(true);
  });

  it('lights the held note from the first beat', () => {
    const schedule = makeSchedule(
      musicOf(chart, moments),
      settingsWith({ ...exact, loop: { from: barIndex(2), to: barIndex(2) } }),
    );
    expect(heldInto(schedule, 3840)).toMatchObject({ note: 8, tick: 3840, attack: 0 });
    expect(heldInto(schedule, 0)).toBeUndefined();
    expect(heldInto(schedule, 1920)).toBeUndefined();
  });
});

describe('your turn', () => {
  const quarters: Moment[] = Array.from({ length: 16 }, (_, i) => ({ tick: i * 480, ticks: 480 }));

  it('leaves every other pass of a loop to the person', () => {
    const struck = heard(quarters, { loop: { from: barIndex(1), to: barIndex(1) }, yourTurn: true }, 8);
    const passes = struck.map(({ time }) => Math.floor(time / 2 + 1e-9));
    expect(passes).toEqual([0, 0, 0, 0, 2, 2, 2, 2]);
  });

  it('leaves every other chorus of the form, through passes with an odd number of them', () => {
    const three = musicOf(chart, undefined, 3);
    const wishes = settingsWith({ ...exact, yourTurn: true });
    const bars: number[] = [];
    const sink = {
      strike: (event: PlaybackEvent, time: number) => {
        if (event.part === 'bass') bars.push(Math.floor(time / 2 + 1e-9));
      },
      damp: () => undefined,
    };
    const conductor = new Conductor(makeSchedule(three, wishes), wishes.tempo, 0, sink);
    const turns = [9, 17, 25].map((time) => {
      conductor.advance(time);
      return conductor.positionAt(time)?.isYourTurn;
    });
    conductor.advance(6 * 8 - 0.01);
    const choruses = [...new Set(bars.map((bar) => Math.floor(bar / 4)))];
    expect(choruses).toEqual([0, 2, 4]);
    expect(turns).toEqual([true, false, true]);
  });
});

describe('the queue', () => {
  const quarters: Moment[] = Array.from({ length: 16 }, (_, i) => ({ tick: i * 480, ticks: 480, midi: 40 }));
  const others: Moment[] = quarters.map((moment) => ({ ...moment, midi: 50 }));

  it('brings its music with the first note of the next pass, whatever changes before', () => {
    const wishes = settingsWith({ ...exact, loop: { from: barIndex(0), to: barIndex(0) } });
    const [now, next] = [quarters, others].map((moments) => makeSchedule(musicOf(chart, moments), wishes));
    const struck: { midi: number; time: number }[] = [];
    const told: [number, boolean][] = [];
    const sink = {
      strike: (event: PlaybackEvent, time: number) => {
        if (event.part === 'bass') struck.push({ midi: event.midi, time });
      },
      damp: () => undefined,
    };
    const conductor = new Conductor(now!, wishes.tempo, 0, sink, (pass, isQueued) => {
      told.push([pass, isQueued]);
    });
    conductor.advance(0.4);
    conductor.queue(next!);
    conductor.replace(now!, 'next beat');
    conductor.advance(1.2);
    conductor.replace(now!, 'next bar');
    conductor.advance(5.9);
    expect(struck.map(({ midi }) => midi)).toEqual([40, 40, 40, 40, ...Array<number>(8).fill(50)]);
    struck.forEach(({ time }, i) => {
      expect(time).toBeCloseTo(i * 0.5, 9);
    });
    expect(told).toEqual([
      [1, true],
      [2, false],
    ]);
  });
});
