// An hour of playing, on paper: where every beat falls, and how much is held.
import { describe, expect, it } from 'vitest';
import { bpm, barIndex } from '../../src/music';
import { makeSchedule, type PlaybackEvent } from '../../src/playback';
import { Conductor } from '../../src/playback/conductor';
import { musicOf, settingsWith, swingBlues } from './fixtures';

const hour = 3600;
const pulse = 0.025;
const lookAhead = 0.15;

describe('an hour', () => {
  it('has every beat in its place to a millionth of a second, and holds no more at its end', () => {
    const music = musicOf(swingBlues);
    const settings = settingsWith({ tempo: bpm(137), swing: 2 });
    const schedule = makeSchedule(music, settings);
    let beats = 0;
    let worst = 0;
    let events = 0;
    const sink = {
      strike: (event: PlaybackEvent, time: number) => {
        events++;
        if (event.part !== 'bass') return;
        worst = Math.max(worst, Math.abs(time - (0.1 + (beats * 60) / 137)));
        beats++;
      },
      damp: () => undefined,
    };
    const conductor = new Conductor(schedule, settings.tempo, 0.1, sink);
    const sizes: number[] = [];
    for (let now = 0; now < hour; now += pulse) {
      conductor.advance(now + lookAhead);
      // What is asked for while playing takes its time from the same clock.
      if (beats % 1000 === 0) conductor.positionAt(now);
      sizes.push(conductor.size);
    }
    expect(beats).toBe(Math.floor(((hour - pulse + lookAhead - 0.1) * 137) / 60) + 1);
    expect(worst).toBeLessThan(1e-6);
    expect(events).toBeGreaterThan(4 * hour);
    const first = Math.max(...sizes.slice(0, 4000));
    expect(Math.max(...sizes.slice(-4000))).toBeLessThanOrEqual(first);
  });

  it('of new tempi, new lines and queued passes leaves nothing behind', () => {
    const music = musicOf(swingBlues);
    const settings = settingsWith({
      tempo: bpm(320),
      loop: { from: barIndex(0), to: barIndex(1) },
      swing: 2,
    });
    const schedules = [music, musicOf(swingBlues)].map((one) => makeSchedule(one, settings));
    let strikes = 0;
    const sink = {
      strike: ({ part }: PlaybackEvent) => (strikes += part === 'bass' ? 1 : 0),
      damp: () => undefined,
    };
    let passes = 0;
    const conductor: Conductor = new Conductor(schedules[0]!, settings.tempo, 0, sink, (pass) => {
      passes = pass;
      conductor.setTempo(bpm(300 + (pass % 20)));
      conductor.queue(schedules[pass % 2]!);
    });
    const sizes: number[] = [];
    for (let now = 0, step = 0; now < hour; now += 0.05, step++) {
      conductor.advance(now + lookAhead);
      if (step % 40 === 0) conductor.replace(schedules[step % 80 === 0 ? 0 : 1]!, 'next beat');
      sizes.push(conductor.size);
    }
    // Eight beats a pass: none lost, none doubled.
    expect(Math.floor(strikes / 8)).toBe(passes);
    const bound = 3 * schedules[0]!.events.length + 40;
    expect(Math.max(...sizes)).toBeLessThan(bound);
  });
});
