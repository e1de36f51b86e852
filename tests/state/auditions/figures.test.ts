// Figures of a take counted a second way, from its notes alone.
import { describe, expect, it } from 'vitest';
import { pitchClassOf } from '../../../src/music';
import { regionOf } from '../../../src/instrument';
import { figuresOf, lowShare, stayBeats } from '../../../src/state/auditions/figures';
import { blues, drawn } from './takes';

const { shown, figures } = drawn(blues(), 3);
const { notes } = shown.line;

describe('figures of a take', () => {
  it('count roots where chords begin', () => {
    // In this chart every section begins with a chord of its own.
    const opening = notes.filter(({ slot }) => slot.isChange);
    const roots = opening.filter(
      ({ harmony, midi }) => harmony.chord && midi % 12 === pitchClassOf(harmony.chord.root),
    );
    expect(opening.length).toBeGreaterThan(8);
    expect(figures.walk.roots).toBeCloseTo(roots.length / opening.length, 12);
  });

  it('count steps and notes outside', () => {
    let steps = 0;
    for (let at = 1; at < notes.length; at++)
      if ([1, 2].includes(Math.abs(notes[at]!.midi - notes[at - 1]!.midi))) steps += 1;
    expect(figures.walk.steps).toBeCloseTo(steps / (notes.length - 1), 12);
    const inner = notes.filter(({ slot }) => !slot.isTarget);
    const outside = inner.filter(({ harmony, midi }) => {
      const inside = [
        ...(harmony.scale?.notes ?? []).map((note) => pitchClassOf(note) as number),
        ...(harmony.chord?.tones ?? []).map((tone) => tone.pitchClass as number),
      ];
      return !inside.includes(midi % 12);
    });
    expect(figures.walk.outside).toBeCloseTo(outside.length / inner.length, 12);
  });

  it('know the highest note, the share of the low region and the longest stay', () => {
    expect(figures.highest?.midi).toBe(Math.max(...notes.map(({ midi }) => midi)));
    expect(figures.highest).toBe(notes.find(({ midi }) => midi === figures.highest?.midi));
    const beats = notes.reduce((sum, { ticks }) => sum + ticks, 0);
    const low = notes
      .filter(({ placement }) => placement.finger !== '0' && regionOf(placement.position) === 'low')
      .reduce((sum, { ticks }) => sum + ticks, 0);
    expect(lowShare(figures)).toBeCloseTo(low / beats, 12);
    expect(stayBeats(figures)).toBe(shown.line.report.longestStay?.beats);
  });

  it('leave skips and drops to the notes beside them', () => {
    const busy = drawn(blues({ density: 1 }), 3).shown.line;
    const own = busy.notes.filter(
      ({ slot }) => !['ghost', 'drop', 'triplet'].includes(slot.articulation ?? ''),
    );
    expect(own.length).toBeLessThan(busy.notes.length);
    const walk = (of: typeof busy.notes) => figuresOf({ notes: of, report: busy.report }).walk;
    expect(walk(busy.notes)).toEqual(walk(own));
  });

  it('are nought for a line without notes', () => {
    const { walk, highest } = figuresOf({ notes: [], report: shown.line.report });
    expect([walk, highest]).toEqual([{ roots: 0, steps: 0, outside: 0 }, null]);
  });
});
