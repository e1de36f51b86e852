// The band by arithmetic: levels, damping, places and the room, and that it is the same every time.
import { describe, expect, it } from 'vitest';
import { ticks, soundingMidi } from '../../src/music';
import { addRoom } from '../../src/playback/convolve';
import { deedsOf, type Deed } from '../../src/playback/deeds';
import { transform } from '../../src/playback/fourier';
import { defaultMix } from '../../src/playback/mix';
import { mixdown, partSamples, type SampleBank } from '../../src/playback/mixdown';
import { renderWith, stringsFor } from '../../src/playback/rendering';
import { makeSchedule, drumSounds, type DrumEvent, type Mix, type PlaybackEvent } from '../../src/playback';
import { roomResponse, sidesOf } from '../../src/playback/space';
import { drumWithoutSample, substituteNote } from '../../src/playback/substitutes';
import { musicOf, settingsWith, swingBlues } from './fixtures';

const rate = 8000;
const one = Float32Array.from({ length: rate }, () => 0.5);
const bank: SampleBank = {
  bass: new Map([[40, one]]),
  chords: new Map([[60, one]]),
  drums: new Map(drumSounds.map((sound) => [sound, one])),
  strings: null,
};
const hat: DrumEvent = { part: 'hi-hat', sound: 'pedal hat', tick: ticks(0), velocity: 0.8 };
const chord: PlaybackEvent = {
  part: 'chords',
  tick: ticks(0),
  damp: ticks(1),
  midis: [soundingMidi(60)],
  velocity: 0.5,
};
const only = (part: keyof Mix): Mix =>
  ({
    ...Object.fromEntries(
      Object.entries(defaultMix).map(([name, way]) => [name, { ...way, on: name === part }]),
    ),
  }) as unknown as Mix;
const nowhere = { isWide: false, hasRoom: false };

describe('a part', () => {
  it('begins each sound to the sample, as loud as it is struck', () => {
    const deeds: Deed[] = [{ time: 0.1, event: hat }];
    const samples = partSamples('hi-hat', deeds, bank, rate, rate);
    expect([samples[799], samples[800]]).toEqual([0, Math.fround(0.4)]);
    expect(partSamples('cymbal', deeds, bank, rate, rate).every((value) => value === 0)).toBe(true);
  });

  it('dies away from its damping on, by a factor of 200 in its release', () => {
    const deeds: Deed[] = [
      { time: 0, event: chord },
      { time: 0.2, damps: 'chords' },
    ];
    const samples = partSamples('chords', deeds, bank, rate, rate);
    expect(samples[1599]).toBeCloseTo(0.25, 6);
    // log1p(0.15) is 0.14 s: the browser's fades are counted in that way.
    const later = samples[1600 + Math.round(Math.log1p(0.15) * rate)]!;
    expect(0.25 / later).toBeGreaterThan(195);
    expect(0.25 / later).toBeLessThan(205);
    expect(samples[1600 + 0.31 * rate]).toBe(0);
  });

  it('sounds a pitch that has no sample of its own by reading another faster', () => {
    const ramp = Float32Array.from({ length: rate }, (_, i) => i / rate);
    const samples = partSamples(
      'chords',
      [{ time: 0, event: { ...chord, midis: [soundingMidi(72)], velocity: 1 } }],
      { ...bank, chords: new Map([[60, ramp]]) },
      rate,
      rate,
    );
    expect(samples[1000]).toBeCloseTo(0.25, 5);
  });
});

describe('the places', () => {
  it('leave the middle as it is and keep the power of what stands aside', () => {
    for (const part of ['bass', 'click'] as const) {
      const [left, right] = sidesOf(part, true);
      expect([left, right].map((value) => value.toFixed(6))).toEqual(['1.000000', '1.000000']);
    }
    for (const part of ['cymbal', 'hi-hat', 'chords'] as const) {
      const [left, right] = sidesOf(part, true);
      expect(left ** 2 + right ** 2).toBeCloseTo(2, 9);
      expect(left).not.toBeCloseTo(right, 1);
      expect(sidesOf(part, false)[0]).toBeCloseTo(1, 9);
    }
  });

  it('can be taken away with the room: both sides are the same then', async () => {
    const deeds: Deed[] = [{ time: 0, event: hat }];
    const wide = await mixdown(deeds, bank, { mix: only('hi-hat'), isWide: true, hasRoom: true }, rate, rate);
    expect(wide.left).not.toEqual(wide.right);
    const plain = await mixdown(deeds, bank, { mix: only('hi-hat'), ...nowhere }, rate, rate);
    expect(plain.left).toEqual(plain.right);
  });
});

