// What is heard of the swing against published measurements, in seconds of the clock that plays.
import { describe, expect, it } from 'vitest';
import swingTable from '../../shared/rhythm/swing.json' with { type: 'json' };
import { bpm, tempoRange } from '../../src/music';
import { makeSchedule, type PlaybackEvent, type PlaybackSettings } from '../../src/playback';
import { Conductor } from '../../src/playback/conductor';
import { musicOf, settingsWith, swingBlues, type Moment } from './fixtures';

const eighths: Moment[] = Array.from({ length: 96 }, (_, i) => ({ tick: i * 240, ticks: 240 }));
const music = musicOf(swingBlues, eighths);

/** Median of long eighth over short, and the shortest eighth in seconds, as a part is heard over a chorus. */
function heard(
  part: 'bass' | 'cymbal',
  tempo: number,
  wish: Partial<PlaybackSettings> = {},
): { readonly ratio: number; readonly short: number } {
  const settings = settingsWith({ tempo: bpm(tempo), ...wish });
  const beat = 60 / tempo;
  const times: number[] = [];
  const sink = {
    strike: (event: PlaybackEvent, time: number) => {
      if (event.part === part) times.push(time);
    },
    damp: () => undefined,
  };
  new Conductor(makeSchedule(music, { ...settings, loop: 'none' }), settings.tempo, 0, sink).advance(
    48 * beat,
  );
  const longs = times
    .map((time) => time - Math.floor(time / beat + 1e-6) * beat)
    .filter((since) => since > 0.3 * beat)
    .sort((a, b) => a - b);
  const long = longs[longs.length >> 1]!;
  return { ratio: long / (beat - long), short: beat - long };
}

describe('swing by tempo', () => {
  // Jazz Trio Database: onsets marked by hand, median ratio of the bass's eighths by tempo band.
  const published = [
    [120, 159, 2.35],
    [160, 199, 1.96],
    [200, 239, 1.54],
    [240, 279, 1.5],
    [280, 320, 1.28],
  ] as const;

  it('keeps the published medians as they are in the table', () => {
    expect(swingTable.bass.source).toContain('Jazz Trio Database');
    expect(swingTable.bass.rows.map((row) => row[2])).toEqual(published.map(([, , ratio]) => ratio));
  });

  it.each(published)('from %i to %i has the bass at the median of the band', (from, to, median) => {
    const ratios: number[] = [];
    for (let tempo = from; tempo <= to; tempo += 3) ratios.push(heard('bass', tempo).ratio);
    const middle = ratios.sort((a, b) => a - b)[ratios.length >> 1]!;
    expect(middle).toBeGreaterThan(median * 0.96);
    expect(middle).toBeLessThan(median * 1.04);
  });

  // Friberg and Sundstrom 2002: about 3.5:1 at slow tempi falling towards 1:1, the short note about 100 ms.
  it('has the cymbal as wide as was measured, its short note about a tenth of a second', () => {
    const alone = musicOf(swingBlues);
    const ratioAt = (tempo: number): { ratio: number; short: number } => {
      const settings = settingsWith({ tempo: bpm(tempo), isLoose: false });
      const skip = makeSchedule(alone, settings).events.find(
        (event) => event.part === 'cymbal' && event.tick > 480 && event.tick < 960,
      )!;
      const long = (skip.tick - 480) / 480;
      return { ratio: long / (1 - long), short: ((1 - long) * 60) / tempo };
    };
    expect(ratioAt(100).ratio).toBeCloseTo(3.5, 1);
    for (const tempo of [140, 180, 220, 260]) {
      expect(ratioAt(tempo).short).toBeGreaterThan(0.095);
      expect(ratioAt(tempo).short).toBeLessThan(0.115);
    }
    expect(ratioAt(320).ratio).toBeLessThan(1.2);
  });

  it('never grows with the tempo, nor leaps: a step of the tempo is not heard as another feel', () => {
    let before = heard('bass', tempoRange.least).ratio;
    for (let tempo = tempoRange.least + 4; tempo <= tempoRange.most; tempo += 4) {
      const { ratio } = heard('bass', tempo);
      // A tick more or less in the off-beat is a few hundredths of the ratio.
      expect(ratio).toBeLessThan(before + 0.02);
      expect(before - ratio).toBeLessThan(0.12);
      before = ratio;
    }
  });

  it.each([1, 1.5, 2, 3, 4])('set by hand to %f:1 is that at every tempo', (swing) => {
    for (const tempo of [60, 132, 240, 320]) {
      expect(heard('bass', tempo, { swing }).ratio / swing).toBeCloseTo(1, 1);
    }
  });
});
