// The computed bass against what the measurements of recordings and the ear ask of it.
import { describe, expect, it } from 'vitest';
import { deadNote } from '../../../src/playback/string/dead';
import { addModes } from '../../../src/playback/string/modes';
import { pluckedNote } from '../../../src/playback/string/note';
import { slideNoise, slideSeconds, slidingSizes } from '../../../src/playback/string/slide';
import type { StringStroke } from '../../../src/playback/string/stroke';
import {
  attackTime,
  centroid,
  centsOff,
  fallTime,
  highPassed,
  likeness,
  loudness,
  partialLevels,
  rate,
  spectrum,
} from './measures';
import { fourths, highG, lowE, lowestStop, stopsOf, strokeOn } from './strokes';

const note = (stroke: StringStroke, seconds = 1.2): Float32Array => pluckedNote(stroke, seconds, rate);
/** F2 where it lies lowest, in the middle and high up the neck. */
const places = [
  [38, 3],
  [33, 8],
  [28, 13],
] as const;

describe.each(fourths)('a chromatic scale up the string of MIDI %i', (open) => {
  describe.each([
    [1, 0.65],
    [2, 0.65],
    [3, 0.8],
  ])('stroke %i at loudness %f', (seed, loud) => {
    const notes = stopsOf(open).map((stop) => note(strokeOn(open, stop, { seed, loudness: loud })));

    it('is even: neighbours within half a LU', () => {
      const levels = notes.map((one) => loudness(one));
      levels.slice(1).forEach((level, i) => expect(Math.abs(level - levels[i]!)).toBeLessThan(0.5));
    });

    it('changes its colour by small steps: the centre of its power moves by a factor of .85 to 1.18', () => {
      const centres = notes.map((one) => centroid(one));
      centres.slice(1).forEach((centre, i) => {
        expect(centre / centres[i]!).toBeGreaterThan(0.85);
        expect(centre / centres[i]!).toBeLessThan(1.18);
      });
    });

    it('is in tune within 2 cents', () => {
      notes.forEach((one, stop) => expect(Math.abs(centsOff(one, open + stop))).toBeLessThan(2));
    });
  });
});

describe.each([0, 1, 2])('the lowest places of a chromatic scale from E1 to G3, stroke %i', (seed) => {
  const scale = Array.from({ length: highG - lowE + 1 }, (_, i) => lowestStop(lowE + i));
  const notes = scale.map(([open, stop]) => note(strokeOn(open, stop, { seed }), 0.6));

  it('is even where it changes the string, too', () => {
    const levels = notes.map((one) => loudness(one));
    levels.slice(1).forEach((level, i) => expect(Math.abs(level - levels[i]!)).toBeLessThan(0.5));
  });

  it('keeps its colour where it changes the string, too', () => {
    const centres = notes.map((one) => centroid(one));
    centres.slice(1).forEach((centre, i) => {
      expect(centre / centres[i]!).toBeGreaterThan(0.85);
      expect(centre / centres[i]!).toBeLessThan(1.18);
    });
  });
});

describe('one pitch on three strings', () => {
  it.each([1, 2, 3])('differs in colour by 15 % and more, stroke %i', (seed) => {
    const [low, middle, high] = places.map(([open, stop]) =>
      centroid(note(strokeOn(open, stop, { seed, loudness: 0.7 }))),
    ) as [number, number, number];
    expect(low / middle).toBeGreaterThan(1.15);
    expect(middle / high).toBeGreaterThan(1.15);
  });

  it.each([1, 2, 3])('rings the shorter the higher it is stopped, stroke %i', (seed) => {
    // G2 has an open string, too.
    const times = [
      [43, 0],
      [38, 5],
      [33, 10],
      [28, 15],
    ].map(([open, stop]) => fallTime(note(strokeOn(open!, stop!, { seed }), 3), 10));
    times.slice(1).forEach((time, i) => expect(time).toBeLessThan(times[i]!));
    expect(times[0]).toBeGreaterThan(2 * times[3]!);
  });

  it('loses its second partial up the neck', () => {
    const seconds = places.map(([open, stop]) => partialLevels(note(strokeOn(open, stop)), 87.307)[1]!);
    expect(seconds[0]! - seconds[1]!).toBeGreaterThan(3);
    expect(seconds[1]! - seconds[2]!).toBeGreaterThan(3);
  });
});

describe('a small speaker', () => {
  it('leaves enough of it: over 350 Hz no more than 12 dB under the whole, E1 to G3', () => {
    const scale = Array.from({ length: highG - lowE + 1 }, (_, i) => lowestStop(lowE + i));
    const powers = scale.map(([open, stop]) => {
      const sound = note(strokeOn(open, stop), 0.5);
      const whole = 10 ** (loudness(sound) / 10);
      return [whole, whole * 10 ** (highPassed(sound, 350) / 10)] as const;
    });
    const sum = (which: 0 | 1): number => powers.reduce((all, pair) => all + pair[which], 0);
    expect(10 * Math.log10(sum(1) / sum(0))).toBeGreaterThan(-12);
  });
});

