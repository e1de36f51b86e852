import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bpm, type Bpm } from '../../src/music';
import { makeSchedule, type Part, type PlaybackEvent, type PlaybackSettings } from '../../src/playback';
import { Conductor, type Sink } from '../../src/playback/conductor';
import { musicOf, settingsWith, swingBlues, type Moment } from './fixtures';

interface Heard {
  readonly what: 'strike' | 'damp';
  readonly part: Part;
  readonly time: number;
  readonly event: PlaybackEvent | null;
}

/** A band on paper. */
class Paper implements Sink {
  readonly heard: Heard[] = [];
  strike(event: PlaybackEvent, time: number): void {
    this.heard.push({ what: 'strike', part: event.part, time, event });
  }
  damp(part: Part, time: number): void {
    this.heard.push({ what: 'damp', part, time, event: null });
  }
  get bass(): { tick: number; time: number }[] {
    return this.heard.flatMap(({ event, time }) =>
      event?.part === 'bass' ? [{ tick: event.tick, time }] : [],
    );
  }
}

const music = musicOf(swingBlues);
const lookAhead = 0.15;
const startAt = 1;
const tempo120 = bpm(120);
/** Seconds of a beat and a bar at 120. */
const beat = 0.5;
const bar = 4 * beat;

interface Deed {
  readonly at: number;
  readonly act: (conductor: Conductor) => void;
}

/** Plays until a time in small, uneven steps, as a page's timer does. */
function run(
  settings: Partial<PlaybackSettings>,
  until: number,
  deeds: readonly Deed[] = [],
  onPass?: (pass: number, conductor: Conductor) => void,
  fromBar?: number,
): { paper: Paper; conductor: Conductor } {
  const paper = new Paper();
  const wishes = settingsWith(settings);
  const schedule = makeSchedule(music, wishes, fromBar);
  const conductor: Conductor = new Conductor(schedule, wishes.tempo, startAt, paper, (pass) =>
    onPass?.(pass, conductor),
  );
  const waiting = [...deeds].sort((a, b) => a.at - b.at);
  for (let now = startAt - 0.1, step = 0; now < until; step++) {
    while (waiting[0] && waiting[0].at <= now) waiting.shift()!.act(conductor);
    conductor.advance(now + lookAhead);
    now += 0.02 + (step % 3) * 0.007;
  }
  return { paper, conductor };
}

const replaceBy =
  (settings: Partial<PlaybackSettings>, moment: 'next beat' | 'next bar' | 'next pass', moments?: Moment[]) =>
  (conductor: Conductor): void => {
    const next = moments ? musicOf(swingBlues, moments) : music;
    conductor.replace(makeSchedule(next, settingsWith(settings)), moment);
  };

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
    const { paper } = run({ countInBars: 1, loop: { from: 2, to: 3 } }, startAt + 5 * bar);
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
    const { paper } = run({ loop: { from: 4, to: 5 } }, startAt + 20 * bar);
    const passTicks = Array.from({ length: 8 }, (_, i) => 4 * 1920 + i * 480);
    paper.bass.forEach(({ tick, time }, i) => {
      expect(tick).toBe(passTicks[i % 8]);
      expect(time).toBeCloseTo(startAt + i * beat, 9);
    });
    expect(paper.bass.length).toBeGreaterThanOrEqual(80);
  });

  it('starts right after any number of stops with other loops', () => {
    for (let round = 0; round < 10; round++) {
      const from = round % 2 === 0 ? 4 : 8;
      const { paper } = run(
        { loop: { from, to: from + 3 } },
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
    const schedule = makeSchedule(musicOf(swingBlues, moments), settingsWith({ loop: { from: 0, to: 0 } }));
    const conductor = new Conductor(schedule, tempo120, startAt, paper);
    conductor.advance(startAt + 1.5 * bar);
    const bass = paper.heard.filter(({ part }) => part === 'bass');
    const again = bass.findIndex(({ event }, i) => i > 0 && event?.tick === 0);
    expect(bass[again - 1]).toMatchObject({ what: 'damp', time: startAt + bar });
  });

  it('tells of each pass before its first note', () => {
    const passes: number[] = [];
    run({ loop: { from: 0, to: 1 } }, startAt + 6.5 * bar, [], (pass) => passes.push(pass));
    expect(passes).toEqual([1, 2, 3]);
  });

  it('jumps to another loop at the next bar line', () => {
    const { paper } = run({ loop: { from: 0, to: 3 } }, startAt + 6 * bar, [
      { at: startAt + 1.3 * bar, act: replaceBy({ loop: { from: 8, to: 9 } }, 'next bar') },
    ]);
    const bars = paper.bass.map(({ tick }) => Math.floor(tick / 1920));
    expect([...new Set(bars)]).toEqual([0, 1, 8, 9]);
    const first = paper.bass.find(({ tick }) => tick === 8 * 1920);
    expect(first?.time).toBeCloseTo(startAt + 2 * bar, 9);
  });

  it('goes on without a jump when the new loop holds the next bar', () => {
    const { paper } = run({ loop: { from: 0, to: 3 } }, startAt + 6 * bar, [
      { at: startAt + 3.3 * bar, act: replaceBy({ loop: 'form' }, 'next bar') },
    ]);
    expect(paper.bass.map(({ tick }) => tick)).toEqual(paper.bass.map((_, i) => i * 480));
  });
});

