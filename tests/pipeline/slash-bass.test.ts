// A slash bass is the bass: where its chord begins it sounds, whatever the take, unless a pin asks for something else.
import { describe, expect, it } from 'vitest';
import { pitchClass, pitchClassOf, soundingMidi, barNumber } from '../../src/music';
import type { LineNote } from '../../src/pipeline';
import { walked } from './request';

const charts = [
  'Key: C\n| C/Bb | F/A | Dm7/G | C |\n',
  'Key: F\n| F7/A Bb7 | F/C Dm7/C | Gm7/F C7/E | F/Eb F7 |\n',
  'Key: Eb\n| Ebmaj7/G Gbdim7 | Fm7/Bb Bb7/Ab | Gm7 C7/E | Fm7/C Bb7/D |\n',
];

const isSlash = ({ slot, harmony }: LineNote): boolean =>
  slot.isChange && (harmony.chord?.bass ?? null) !== null;

describe('a slash bass', () => {
  it.each(charts)('sounds on every change of %j, spelled as written', (text) => {
    for (let seed = 1; seed <= 12; seed++) {
      const notes = walked(text, { take: { seed, temperature: 1 } }).line.notes.filter(isSlash);
      expect(notes.length).toBeGreaterThan(2);
      for (const { midi, pitch, harmony } of notes) {
        expect(pitchClass(midi)).toBe(pitchClassOf(harmony.chord!.bass!));
        expect(pitch.name).toBe(harmony.chord!.bass);
      }
    }
  });

  it('gives way to a pin', () => {
    const { line } = walked(charts[0]!, { pins: [{ bar: barNumber(1), beat: 1, midi: soundingMidi(36) }] });
    expect(line.notes[0]!.midi).toBe(36);
  });
});

describe('an altered chord', () => {
  it('never rests on its natural fifth or ninth on 1, on 3 or on a new chord', () => {
    const text = 'Key: C\n| Dm7b5 | G7alt | Cm7 | A7alt |\n| G7b9b13 | % | C7#5#9 | F7b5 |\n';
    for (let seed = 1; seed <= 12; seed++) {
      for (const { midi, slot, harmony } of walked(text, { take: { seed, temperature: 1 } }).line.notes) {
        const { chord } = harmony;
        if (!chord || !/alt|b13|#5|b5/.test(chord.symbol) || slot.strength < 2) continue;
        const above = (pitchClass(midi) - pitchClassOf(chord.root) + 12) % 12;
        // A natural ninth is in the whole-tone scale of a flat fifth, and passes over a half-diminished chord.
        const denied = /alt|b13|#5/.test(chord.symbol) ? [2, 7] : [7];
        const isTone = chord.tones.some((tone) => tone.pitchClass === pitchClass(midi));
        if (!isTone) expect(denied).not.toContain(above);
      }
    }
  });
});
