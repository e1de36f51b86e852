// The drums that are computed, heard: their levels, their pitch, and a brush that never stops.
import { describe, expect, it } from 'vitest';
import { makeSchedule, computedDrums } from '../../src/playback';
import { deedsOf } from '../../src/playback/deeds';
import { kitSound } from '../../src/playback/kit';
import { partSamples } from '../../src/playback/mixdown';
import { drumWithoutSample } from '../../src/playback/substitutes';
import { drumSounds, type DrumSound } from '../../src/playback';
import { chartIn } from './feel-charts';
import { musicOf, settingsWith } from './fixtures';
import { centroid } from './string/measures';

const rate = 44_100;
const rms = (samples: Float32Array): number =>
  Math.sqrt(samples.reduce((sum, value) => sum + value * value, 0) / samples.length);

describe('a computed drum', () => {
  it.each(computedDrums)(
    '%s has the level of the sampled ones, unclipped, and is the same every time',
    (sound) => {
      const samples = kitSound(sound, rate);
      const first = sound === 'brush stir' ? 0.8 : 0.1;
      expect(20 * Math.log10(rms(samples.subarray(0, first * rate)))).toBeCloseTo(-20, 1);
      for (const value of samples) expect(Math.abs(value)).toBeLessThan(1);
      expect(kitSound(sound, rate)).toEqual(samples);
    },
  );

  it('is as low or as bright as it should be: bass drum, toms, snare, brush and cymbal', () => {
    const order = (['kick', 'tom low', 'tom high', 'snare', 'crash'] satisfies DrumSound[]).map((sound) =>
      centroid(kitSound(sound, rate)),
    );
    order.slice(1).forEach((one, i) => expect(one).toBeGreaterThan(order[i]!));
    expect(order[0]).toBeLessThan(150);
    expect(centroid(kitSound('brush stir', rate))).toBeGreaterThan(1500);
  });
});

describe('the brush of a ballad', () => {
  const brush = (tempo: number): number[] => {
    const settings = settingsWith({ tempo: tempo as never, leans: true, loop: 'none' });
    const schedule = makeSchedule(musicOf(chartIn('ballad')), settings);
    const seconds = (16 * 4 * 60) / tempo;
    const drums = new Map(drumSounds.map((sound) => [sound, drumWithoutSample(sound, rate)]));
    const bank = { bass: new Map(), chords: new Map(), drums, strings: null };
    const deeds = deedsOf(schedule, settings.tempo, seconds);
    const samples = partSamples('drums', deeds, bank, Math.floor(seconds * rate), rate);
    const frame = 0.1 * rate;
    // From the first sweep on.
    return Array.from(
      { length: Math.floor(samples.length / frame) - 1 },
      (_, i) => 20 * Math.log10(rms(samples.subarray((i + 1) * frame, (i + 2) * frame)) + 1e-9),
    );
  };

  it.each([40, 64, 90])('goes on under everything at %i, through lead-ins and over bar lines', (tempo) => {
    const levels = brush(tempo);
    const middle = [...levels].sort((a, b) => a - b)[levels.length >> 1]!;
    expect(levels.length).toBeGreaterThan(300);
    expect(Math.min(...levels)).toBeGreaterThan(middle - 18);
  });
});
