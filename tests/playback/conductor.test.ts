// What the conductor hands over, note by note, and where it says it is.
import { describe, expect, it } from 'vitest';
import { barIndex } from '../../src/music';
import { makeSchedule } from '../../src/playback';
import { Conductor } from '../../src/playback/conductor';
import { musicOf, settingsWith, swingBlues, type Moment } from './fixtures';
import { Paper, music, lookAhead, startAt, tempo120, beat, bar, run, replaceBy } from './paper-band';

describe('playing', () => {
  it('begins with the first note, at the time asked for, and hands over each note once', () => {
    const { paper } = run({ loop: 'none' }, 30);
    expect(paper.bass.map(({ tick }) => tick)).toEqual(music.notes.map(({ tick }) => tick));
    for (const { tick, time } of paper.bass) expect(time).toBeCloseTo(startAt + (tick / 480) * beat, 9);
  });

  it('hands over nothing before it is due, and never late', () => {
    const paper = new Paper();
    const conductor = new Conductor(makeSchedule(music, settingsWith({})), tempo120, startAt, paper);
    for (let now = 0; now < 10; now += 0.025) {
      const before = paper.heard.length;
      conductor.advance(now + lookAhead);
      for (const { time } of paper.heard.slice(before)) {
        expect(time).toBeLessThan(now + lookAhead);
        expect(time).toBeGreaterThanOrEqual(now + lookAhead - 0.025 - 1e-9);
      }
    }
  });

  it('counts in once, before the loop, and never again', () => {
    const { paper } = run(
      { countInBars: 1, loop: { from: barIndex(2), to: barIndex(3) } },
      startAt + 5 * bar,
    );
    const counted = paper.heard.filter(
      ({ event, time }) => event?.part === 'click' && time < startAt + bar - 1e-6,
    );
    expect(counted).toHaveLength(4);
    expect(paper.bass[0]).toEqual({ tick: 2 * 1920, time: startAt + bar });
    const blocks = paper.heard.filter(({ event }) => event?.part === 'click' && event.sound === 'block low');
    expect(blocks).toHaveLength(3);
  });

  it('ends at the end of the form, the last note damped', () => {
    const { paper, conductor } = run({ loop: 'none' }, startAt + 13 * bar);
    expect(conductor.endTime).toBeCloseTo(startAt + 12 * bar, 9);
    expect(paper.heard.at(-1)?.what).toBe('damp');
    expect(conductor.positionAt(startAt + 12 * bar)).toBeNull();
    expect(conductor.positionAt(startAt + 12 * bar - 0.1)?.bar).toBe(11);
  });

  it('does not hang on a form without bars', () => {
    const empty = { ...makeSchedule(music, settingsWith({})), events: [], notes: [], bars: [] };
    const nowhere = { ...empty, start: empty.start, end: empty.start, loopStart: empty.start };
    const conductor = new Conductor(nowhere, tempo120, startAt, new Paper());
    conductor.advance(100);
    expect(conductor.endTime).toBe(startAt);
  });
});

