import { describe, expect, it } from 'vitest';
import {
  defaultInstrument,
  findInstrument,
  highestPitch,
  lowestPitch,
  parsePosition,
} from '../../../src/instrument';
import { noteName, scientificName, scaleNames, spellPitch } from '../../../src/music';
import {
  makePattern,
  patternFigures,
  type PatternResult,
  type PatternWish,
} from '../../../src/pipeline/given';
import { fingered } from './lines';

const wish: PatternWish = {
  tonic: noteName('Bb'),
  scale: 'ionian',
  figure: 'scale',
  reach: 'one octave',
  direction: 'up',
};
const made = (changes: Partial<PatternWish> = {}): PatternResult =>
  makePattern({ ...wish, ...changes }, defaultInstrument);
const text = (changes: Partial<PatternWish> = {}): string =>
  made(changes)
    .pattern!.notes.map(({ midi, name }) => scientificName(spellPitch(midi, name!)))
    .join(' ');

const tonics = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B', 'Cb'].map(noteName);

describe('scales, arpeggios and patterns', () => {
  it.each([
    [{}, 'Bb1 C2 D2 Eb2 F2 G2 A2 Bb2'],
    [{ direction: 'down' }, 'Bb2 A2 G2 F2 Eb2 D2 C2 Bb1'],
    [{ figure: 'triad', direction: 'up and down' }, 'Bb1 D2 F2 Bb2 F2 D2 Bb1'],
    [{ figure: 'seventh chord', reach: 'two octaves' }, 'Bb1 D2 F2 A2 Bb2 D3 F3 A3 Bb3'],
    [{ figure: 'thirds' }, 'Bb1 D2 C2 Eb2 D2 F2 Eb2 G2 F2 A2 G2 Bb2'],
    [{ tonic: noteName('F#') }, 'F#1 G#1 A#1 B1 C#2 D#2 E#2 F#2'],
    [{ tonic: noteName('E'), scale: 'harmonic minor' }, 'E1 F#1 G1 A1 B1 C2 D#2 E2'],
    [{ tonic: noteName('E'), octaveUp: 1, figure: 'triad' }, 'E2 G#2 B2 E3'],
    [{ figure: '1-2-3-5', tonic: noteName('G') }, 'G1 A1 B1 D2 A1 B1 C2 E2 B1 C2 D2 F#2 C2 D2 E2 G2'],
  ] satisfies [Partial<PatternWish>, string][])('%j is %s', (changes, notes) => {
    expect(text(changes)).toBe(notes);
  });

  it('over the whole neck begin at the lowest note of the scale and end within the octave above the top string', () => {
    expect(text({ reach: 'whole neck' }).split(' ').at(0)).toBe('F1');
    expect(text({ reach: 'whole neck' }).split(' ').at(-1)).toBe('G3');
    const low = makePattern({ ...wish, reach: 'whole neck' }, findInstrument('bass-low-b')!);
    expect(low.pattern!.notes[0]!.midi).toBe(24);
  });

  it('exist in every key and scale, within the bass, or say why not', () => {
    for (const tonic of tonics) {
      for (const scale of scaleNames) {
        for (const figure of patternFigures) {
          const { pattern, problem } = made({ tonic, scale, figure, reach: 'two octaves' });
          if (!pattern) {
            expect(problem).toMatch(/has \d notes/);
            continue;
          }
          for (const { midi } of pattern.notes) {
            expect(midi).toBeGreaterThanOrEqual(lowestPitch(defaultInstrument));
            expect(midi).toBeLessThanOrEqual(highestPitch(defaultInstrument));
          }
        }
      }
    }
  });

  it('are refused in words where they cannot be', () => {
    expect(made({ scale: 'whole tone', figure: 'triad' }).problem).toContain('6 notes');
    expect(made({ octaveUp: 4 }).problem).toContain('above the highest stop');
    expect(made({ octaveUp: -1 }).problem).toContain('octaves up');
    expect(made({ beats: 0 }).problem).toContain('beat');
    expect(made({ beats: Number.NaN }).problem).toContain('beat');
  });

  it('carry key and title: B flat major without half position is one question', () => {
    const { pattern } = made({ direction: 'up and down' });
    expect(pattern!.title).toBe('B♭ major, one octave, up and down');
    expect(pattern!.key).toMatchObject({ tonic: 'Bb', mode: 'major', fifths: -2 });
    const half = parsePosition('half')!;
    const { line } = fingered(pattern!.notes, { key: pattern!.key, limits: { barredPositions: [half] } });
    expect(line.notes.some((note) => note.placement.position === half)).toBe(false);
    expect(line.notes).toHaveLength(15);
  });

  it('in all keys are fingered over two octaves, up to the top of the neck', () => {
    for (const tonic of tonics) {
      const { pattern } = made({ tonic, reach: 'two octaves' });
      const { line } = fingered(pattern!.notes, { key: pattern!.key });
      expect(line.notes).toHaveLength(15);
    }
  });
});
