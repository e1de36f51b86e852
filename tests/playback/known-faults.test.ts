// Ways in which playing goes wrong in general-purpose libraries (list of known faults, P-entries), each with the right result.
// What needs a browser's audio (P-13, and P-17's missing samples) is in tests/browser/sound-player.spec.ts under the same names.
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { bpm, swungTick, ticks, barIndex } from '../../src/music';
import { toMidi } from '../../src/export';
import { makeSchedule, type PlaybackEvent, type PlaybackSettings } from '../../src/playback';
import { Conductor } from '../../src/playback/conductor';
import { musicOf, settingsWith, swingBlues, type Moment } from './fixtures';

interface Struck {
  readonly event: PlaybackEvent;
  readonly time: number;
}

function play(
  music: ReturnType<typeof musicOf>,
  settings: Partial<PlaybackSettings>,
  until: number,
  startAt = 0.1,
  deeds: readonly { at: number; act: (conductor: Conductor) => void }[] = [],
): readonly Struck[] {
  const struck: Struck[] = [];
  const wishes = settingsWith(settings);
  const sink = {
    strike: (event: PlaybackEvent, time: number) => struck.push({ event, time }),
    damp: () => undefined,
  };
  const conductor = new Conductor(makeSchedule(music, wishes), wishes.tempo, startAt, sink);
  const waiting = [...deeds];
  for (let now = 0; now < until; now += 0.025) {
    while (waiting[0] && waiting[0].at <= now) waiting.shift()!.act(conductor);
    conductor.advance(now + 0.15);
  }
  return struck;
}
const bassOf = (struck: readonly Struck[]): readonly Struck[] =>
  struck.filter(({ event }) => event.part === 'bass');

const blues = musicOf(swingBlues);