describe('the loop', () => {
  it('comes round exactly, every note every time, nothing of another bar', () => {
    const { paper } = run({ loop: { from: barIndex(4), to: barIndex(5) } }, startAt + 20 * bar);
    const passTicks = Array.from({ length: 8 }, (_, i) => 4 * 1920 + i * 480);
    paper.bass.forEach(({ tick, time }, i) => {
      expect(tick).toBe(passTicks[i % 8]);
      expect(time).toBeCloseTo(startAt + i * beat, 9);
    });
    expect(paper.bass.length).toBeGreaterThanOrEqual(80);
  });

  it('starts right after any number of stops with other loops', () => {
    for (let round = 0; round < 10; round++) {
      const from = barIndex(round % 2 === 0 ? 4 : 8);
      const { paper } = run(
        { loop: { from, to: barIndex(from + 3) } },
        startAt + 0.05 + round * 0.07,
        [],
        undefined,
        from,
      );
      expect(paper.bass[0]).toEqual({ tick: from * 1920, time: startAt });
      for (const { tick } of paper.bass) expect(Math.floor(tick / 1920)).toBeLessThanOrEqual(from + 3);
    }
  });

  it('damps a note that would ring over its end', () => {
    const moments: Moment[] = [
      { tick: 0, ticks: 480 },
      { tick: 480, ticks: 4000 },
    ];
    const paper = new Paper();
    const schedule = makeSchedule(
      musicOf(swingBlues, moments),
      settingsWith({ loop: { from: barIndex(0), to: barIndex(0) } }),
    );
    const conductor = new Conductor(schedule, tempo120, startAt, paper);
    conductor.advance(startAt + 1.5 * bar);
    const bass = paper.heard.filter(({ part }) => part === 'bass');
    const again = bass.findIndex(({ event }, i) => i > 0 && event?.tick === 0);
    expect(bass[again - 1]).toMatchObject({ what: 'damp', time: startAt + bar });
  });

  it('tells of each pass before its first note', () => {
    const passes: number[] = [];
    run({ loop: { from: barIndex(0), to: barIndex(1) } }, startAt + 6.5 * bar, [], (pass) =>
      passes.push(pass),
    );
    expect(passes).toEqual([1, 2, 3]);
  });

  it('jumps to another loop at the next bar line', () => {
    const { paper } = run({ loop: { from: barIndex(0), to: barIndex(3) } }, startAt + 6 * bar, [
      {
        at: startAt + 1.3 * bar,
        act: replaceBy({ loop: { from: barIndex(8), to: barIndex(9) } }, 'next bar'),
      },
    ]);
    const bars = paper.bass.map(({ tick }) => Math.floor(tick / 1920));
    expect([...new Set(bars)]).toEqual([0, 1, 8, 9]);
    const first = paper.bass.find(({ tick }) => tick === 8 * 1920);
    expect(first?.time).toBeCloseTo(startAt + 2 * bar, 9);
  });

  it('goes on without a jump when the new loop holds the next bar', () => {
    const { paper } = run({ loop: { from: barIndex(0), to: barIndex(3) } }, startAt + 6 * bar, [
      { at: startAt + 3.3 * bar, act: replaceBy({ loop: 'form' }, 'next bar') },
    ]);
    expect(paper.bass.map(({ tick }) => tick)).toEqual(paper.bass.map((_, i) => i * 480));
  });
});

describe('damping', () => {
  it('ends each bass note before or as the next begins, and never twice', () => {
    const { paper } = run({ loop: { from: barIndex(0), to: barIndex(3) } }, startAt + 10 * bar);
    let sounding = false;
    let last = -Infinity;
    for (const { what, time } of paper.heard.filter(({ part }) => part === 'bass')) {
      expect(time).toBeGreaterThanOrEqual(last - 1e-9);
      expect(what === 'damp').toBe(sounding);
      sounding = what === 'strike';
      last = time;
    }
  });
});

describe('the position', () => {
  it('follows count-in, notes, bars and passes by the clock', () => {
    const { conductor } = run(
      { countInBars: 1, loop: { from: barIndex(1), to: barIndex(2) } },
      startAt + 3.5,
    );
    expect(conductor.positionAt(startAt - 0.5)).toMatchObject({ countIn: 4, noteIndex: null, bar: 1 });
    expect(conductor.positionAt(startAt + 0.6)).toMatchObject({ countIn: 3, noteIndex: null });
    expect(conductor.positionAt(startAt + bar)).toMatchObject({
      countIn: null,
      bar: 1,
      noteIndex: 4,
      pass: 0,
    });
    expect(conductor.positionAt(startAt + bar + 0.6)).toMatchObject({ bar: 1, noteIndex: 5 });
  });

  it('says what was heard a moment ago although more was handed over since', () => {
    const { conductor } = run({ loop: { from: barIndex(0), to: barIndex(0) } }, startAt + bar + 0.05);
    expect(conductor.positionAt(startAt + bar - 0.1)).toMatchObject({ pass: 0, noteIndex: 3 });
    expect(conductor.positionAt(startAt + bar + 0.01)).toMatchObject({ pass: 1, noteIndex: 0 });
  });
});
