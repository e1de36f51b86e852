import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barIndex, bpm } from '../../src/music';
import { makeSchedule, noteAt } from '../../src/playback';
import { TickClock } from '../../src/playback/clock';
import { firstAtOrAfter, heldInto, isYourTurn, lastStartedAt } from '../../src/playback/lookup';
import { musicOf, settingsWith, swingBlues } from './fixtures';

describe('what is heard at a tick', () => {
  const moments = [
    { tick: 0, ticks: 480 },
    { tick: 480, ticks: 240 },
    { tick: 1920, ticks: 480 },
  ];
  const schedule = makeSchedule(musicOf(swingBlues, moments, 1), settingsWith({ swing: 2 }));

  it('is the note, nothing in a rest, and the bar and chorus', () => {
    expect(noteAt(schedule, 0)).toEqual({ noteIndex: 0, bar: 0, chorus: 0 });
    expect(noteAt(schedule, 479.9)).toEqual({ noteIndex: 0, bar: 0, chorus: 0 });
    expect(noteAt(schedule, 480)).toEqual({ noteIndex: 1, bar: 0, chorus: 0 });
    expect(noteAt(schedule, 799)).toEqual({ noteIndex: 1, bar: 0, chorus: 0 });
    expect(noteAt(schedule, 800)).toEqual({ noteIndex: null, bar: 0, chorus: 0 });
    expect(noteAt(schedule, 1920)).toEqual({ noteIndex: 2, bar: 1, chorus: 0 });
  });

  it('is the first bar before the form and the last one after it', () => {
    expect(noteAt(schedule, -5)).toEqual({ noteIndex: null, bar: 0, chorus: 0 });
    expect(noteAt(schedule, 1e9)).toEqual({ noteIndex: null, bar: 11, chorus: 0 });
  });

  it('knows the chorus', () => {
    const twice = makeSchedule(musicOf(swingBlues, undefined, 2), settingsWith({}));
    expect(noteAt(twice, 12 * 1920)).toEqual({ noteIndex: 48, bar: 12, chorus: 1 });
  });

  it('agrees with looking at every note in turn', () => {
    const { notes } = schedule;
    fc.assert(
      fc.property(fc.double({ min: -10, max: 3000, noNaN: true }), (tick) => {
        const slow = notes.find((span) => span.start <= tick && tick < span.end)?.note ?? null;
        expect(noteAt(schedule, tick).noteIndex).toBe(slow);
      }),
    );
  });
});

describe('whose turn it is', () => {
  const bar = 1920;
  const thrice = musicOf(swingBlues, undefined, 3);

  it('changes with every chorus, counted on through passes', () => {
    const schedule = makeSchedule(thrice, settingsWith({ yourTurn: true }));
    const turns = [0, 1, 2].map((pass) =>
      [0, 1, 2].map((chorus) => isYourTurn(schedule, pass, chorus * 12 * bar + 480)),
    );
    expect(turns).toEqual([
      [false, true, false],
      [true, false, true],
      [false, true, false],
    ]);
  });

  it('changes with every pass of some bars, in whichever chorus they lie', () => {
    const loop = { from: barIndex(12), to: barIndex(15) };
    const schedule = makeSchedule(thrice, settingsWith({ yourTurn: true, loop }));
    expect([0, 1, 2, 3].map((pass) => isYourTurn(schedule, pass, 13 * bar))).toEqual([
      false,
      true,
      false,
      true,
    ]);
  });

  it('is the bass player of the band where nobody asked for a turn', () => {
    const schedule = makeSchedule(thrice, settingsWith({ yourTurn: false }));
    expect([0, 1].map((pass) => isYourTurn(schedule, pass, 12 * bar))).toEqual([false, false]);
  });
});

describe('a note held into a tick', () => {
  const schedule = makeSchedule(
    musicOf(swingBlues, [
      { tick: 0, ticks: 480, midi: 40 },
      { tick: 480, ticks: 1920, midi: 45 },
      { tick: 4800, ticks: 480, midi: 43, open: true },
      { tick: 5280, ticks: 480, midi: 38 },
    ]),
    settingsWith({ swing: 1 }),
  );
  const struck = schedule.events.filter((event) => event.part === 'bass');

  it('is that note as struck there, without a beginning', () => {
    expect(heldInto(schedule, 1920)).toEqual({ ...struck[1]!, tick: 1920, attack: 0 });
    expect(heldInto(schedule, 481)).toMatchObject({ midi: 45, tick: 481 });
    expect(heldInto(schedule, 5279)).toMatchObject({ midi: 43, tick: 5279 });
  });

  it('is none where a note begins, before the first, and in a rest', () => {
    for (const tick of [-480, 0, 480, 2400, 3000, 4800, 5280])
      expect(heldInto(schedule, tick)).toBeUndefined();
  });

  it('is none from the moment that it is taken off', () => {
    const { damp } = struck[1]!;
    expect(damp).toBeLessThan(2400);
    expect(heldInto(schedule, damp - 1)).toMatchObject({ midi: 45 });
    expect(heldInto(schedule, damp)).toBeUndefined();
  });
});

describe('binary searches', () => {
  it('agree with a search from the front', () => {
    const sorted = fc
      .array(fc.integer({ min: 0, max: 50 }), { maxLength: 30 })
      .map((list) => list.sort((a, b) => a - b));
    fc.assert(
      fc.property(sorted, fc.integer({ min: -5, max: 55 }), (list, tick) => {
        expect(
          lastStartedAt(
            list.map((start) => ({ start })),
            tick,
          ),
        ).toBe(list.findLastIndex((start) => start <= tick));
        const first = list.findIndex((one) => one >= tick);
        expect(
          firstAtOrAfter(
            list.map((one) => ({ tick: one })),
            tick,
          ),
        ).toBe(first < 0 ? list.length : first);
      }),
    );
  });
});

describe('the clock of ticks', () => {
  it('goes both ways through changes of tempo', () => {
    const changes = fc.array(
      fc.record({ tempo: fc.integer({ min: 40, max: 320 }), after: fc.integer({ min: 1, max: 5000 }) }),
    );
    fc.assert(
      fc.property(changes, fc.double({ min: 0, max: 20_000, noNaN: true }), (list, tick) => {
        const clock = new TickClock(2, bpm(120));
        let at = 0;
        for (const { tempo, after } of list) clock.setTempo(bpm(tempo), (at += after));
        expect(clock.tickAt(clock.timeOf(tick))).toBeCloseTo(tick, 5);
      }),
    );
  });

  it('forgets what is over', () => {
    const clock = new TickClock(0, bpm(120));
    for (let i = 1; i <= 50; i++) clock.setTempo(bpm(100 + i), i * 480);
    const time = clock.timeOf(51 * 480);
    clock.forgetBefore(time);
    expect(clock.size).toBe(1);
    expect(clock.timeOf(51 * 480)).toBe(time);
  });
});
