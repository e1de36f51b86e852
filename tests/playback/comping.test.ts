import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pitchClass, barIndex, type Chord, type SoundingMidi } from '../../src/music';
import { feels, type Feel } from '../../src/pipeline/1-chart';
import { amounts, makeSchedule, type BarRange, type ChordEvent } from '../../src/playback';
import { voicing } from '../../src/playback/voicing';
import { musicOf, settingsWith, swingBlues, timelineOf } from './fixtures';

const chordOf = (symbol: string): Chord => {
  const { chord } = timelineOf(`Key: C\nMeter: 4/4\n\n| ${symbol} |]`).bars[0]!.chords[0]!;
  if (!chord) throw new Error(`no chord: ${symbol}`);
  return chord;
};
const classes = (midis: readonly SoundingMidi[]): number[] => midis.map(pitchClass).sort((a, b) => a - b);
const chordsOf = (
  music: ReturnType<typeof musicOf>,
  change: Parameters<typeof settingsWith>[0] = {},
): ChordEvent[] =>
  makeSchedule(music, settingsWith({ swing: 1, ...change })).events.filter(
    (event) => event.part === 'chords',
  );

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
  const blues = musicOf(swingBlues, undefined, 3);
  const changes = blues.timeline.bars.flatMap((bar) => bar.chords).filter(({ isChange }) => isChange);
  const seeds = Array.from({ length: 20 }, (_, seed) => seed);

  it('strikes every chord at its place where the band plays exactly', () => {
    const events = chordsOf(blues, { isLoose: false });
    const starts = events.map(({ tick }) => tick);
    for (const { tick } of changes) expect(starts).toContain(tick);
  });

  it('lets every change be heard, half a beat early at most, and never strikes two at once', () => {
    for (const amount of amounts)
      for (const seed of seeds) {
        const events = chordsOf(blues, { seed, amount });
        for (const { tick, ticks } of changes)
          expect(events.some((event) => event.tick >= tick - 240 && event.tick < tick + ticks)).toBe(true);
        events.slice(1).forEach(({ tick }, i) => {
          expect(events[i]!.damp).toBeLessThanOrEqual(tick);
        });
      }
  });

  it('plays the chord that comes on the off-beat before it, and often', () => {
    let early = 0;
    for (const seed of seeds)
      for (const { tick, midis } of chordsOf(blues, { seed })) {
        const coming = changes.find((change) => change.tick - tick === 240);
        if (!coming?.chord) continue;
        early++;
        const tones = coming.chord.tones.map(({ pitchClass: one }) => one);
        for (const midi of midis) expect(tones).toContain(pitchClass(midi));
      }
    expect(early / seeds.length).toBeGreaterThan(3);
  });

  it('is sparse, and off the beat about as often as on it', () => {
    const events = seeds.flatMap((seed) => chordsOf(blues, { seed }));
    const bars = seeds.length * blues.timeline.bars.length;
    expect(events.length / bars).toBeLessThan(2);
    expect(events.length / bars).toBeGreaterThan(1);
    const off = events.filter(({ tick }) => tick % 480 !== 0).length / events.length;
    expect(off).toBeGreaterThan(0.35);
    expect(off).toBeLessThan(0.75);
  });

  it('rests in some bars, and never plays a chorus twice alike', () => {
    const schedule = makeSchedule(blues, settingsWith({ swing: 1 }));
    const places = schedule.bars.map(({ start, end }) =>
      schedule.events
        .filter(({ part, tick }) => part === 'chords' && tick >= start && tick < end)
        .map(({ tick }) => tick - start)
        .join(' '),
    );
    expect(places).toContain('');
    expect(new Set([0, 12, 24].map((from) => places.slice(from, from + 12).join('|'))).size).toBe(3);
  });

  it('stays more than a fifth over all that the bass sounds meanwhile, however high it goes', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 28, max: 64 }), { minLength: 48, maxLength: 48 }),
        fc.nat(),
        (midis, seed) => {
          const line = midis.map((midi, i) => ({ tick: i * 480, ticks: 480, midi }));
          const { events, notes } = makeSchedule(musicOf(swingBlues, line), settingsWith({ seed }));
          for (const chord of events) {
            if (chord.part !== 'chords') continue;
            expect(chord.midis.length).toBeGreaterThan(1);
            const under = notes.filter(({ start, end }) => start < chord.damp && end > chord.tick);
            for (const { note } of under) expect(chord.midis[0]! - midis[note]!).toBeGreaterThan(7);
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it('anticipates the first bar of a loop at its end, and nothing where the music ends', () => {
    const atEnd = (loop: 'none' | BarRange): ChordEvent[] =>
      seeds.flatMap((seed) => chordsOf(blues, { seed, loop }).filter(({ tick }) => tick === 4 * 1920 - 240));
    const [first] = blues.timeline.bars[2]!.chords;
    const tones = first!.chord!.tones.map(({ pitchClass: one }) => one);
    const early = atEnd({ from: barIndex(2), to: barIndex(3) });
    expect(early.length).toBeGreaterThan(0);
    for (const { midis, damp } of early) {
      for (const midi of midis) expect(tones).toContain(pitchClass(midi));
      expect(damp).toBeLessThanOrEqual(4 * 1920);
    }
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
          const isEarly = (one: (typeof chords)[number]): boolean => one.isChange && one.tick - tick === 240;
          const isRound = music.timeline.ticks - tick === 240;
          const here = chords.findLast((one) => one.tick <= tick || isEarly(one));
          // The last off-beat plays what comes when the form comes round.
          const chord = (isRound ? chords[0] : here)?.chord;
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
