// Facts every player knows (common practice, no source). Each is a check that the whole computation must pass.
import { describe, expect, it } from 'vitest';
import { allPlacements, defaultHand, defaultInstrument } from '../../src/instrument';
import { pitchClass, pitchClassOf, noteName, soundingMidi, barNumber } from '../../src/music';
import type { Line, LineNote } from '../../src/pipeline';
import { chartText, positions, walked } from './request';

const seeds = [1, 2, 3, 4];

/** Share of chord changes on which the line plays the root or the bass asked for. */
function rootsOnChanges(line: Line): number {
  const changes = line.notes.filter((note) => note.slot.isChange);
  const roots = changes.filter((note) => {
    const { chord } = note.harmony;
    return chord !== null && pitchClass(note.midi) === pitchClassOf(chord.bass ?? chord.root);
  });
  return roots.length / changes.length;
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

describe('facts of the trade', () => {
  it('a blues in F can be walked for many choruses without half position and without II', () => {
    const barred = positions('half', 'II');
    const shares = seeds.map((seed) => {
      const { line } = walked(chartText('back-stairs-blues.txt'), {
        choruses: 8,
        limits: { barredPositions: barred },
        take: { seed, temperature: 0.7 },
      });
      for (const note of line.notes) expect(barred).not.toContain(note.placement.position);
      return rootsOnChanges(line);
    });
    expect(mean(shares)).toBeGreaterThan(0.6);
  });

  it('B flat major can be walked without half position, open strings carrying the hand', () => {
    const barred = positions('half');
    const { line } = walked('Key: Bb\n| Bbmaj7 | Gm7 | Cm7 | F7 |\n| Dm7 | G7 | Cm7 F7 | Bb6 |\n', {
      choruses: 4,
      limits: { barredPositions: barred },
      take: { seed: 1, temperature: 0.7 },
    });
    expect(line.notes).toHaveLength(8 * 4 * 4);
    expect(rootsOnChanges(line)).toBeGreaterThan(0.55);
    expect(line.notes.some((note) => note.carry !== null)).toBe(true);
    expect(line.notes.every((note) => note.placement.position !== 1)).toBe(true);
  });

  it('a B flat major scale of one octave needs no half position: every note has a place outside it', () => {
    const placements = allPlacements(defaultInstrument, defaultHand, { highestPosition: 12 }).filter(
      (one) => one.position !== 1,
    );
    for (const midi of [34, 36, 38, 39, 41, 43, 45, 46]) {
      expect(placements.some((one) => one.midi === midi)).toBe(true);
    }
  });

  it('F sharp major contains no open string of a bass tuned E A D G', () => {
    const scale = ['F#', 'G#', 'A#', 'B', 'C#', 'D#', 'E#'].map((name) => pitchClassOf(noteName(name)));
    for (const string of defaultInstrument.strings) expect(scale).not.toContain(pitchClass(string.open));
  });

  it('over B major 7 an open D is outside the chord, and yet passes and carries the hand', () => {
    const text = 'Key: F#\n| Bmaj7 | Bmaj7 | F#maj7 | C#7 |\n';
    const isOpenD = (note: LineNote): boolean =>
      note.harmony.chord?.symbol.startsWith('B') === true && note.midi === 38 && note.placement.stop === 0;
    const passing = Array.from({ length: 60 }, (_, seed) =>
      walked(text, { choruses: 2, take: { seed, temperature: 1 } }),
    ).flatMap(({ line }) => line.notes.filter(isOpenD));
    expect(passing.length).toBeGreaterThan(0);
    expect(passing.every((note) => note.slot.strength < 3)).toBe(true);
    // Asked for, it carries the hand in the best line there is.
    const asked = [1, 2].flatMap((bar) =>
      [2, 3, 4].map((beat) =>
        walked(text, {
          pins: [{ bar: barNumber(bar), beat, midi: soundingMidi(38), role: 'open' }],
        }).line.notes.find(isOpenD),
      ),
    );
    expect(asked.some((note) => note?.carry)).toBe(true);
  });

  it('E flat major is walked without the first finger sliding twice in a row', () => {
    const { line } = walked(
      'Key: Eb\nTempo: 160\n| Ebmaj7 | Cm7 | Fm7 | Bb7 |\n| Gm7 | C7 | Fm7 Bb7 | Eb6 |\n',
      {
        choruses: 4,
        take: { seed: 2, temperature: 0.7 },
      },
    );
    const slides = line.notes.map((note, index) => {
      const before = line.notes[index - 1];
      return (
        before !== undefined &&
        note.move.kind === 'bare shift' &&
        before.placement.finger === '1' &&
        note.placement.finger === '1' &&
        before.placement.string === note.placement.string
      );
    });
    expect(slides.some((slide, index) => slide && slides[index + 1])).toBe(false);
  });

  it('a line does not camp: over many takes the low region has less than a third of the stopped beats', () => {
    const shares = seeds.map((seed) => {
      const { report } = walked(chartText('back-stairs-blues.txt'), {
        choruses: 4,
        take: { seed, temperature: 0.7 },
      }).line;
      const low = report.byRegion.find((row) => row.region === 'low')!.beats;
      const open = report.byRegion.find((row) => row.region === 'open')!.beats;
      return low / (report.beats - open);
    });
    expect(mean(shares)).toBeLessThan(1 / 3);
  });
});