describe('the tempo', () => {
  it('changes while playing without a jump: gaps before as they were, gaps after as asked', () => {
    const at = startAt + 1.1 * bar;
    const { paper } = run({ loop: 'none' }, startAt + 5 * bar, [
      {
        at,
        act: (conductor) => {
          conductor.setTempo(bpm(60));
        },
      },
    ]);
    const gaps = paper.bass.slice(1).map(({ time }, i) => time - paper.bass[i]!.time);
    const changed = gaps.findIndex((gap) => Math.abs(gap - beat) > 1e-9);
    expect(paper.bass[changed]!.time).toBeLessThan(at + lookAhead + beat);
    for (const gap of gaps.slice(0, changed)) expect(gap).toBeCloseTo(0.5, 9);
    expect(gaps[changed]).toBeGreaterThan(0.5);
    for (const gap of gaps.slice(changed + 1)) expect(gap).toBeCloseTo(1, 9);
  });

  it('set at the turn of a loop holds from its first note', () => {
    const { paper } = run({ loop: { from: 0, to: 0 } }, startAt + 3 * bar, [], (pass, conductor) => {
      conductor.setTempo((120 + 120 * pass) as Bpm);
    });
    const times = paper.bass.map(({ time }) => time - startAt);
    expect(times.slice(0, 5)).toEqual([0, 0.5, 1, 1.5, 2].map((time) => expect.closeTo(time, 9) as number));
    expect(times[5]! - times[4]!).toBeCloseTo(0.25, 9);
    expect(times[9]! - times[8]!).toBeCloseTo(60 / 360, 9);
  });

  it('keeps every gap right through any number of changes', () => {
    const changes = fc.array(
      fc.record({
        at: fc.double({ min: 1, max: 12, noNaN: true }),
        tempo: fc.integer({ min: 40, max: 320 }),
      }),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(changes, (list) => {
        const deeds = list.map(({ at, tempo }) => ({
          at,
          act: (conductor: Conductor) => {
            conductor.setTempo(bpm(tempo));
          },
        }));
        const { paper } = run({ loop: 'form' }, 14, deeds);
        const tempi = [120, ...list.map(({ tempo }) => tempo)];
        const [least, most] = [60 / Math.max(...tempi), 60 / Math.min(...tempi)];
        paper.bass.slice(1).forEach(({ time }, i) => {
          const gap = time - paper.bass[i]!.time;
          expect(gap).toBeGreaterThan(least - 1e-9);
          expect(gap).toBeLessThan(most + 1e-9);
        });
      }),
      { numRuns: 40 },
    );
  });
});

describe('another line while playing', () => {
  const eighths: Moment[] = Array.from({ length: 96 }, (_, i) => ({ tick: i * 240, ticks: 240, midi: 45 }));

  it('takes over on a beat: no note lost, none doubled, also when the swing changes', () => {
    const times = fc.array(fc.double({ min: 1, max: 9, noNaN: true }), { maxLength: 15 });
    fc.assert(
      fc.property(times, fc.constantFrom(1, 1.5, 3), (list, swing) => {
        const deeds = list.map((at, i) => ({
          at,
          act: replaceBy({ swing: i % 2 === 0 ? swing : 2 }, 'next beat', eighths),
        }));
        deeds.unshift({ at: 0, act: replaceBy({ swing: 2 }, 'next beat', eighths) });
        const { paper } = run({ swing: 2 }, 12, deeds);
        const offBeats = paper.bass.filter(({ tick }) => tick % 480 !== 0);
        const onBeats = paper.bass.filter(({ tick }) => tick % 480 === 0);
        expect(onBeats.map(({ tick }) => tick)).toEqual(onBeats.map((_, i) => i * 480));
        const beats = offBeats.map(({ tick }) => Math.floor(tick / 480));
        expect(new Set(beats).size).toBe(beats.length);
        for (const number of onBeats.slice(1, -1).map((_, i) => i + 1)) expect(beats).toContain(number);
      }),
      { numRuns: 30 },
    );
  });

  it('can wait for the next pass', () => {
    const { paper } = run({ loop: { from: 0, to: 1 } }, startAt + 3.5 * bar, [
      { at: startAt + 0.3, act: replaceBy({ loop: { from: 0, to: 1 } }, 'next pass', eighths) },
    ]);
    const strikes = paper.heard.flatMap(({ event, time }) =>
      event?.part === 'bass' ? [{ midi: event.midi, time }] : [],
    );
    for (const { midi, time } of strikes) expect(midi === 45).toBe(time >= startAt + 2 * bar - 1e-9);
  });

  it('during the count-in leaves the count as it is', () => {
    const { paper } = run({ countInBars: 1 }, startAt + 2 * bar, [
      { at: startAt + 0.4, act: replaceBy({ countInBars: 2 }, 'next beat', eighths) },
    ]);
    expect(paper.bass[0]).toEqual({ tick: 0, time: startAt + bar });
    expect(paper.bass[1]!.time - paper.bass[0]!.time).toBeLessThan(beat);
  });

  it('fifty times leaves no more behind than once', () => {
    const sizes = [1, 50].map((times) => {
      const deeds = Array.from({ length: times }, (_, i) => ({
        at: startAt + i * 0.15,
        act: replaceBy({ seed: times - i }, 'next beat'),
      }));
      return run({}, startAt + 15, deeds).conductor.size;
    });
    expect(sizes[1]).toBe(sizes[0]);
  });
});

describe('damping', () => {
  it('ends each bass note before or as the next begins, and never twice', () => {
    const { paper } = run({ loop: { from: 0, to: 3 } }, startAt + 10 * bar);
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
    const { conductor } = run({ countInBars: 1, loop: { from: 1, to: 2 } }, startAt + 3.5);
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
    const { conductor } = run({ loop: { from: 0, to: 0 } }, startAt + bar + 0.05);
    expect(conductor.positionAt(startAt + bar - 0.1)).toMatchObject({ pass: 0, noteIndex: 3 });
    expect(conductor.positionAt(startAt + bar + 0.01)).toMatchObject({ pass: 1, noteIndex: 0 });
  });
});