describe('known faults of playing', () => {
  it('P-01: the first note is never missing, however loosely the band plays', () => {
    for (let seed = 0; seed < 200; seed++) {
      const { events } = makeSchedule(blues, settingsWith({ seed, isLoose: true }));
      expect(Math.min(...events.map(({ tick }) => tick))).toBe(0);
    }
    for (const startAt of [0, 0.001, 0.1]) {
      const [first] = bassOf(play(blues, {}, 1, startAt));
      expect([first?.event.tick, first?.time]).toEqual([0, startAt]);
    }
  });

  it('P-02: each start with another loop begins at its first bar and plays no other', () => {
    for (let round = 0; round < 10; round++) {
      const from = round % 2 === 0 ? 4 : 8;
      const struck = play(
        blues,
        { loop: { from: barIndex(from), to: barIndex(from + 3) } },
        0.3 + round * 0.9,
      );
      const bars = struck.map(({ event }) => Math.floor(event.tick / 1920));
      expect(bars[0]).toBe(from);
      expect(Math.min(...bars)).toBe(from);
      expect(Math.max(...bars)).toBeLessThanOrEqual(from + 3);
    }
  });

  it('P-03: swing moves the off-beat eighth to two thirds and nothing else', () => {
    const places = [0, 120, 160, 240, 320, 360];
    expect(places.map((tick) => swungTick(ticks(tick), 2))).toEqual([0, 120, 160, 320, 320, 360]);
    const moments: Moment[] = places.map((tick) => ({ tick: 480 + tick, ticks: 30 }));
    const { notes } = makeSchedule(musicOf(swingBlues, moments), settingsWith({ swing: 2 }));
    expect(notes.map(({ start }) => start - 480)).toEqual([0, 120, 160, 320, 320, 360]);
    // The library's transport, which has a swing of its own, is not used at all.
    const folder = fileURLToPath(new URL('../../src/playback/', import.meta.url));
    const files = readdirSync(folder, { recursive: true, encoding: 'utf8' });
    expect(files.length).toBeGreaterThan(20);
    for (const file of files.filter((name) => name.endsWith('.ts'))) {
      expect(readFileSync(folder + file, 'utf8')).not.toMatch(/getTransport|\bTransport\b|getDraw/);
    }
  });

  it('P-04: after a pickup of an eighth, and in bars of seven, every downbeat is in its place', () => {
    const sevens = musicOf('Key: F\nMeter: 7/8\nFeel: swing\n\n| F7 | Bb7 | F7 | C7 |]');
    const events = makeSchedule(sevens, settingsWith({ swing: 2, isLoose: false })).events;
    for (let bar = 0; bar < 4; bar++) {
      expect(events.some(({ tick, part }) => part === 'cymbal' && tick === bar * 1680)).toBe(true);
    }
    // Five eighths as a pickup, then bars of four: strong beats stay, off-beats are late.
    const bar = { meter: { beats: 4, unit: 4 } as const, tick: ticks(0), ticks: ticks(240) };
    expect(swungTick(ticks(0), 2, bar)).toBe(80);
    const next = { ...bar, tick: ticks(240), ticks: ticks(1920) };
    expect([240, 720, 480].map((tick) => swungTick(ticks(tick), 2, next))).toEqual([240, 720, 560]);
  });

  it('P-05: a note written where swing would put it is not swung again, and MIDI agrees to a tick', () => {
    const moments: Moment[] = [0, 320, 480, 720, 960, 1280, 1440].map((tick, i, all) => ({
      tick,
      ticks: (all[i + 1] ?? 1920) - tick,
      midi: 36 + i,
    }));
    const music = musicOf('Key: F\nMeter: 4/4\nTempo: 120\nFeel: swing\n\n| F7 |]', moments);
    const { notes } = makeSchedule(music, settingsWith({ swing: 2 }));
    expect(notes.map(({ start }) => start)).toEqual([0, 320, 480, 800, 960, 1280, 1440]);
    const line = { notes: music.notes } as unknown as Parameters<typeof toMidi>[1];
    const parsed = parseMidi(toMidi({ ...music.timeline, tempo: bpm(120) }, line, { swing: 2 }));
    const onsets = parsed.tracks.flatMap((track) => {
      let tick = 0;
      return track.flatMap((event) => {
        tick += event.deltaTime;
        return event.type === 'noteOn' && event.velocity > 0 ? [tick] : [];
      });
    });
    expect(parsed.header.ticksPerBeat).toBe(480);
    expect(onsets).toHaveLength(notes.length);
    onsets.forEach((tick, i) => {
      expect(Math.abs(tick - notes[i]!.start)).toBeLessThanOrEqual(1);
    });
  });

  it.each([70, 200])('P-06: after a change to %i while playing nothing is lost and nothing late', (tempo) => {
    const at = 1;
    const act = (conductor: Conductor): void => {
      conductor.setTempo(bpm(tempo));
    };
    const struck = bassOf(play(blues, { swing: 2 }, 9, 0.1, [{ at, act }]));
    expect(struck.map(({ event }) => event.tick)).toEqual(struck.map((_, i) => i * 480));
    const after = struck.filter(({ time }) => time > at + 0.15 + 0.5);
    expect(after.length).toBeGreaterThan(5);
    after.slice(1).forEach(({ time }, i) => {
      expect(time - after[i]!.time).toBeCloseTo(60 / tempo, 9);
    });
  });

  it('P-07: musical times follow the tempo, the wait before the first note does not', () => {
    const fixed = { swing: 2, isLoose: false } as const;
    const schedules = [40, 120, 320].map((tempo) =>
      makeSchedule(blues, settingsWith({ ...fixed, tempo: bpm(tempo) })),
    );
    for (const { notes } of schedules) expect(notes).toEqual(schedules[0]?.notes);
    for (const tempo of [60, 240]) {
      const struck = bassOf(play(blues, { ...fixed, tempo: bpm(tempo) }, 5, 0.1));
      expect(struck[0]?.time).toBe(0.1);
      expect(struck[4]!.time - 0.1).toBeCloseTo(240 / tempo, 9);
    }
  });

  it('P-09: what is begun while playing begins on its beat, not a tick after now', () => {
    for (const at of [0.31, 0.74, 1.99, 3.02]) {
      const act = (conductor: Conductor): void => {
        conductor.replace(makeSchedule(musicOf(swingBlues), settingsWith({ swing: 3 })), 'next beat');
      };
      const struck = bassOf(play(blues, { swing: 2 }, 6, 0.1, [{ at, act }]));
      struck.forEach(({ event, time }, i) => {
        expect(event.tick).toBe(i * 480);
        expect(time).toBeCloseTo(0.1 + i * 0.5, 9);
      });
    }
  });

  it('P-17: pitches are numbers through and through, however the chart spells its flats', () => {
    const { events } = makeSchedule(
      musicOf('Key: Eb\nMeter: 4/4\nFeel: swing\n\n| E♭7 | A♭m7 D♭7 | G♭maj7 | B♭7alt |]'),
      settingsWith({}),
    );
    const pitches = events.flatMap((event) =>
      event.part === 'bass' ? [event.midi] : event.part === 'chords' ? event.midis : [],
    );
    expect(pitches.length).toBeGreaterThan(20);
    for (const midi of pitches) expect(Number.isInteger(midi) && midi >= 0 && midi < 128).toBe(true);
  });
});
