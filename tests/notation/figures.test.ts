// Figures of the rhythm as they are set: dead notes with crossed heads, pulled-off triplets under a figure and a slur.
import { describe, expect, it } from 'vitest';
import { defaultInstrument, shortPositionName } from '../../src/instrument';
import { layoutStaff } from '../../src/notation';
import { glyph } from '../../src/notation/glyphs';
import { chartText, walked } from '../pipeline/request';

const layoutOf = (density: number, seed: number) => {
  const { timeline, line } = walked(chartText('back-stairs-blues.txt'), {
    density,
    take: { seed, temperature: 0 },
  });
  const options = {
    width: 1060,
    instrument: defaultInstrument,
    positionNumeral: shortPositionName,
    showRoles: false,
  };
  const { systems } = layoutStaff(timeline, line, options);
  return { line, systems, notes: systems.flatMap(({ notes }) => notes) };
};

describe('figures of the rhythm', () => {
  const cross = glyph('noteheadXBlack').text;
  const isCrossed = (note: { glyphs: readonly { text: string }[] }): boolean =>
    note.glyphs.some(({ text }) => text === cross);

  it('set dead notes, and no others, with a crossed head', () => {
    let dead = 0;
    for (const seed of [1, 2]) {
      const { line, notes } = layoutOf(1, seed);
      for (const note of notes) {
        const isDead = line.notes[note.index]!.slot.articulation === 'ghost';
        expect(isCrossed(note)).toBe(isDead);
        if (isDead) dead += 1;
      }
    }
    expect(dead).toBeGreaterThan(0);
    expect(layoutOf(0, 1).notes.some(isCrossed)).toBe(false);
  });

  it('set each triplet with its figure and one slur', () => {
    let found = 0;
    for (const seed of [1, 2, 3, 4]) {
      const { line, systems } = layoutOf(1, seed);
      const pulled = line.notes.filter(({ slot }) => slot.articulation === 'triplet').length;
      const figures = systems.reduce((sum, { tuplets }) => sum + tuplets.length, 0);
      const curves = systems.reduce((sum, { ties }) => sum + (ties?.match(/M/g)?.length ?? 0), 0);
      const tied = systems.flatMap(({ notes }) => notes).length;
      expect(figures).toBe(pulled / 2);
      expect(curves).toBeGreaterThanOrEqual(pulled / 2);
      expect(tied).toBe(line.notes.length);
      found += figures;
    }
    expect(found).toBeGreaterThan(0);
  });

  it('give dead notes no sign', () => {
    const signs = ['Flat', 'Natural', 'Sharp', 'DoubleFlat', 'DoubleSharp'].map(
      (name) => glyph(`accidental${name}`).text,
    );
    let dead = 0;
    for (const seed of [1, 2, 3]) {
      for (const note of layoutOf(1, seed).notes.filter(isCrossed)) {
        expect(note.glyphs.filter(({ text }) => signs.includes(text))).toEqual([]);
        dead += 1;
      }
    }
    expect(dead).toBeGreaterThan(3);
  });

  it('keep figures and curves clear of the fingers above and the strings below', () => {
    for (const seed of [1, 2, 3, 4]) {
      for (const system of layoutOf(1, seed).systems) {
        const curves = [...(system.ties ?? '').matchAll(/-?[\d.]+ (-?[\d.]+)/g)].map(([, y]) => Number(y));
        const figures = system.tuplets.flatMap(({ y }) => [y, y - glyph('tuplet3').top * 9]);
        for (const y of [...curves, ...figures]) {
          expect(y).toBeGreaterThan(system.rows.finger);
          expect(y).toBeLessThan(system.rows.string);
        }
      }
    }
  });
});