describe('strokes on one note', () => {
  it.each([
    [28, 5],
    [33, 0],
    [38, 2],
    [43, 7],
  ])('are never the same twice: string %i, stop %i', (open, stop) => {
    const strokes = [1, 2, 3].map((seed) => note(strokeOn(open, stop, { seed })));
    for (const [a, b] of [
      [0, 1],
      [1, 2],
      [0, 2],
    ] as const)
      expect(likeness(strokes[a]!, strokes[b]!)).toBeLessThan(0.99);
    expect(likeness(strokes[0]!, note(strokeOn(open, stop, { seed: 1 })))).toBeCloseTo(1, 9);
  });

  it('grow brighter as they grow louder', () => {
    const [soft, loud] = [0.4, 0.9].map((one) => note(strokeOn(33, 5, { loudness: one }))) as [
      Float32Array,
      Float32Array,
    ];
    expect(centroid(loud)).toBeGreaterThan(1.08 * centroid(soft));
    // 20 dB for the whole range, as the layers of the recordings lie.
    expect(loudness(loud) - loudness(soft)).toBeGreaterThan(9);
    expect(loudness(loud) - loudness(soft)).toBeLessThan(11);
  });

  it('beat: partials of one note die away unevenly', () => {
    for (const [open, stop] of [
      [28, 3],
      [33, 2],
      [38, 5],
      [43, 4],
    ] as const) {
      const sound = note(strokeOn(open, stop));
      const fundamental = 440 * 2 ** ((open + stop - 69) / 12);
      const strength = (from: number, partial: number): number => {
        const { power, step } = spectrum(sound, from, from + 0.12);
        const bin = (partial * fundamental) / step;
        const near = power.slice(Math.floor(bin - 8), Math.ceil(bin + 9));
        return 10 * Math.log10(near.reduce((sum, one) => sum + one, 0));
      };
      const falls = [3, 4, 5, 6, 7, 8, 9, 10].map(
        (partial) => strength(0.04, partial) - strength(0.25, partial),
      );
      // Without beats they lie within 4 dB of each other.
      expect(Math.max(...falls) - Math.min(...falls)).toBeGreaterThan(5);
    }
  });
});

describe('the ends of a sound', () => {
  const clickFree = (sound: Float32Array): void => {
    const loudest = sound.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    expect(Math.abs(sound[0]!)).toBeLessThan(0.02 * loudest);
    expect(Math.abs(sound.at(-1)!)).toBeLessThan(1e-4 * loudest);
    const steps = sound.slice(1).map((value, i) => Math.abs(value - sound[i]!));
    const largest = (list: Float32Array): number => list.reduce((most, step) => Math.max(most, step), 0);
    expect(largest(steps.slice(-2000))).toBeLessThanOrEqual(largest(steps.slice(0, -2000)));
  };

  it.each([...fourths])('do not click, cut where they may be: string %i', (open) => {
    for (const seconds of [0.25, 0.5, 1]) clickFree(note(strokeOn(open, 4), seconds));
    clickFree(deadNote(strokeOn(open, 4), rate));
  });
});

describe('a partial that is over before the note', () => {
  it('fades out, and does not tick', () => {
    const buffer = new Float32Array(rate);
    addModes(buffer, [{ frequency: 100, amplitude: 1, fall: 120, phase: 0 }], rate, -60);
    // How sharply the curve bends.
    const bend = (from: number, to: number): number => {
      let most = 0;
      for (let i = Math.round(from * rate); i < to * rate; i++)
        most = Math.max(most, Math.abs(buffer[i]! - 2 * buffer[i - 1]! + buffer[i - 2]!));
      return most;
    };
    expect(buffer.subarray(Math.round(0.53 * rate)).every((value) => value === 0)).toBe(true);
    expect(Math.abs(buffer[Math.round(0.51 * rate)]!)).toBeGreaterThan(0);
    expect(bend(0.47, 0.55)).toBeLessThan(4 * bend(0.44, 0.47));
  });
});

describe('touches', () => {
  const [plucked, raked, pulled, hammered] = (['plucked', 'raked', 'pulled', 'hammered'] as const).map(
    (touch) => note(strokeOn(38, 4, { touch })),
  ) as [Float32Array, Float32Array, Float32Array, Float32Array];

  it('of the left hand are softer and come in more slowly, and every one is in tune', () => {
    expect(loudness(hammered)).toBeLessThan(loudness(plucked) - 1.5);
    for (const sound of [pulled, hammered]) {
      expect(loudness(sound)).toBeLessThan(loudness(plucked));
      expect(attackTime(sound)).toBeGreaterThanOrEqual(attackTime(plucked));
    }
    for (const sound of [raked, pulled, hammered]) expect(Math.abs(centsOff(sound, 42))).toBeLessThan(2);
    expect(likeness(raked, plucked)).toBeLessThan(0.99);
  });

  it('of a muted string leave no pitch and die at once, under a note of the same loudness', () => {
    const dead = deadNote(strokeOn(38, 4), rate);
    const { power, step } = spectrum(dead, 0, 0.3);
    const total = power.reduce((sum, one) => sum + one, 0);
    // No place in the spectrum holds what a partial would: a band of 3 Hz has less than a tenth of all.
    for (let hertz = 40; hertz < 1000; hertz += 3) {
      const band = power.slice(Math.round(hertz / step), Math.round((hertz + 3) / step));
      expect(band.reduce((sum, one) => sum + one, 0)).toBeLessThan(0.1 * total);
    }
    // A burst of noise is louder one time than another.
    const times = [1, 2, 3, 4, 5, 6].map((seed) => loudness(deadNote(strokeOn(38, 4, { seed }), rate)));
    const under = loudness(plucked) - times.reduce((sum, one) => sum + one, 0) / times.length;
    expect(under).toBeGreaterThan(1.5);
    expect(under).toBeLessThan(8);
    expect(fallTime(dead, 20)).toBeLessThan(0.25);
  });
});

