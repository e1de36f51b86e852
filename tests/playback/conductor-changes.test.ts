// Changes while the conductor plays: of the tempo, and of the line.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bpm, barIndex, type Bpm } from '../../src/music';
import type { Conductor } from '../../src/playback/conductor';
import { type Moment } from './fixtures';
import { lookAhead, startAt, beat, bar, run, replaceBy } from './paper-band';

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
    const { paper } = run(
      { loop: { from: barIndex(0), to: barIndex(0) } },
      startAt + 3 * bar,
      [],
      (pass, conductor) => {
        conductor.setTempo((120 + 120 * pass) as Bpm);
      },
    );
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
    const { paper } = run({ loop: { from: barIndex(0), to: barIndex(1) } }, startAt + 3.5 * bar, [
      {
        at: startAt + 0.3,
        act: replaceBy({ loop: { from: barIndex(0), to: barIndex(1) } }, 'next pass', eighths),
      },
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
