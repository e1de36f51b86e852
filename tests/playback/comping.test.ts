import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pitchClass, type Chord, type SoundingMidi } from '../../src/music';
import { feels, type Feel } from '../../src/pipeline/1-chart';
import { makeSchedule, type ChordEvent } from '../../src/playback';
import { voicing } from '../../src/playback/comping';
import { musicOf, settingsWith, swingBlues, timelineOf } from './fixtures';

const chordOf = (symbol: string): Chord => {
  const { chord } = timelineOf(`Key: C\nMeter: 4/4\n\n| ${symbol} |]`).bars[0]!.chords[0]!;
  if (!chord) throw new Error(`no chord: ${symbol}`);
  return chord;
};
const classes = (midis: readonly SoundingMidi[]): number[] => midis.map(pitchClass).sort((a, b) => a - b);
const chordsOf = (music: ReturnType<typeof musicOf>): ChordEvent[] =>
  makeSchedule(music, settingsWith({})).events.filter((event) => event.part === 'chords');

describe('a voicing', () => {
  it.each([
    // The third and the seventh, then what colours the chord (common practice, no source).
    ['C7', [4, 7, 10]],
    ['Cmaj9', [2, 4, 11]],
    ['Dm7', [0, 5, 9]],
    ['G7b9', [5, 8, 11]],
    ['C6', [4, 7, 9]],
    ['F7sus4', [0, 3, 10]],
  ])('of %s says what the chord is', (symbol, wanted) => {
    expect(classes(voicing(chordOf(symbol), []))).toEqual(wanted);
  });

  it('stays above the bass and moves little from chord to chord', () => {
    const chords = ['F7', 'Bb7', 'Cm7', 'Bdim7', 'D7alt', 'Gm7', 'C7b9', 'Ebmaj7', 'A7', 'F#m7b5'].map(
      chordOf,
    );
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...chords), { minLength: 2, maxLength: 40 }), (list) => {
        let before: readonly SoundingMidi[] = [];
        for (const chord of list) {
          const midis = voicing(chord, before);
          for (const midi of midis) {
            expect(midi).toBeGreaterThanOrEqual(50);
            expect(midi).toBeLessThanOrEqual(76);
          }
          const middle = (notes: readonly number[]): number =>
            notes.reduce((sum, one) => sum + one, 0) / notes.length;
          if (before.length > 0) expect(Math.abs(middle(midis) - middle(before))).toBeLessThan(7);
          before = midis;
        }
      }),
    );
  });
});

describe('comping', () => {
  it('strikes every chord at its place and never two at once', () => {
    const music = musicOf(swingBlues);
    const events = chordsOf(music);
    const starts = new Set(events.map(({ tick }) => tick as number));
    for (const chord of music.timeline.bars.flatMap((bar) => bar.chords))
      expect(starts).toContain(chord.tick);
    events.slice(1).forEach(({ tick }, i) => {
      expect(events[i]!.damp).toBeLessThanOrEqual(tick);
    });
  });

  it('is silent under N.C.', () => {
    const events = chordsOf(musicOf('Key: G\nMeter: 3/4\nFeel: waltz\n\n| G6 | N.C. | G6 |]'));
    expect(events.filter(({ tick }) => tick >= 1440 && tick < 2880)).toEqual([]);
    expect(events.length).toBeGreaterThan(0);
  });

  /** Charts of the project that turn through many chords. */
  const chartNames = ['back-stairs-blues', 'corner-table', 'round-the-block', 'stepladder', 'ferry-at-noon'];
  const asFeel = (name: string, feel: Feel): ReturnType<typeof musicOf> => {
    const file = fileURLToPath(new URL(`../../shared/charts/${name}.txt`, import.meta.url));
    const text = readFileSync(file, 'utf8');
    const wished = /^Feel:/m.test(text)
      ? text.replace(/^Feel:.*$/m, `Feel: ${feel}`)
      : text.replace(/^Title:.*$/m, `$&\nFeel: ${feel}`);
    return musicOf(wished);
  };

  describe.each(feels)('in %s', (feel) => {
    const musics = chartNames.map((name) => asFeel(name, feel));

    it('leaves the root to the bass', () => {
      for (const music of musics) {
        expect(music.timeline.feel).toBe(feel);
        const chords = music.timeline.bars.flatMap((bar) => bar.chords);
        for (const { tick, midis } of chordsOf(music)) {
          const chord = chords.findLast((one) => one.tick <= tick)?.chord;
          const root = chord?.tones.find(({ degree }) => degree === 1);
          expect(root).toBeDefined();
          expect(midis.map(pitchClass), chord?.symbol).not.toContain(root?.pitchClass);
        }
      }
    });

    it('leads its voices by small steps: none leaps more than a fourth, a tone and a half on average', () => {
      for (const music of musics) {
        const events = chordsOf(music);
        const moves = events.slice(1).flatMap(({ midis }, i) => {
          const before = events[i]!.midis;
          return before.length === midis.length ? midis.map((midi, v) => Math.abs(midi - before[v]!)) : [];
        });
        expect(moves.length).toBeGreaterThan(20);
        expect(Math.max(...moves)).toBeLessThanOrEqual(5);
        expect(moves.reduce((sum, move) => sum + move, 0) / moves.length).toBeLessThan(3);
      }
    });
  });
});