describe('the room', () => {
  it('answers for less than half a second, softly, differently on both sides', () => {
    const [left, right] = roomResponse(44_100);
    const energy = (side: Float32Array, from = 0): number =>
      side.subarray(from).reduce((sum, x) => sum + x * x, 0);
    expect(left.length / 44_100).toBeLessThan(0.5);
    expect(energy(left, Math.round(0.2 * 44_100)) / energy(left)).toBeLessThan(0.02);
    const both = left.reduce((sum, value, i) => sum + value * right[i]!, 0);
    expect(Math.abs(both) / Math.sqrt(energy(left) * energy(right))).toBeLessThan(0.5);
    const [slow] = roomResponse(22_050);
    expect(energy(slow) / energy(left)).toBeGreaterThan(0.4);
  });

  it('is what a plain sum over the response gives', () => {
    const sound = Float32Array.from({ length: 900 }, (_, i) => Math.sin(i * i));
    const response = [
      Float32Array.from({ length: 60 }, (_, i) => Math.cos(i) / (i + 1)),
      Float32Array.from({ length: 60 }, (_, i) => Math.sin(3 * i) / (i + 1)),
    ] as const;
    const sides = [new Float32Array(900), new Float32Array(900)] as const;
    addRoom(sound, response, sides);
    for (const at of [0, 1, 59, 63, 64, 200, 511, 899])
      for (const side of [0, 1] as const) {
        let sum = 0;
        for (let i = 0; i < 60; i++) sum += response[side][i]! * (sound[at - i] ?? 0);
        expect(sides[side][at]).toBeCloseTo(sum, 5);
      }
  });
});

describe('the fast transform', () => {
  it('is the sum that defines it', () => {
    const size = 64;
    const [real, imaginary] = [0, 1].map((k) =>
      Float64Array.from({ length: size }, (_, i) => Math.sin(i * i + k)),
    ) as [Float64Array, Float64Array];
    const [before, beforeToo] = [real.slice(), imaginary.slice()];
    transform(real, imaginary);
    for (const k of [0, 1, 5, 32, 63]) {
      let [a, b] = [0, 0];
      for (let n = 0; n < size; n++) {
        const angle = (-2 * Math.PI * k * n) / size;
        a += before[n]! * Math.cos(angle) - beforeToo[n]! * Math.sin(angle);
        b += before[n]! * Math.sin(angle) + beforeToo[n]! * Math.cos(angle);
      }
      expect(real[k]).toBeCloseTo(a, 9);
      expect(imaginary[k]).toBeCloseTo(b, 9);
    }
  });
});

describe('a rendering', () => {
  const music = musicOf('Key: F\nMeter: 4/4\nTempo: 240\nFeel: swing\n\n| F7 | Bb7 |]');
  const settings = settingsWith({
    tempo: 240 as never,
    mix: { ...defaultMix, chords: { on: true, level: 0.8 } },
  });
  const sounds: SampleBank = {
    bass: new Map(),
    chords: new Map([[60, substituteNote(60, 44_100)]]),
    drums: new Map(drumSounds.map((sound) => [sound, drumWithoutSample(sound, 44_100)])),
    strings: stringsFor({ music, settings }),
  };

  it('is as long as the music and its ringing out, and the same every time', async () => {
    const shares: number[] = [];
    const wishes = { music, settings, onProgress: (share: number) => shares.push(share) };
    const [first, second] = [await renderWith(sounds, wishes), await renderWith(sounds, wishes)];
    expect(first.left).toHaveLength((2 + 2) * 44_100);
    expect(second).toEqual(first);
    expect(shares.at(-1)).toBe(1);
    const loudest = first.left.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    expect(loudest).toBeGreaterThan(0.05);
    expect(loudest).toBeLessThan(1);
  });

  it('ends when it is called off', async () => {
    const work = new AbortController();
    const wishes = { music, settings, signal: work.signal, onProgress: () => work.abort() };
    await expect(renderWith(sounds, wishes)).rejects.toThrow();
  });

  it('has every deed of the conductor, in order', () => {
    const long = musicOf(swingBlues);
    const schedule = makeSchedule(long, settingsWith({}));
    const deeds = deedsOf(schedule, settingsWith({}).tempo, 60);
    expect(deeds.filter((deed) => 'event' in deed)).toHaveLength(schedule.events.length);
    for (const part of ['bass', 'chords'] as const) {
      const own = deeds.filter((deed) => ('event' in deed ? deed.event.part : deed.damps) === part);
      own.slice(1).forEach((deed, i) => expect(deed.time).toBeGreaterThanOrEqual(own[i]!.time));
    }
  });
});