describe('a bare shift', () => {
  const wish = { kind: 'upright', open: 38, lengthMm: 1060, from: 2, to: 6, seed: 3 } as const;
  const seconds = slideSeconds(2, 6, 0.5);

  it('is heard for as long as it takes, in the time there is, and far under the note', () => {
    expect(seconds).toBeCloseTo(0.1, 9);
    expect(slideSeconds(0, 24, 9)).toBeCloseTo(0.14, 9);
    expect(slideSeconds(2, 6, 0.06)).toBeCloseTo(0.06, 9);
    const power = (sound: Float32Array): number =>
      sound.reduce((sum, one) => sum + one * one, 0) / sound.length;
    const plain = power(note(strokeOn(38, 6), 0.1));
    for (const isOnString of [true, false]) {
      const under = 10 * Math.log10(plain / power(slideNoise({ ...wish, isOnString }, seconds, rate)));
      expect(under).toBeGreaterThan(12);
      expect(under).toBeLessThan(45);
    }
  });

  it('takes the colour of the string along: duller with every stop up, back again on the way down', () => {
    const way = { kind: 'upright', open: 28, lengthMm: 1060 } as const;
    const [up, down] = [slidingSizes({ ...way, from: 2, to: 14 }), slidingSizes({ ...way, from: 14, to: 2 })];
    expect(down.map(([first, last]) => [last, first])).toEqual(up);
    const over = (which: 0 | 1): number =>
      up.slice(1).reduce((sum, sizes) => sum + sizes[which] ** 2, 0) / up[0]![which] ** 2;
    expect(over(0)).toBeGreaterThan(4 * over(1));
    const power = (which: 0 | 1): number => up.reduce((sum, sizes) => sum + sizes[which] ** 2, 0);
    expect(power(1)).toBeCloseTo(power(0), 9);
  });

  it('carries the pitch of the string along with the finger only where it stays on the string', () => {
    const pitched = (isOnString: boolean): number => {
      const sound = slideNoise({ ...wish, isOnString }, seconds, rate);
      const { power, step } = spectrum(sound, 0, seconds);
      // From E2 to A flat 2, 82 to 104 Hz, where the noise has nothing.
      return power.slice(Math.round(75 / step), Math.round(110 / step)).reduce((sum, one) => sum + one, 0);
    };
    expect(pitched(true)).toBeGreaterThan(20 * pitched(false));
  });
});

describe('every bass', () => {
  it.each([
    ['a low B', 23, 0, 1060],
    ['a C on an extension', 28, -4, 1060],
    ['a high C', 48, 12, 1060],
    ['a quarter-size bass', 28, 5, 900],
    ['a solo tuning', 45, 3, 1060],
  ])('%s is in tune and as loud as any other', (_, open, stop, lengthMm) => {
    const sound = note(strokeOn(open, stop, { lengthMm }), 2);
    expect(Math.abs(centsOff(sound, open + stop))).toBeLessThan(2);
    expect(Math.abs(loudness(sound) - loudness(note(strokeOn(33, 2), 2)))).toBeLessThan(0.6);
  });

  it.each([23, 28, 33, 38, 43])(
    'the electric string %i is in tune, even, and rings longer than an upright one',
    (open) => {
      const electric = { kind: 'electric', lengthMm: 864 } as const;
      for (const stop of [0, 5, 12]) {
        const sound = note(strokeOn(open, stop, electric), 2);
        expect(Math.abs(centsOff(sound, open + stop))).toBeLessThan(2);
        expect(Math.abs(loudness(sound) - loudness(note(strokeOn(33, 2, electric), 2)))).toBeLessThan(0.8);
        expect(fallTime(sound, 10)).toBeGreaterThan(fallTime(note(strokeOn(open, stop), 2), 10));
      }
    },
  );
});

it('sounds the same at another rate', () => {
  const [one, other] = [44_100, 48_000].map((sampleRate) => pluckedNote(strokeOn(33, 3), 1, sampleRate)) as [
    Float32Array,
    Float32Array,
  ];
  expect(Math.abs(loudness(one, 44_100) - loudness(other, 48_000))).toBeLessThan(0.3);
  expect(centroid(other, 48_000) / centroid(one, 44_100)).toBeCloseTo(1, 1);
});
