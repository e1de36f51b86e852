// Accidentals and signatures.
import { describe, expect, it } from 'vitest';
import {
  barAccidentals,
  makeKey,
  noteName,
  parseKey,
  signatureAlteration,
  signatureLetters,
  soundingMidi,
  spellPitch,
} from '../../../src/music';

function printed(keyText: string, notes: readonly (readonly [name: string, midi: number, tied?: boolean])[]) {
  const accidentals = barAccidentals(parseKey(keyText)!.fifths);
  return notes.map(([name, midi, tied]) =>
    accidentals(spellPitch(soundingMidi(midi), noteName(name)), tied ?? false),
  );
}

describe('accidentals of one bar', () => {
  it('hold for their line and octave', () => {
    expect(
      printed('C', [
        ['C', 48],
        ['C#', 49],
        ['C#', 37],
        ['C', 36],
      ]),
    ).toEqual(['signature', 1, 1, 0]);
    expect(
      printed('C', [
        ['Bb', 46],
        ['Bb', 46],
        ['B', 47],
      ]),
    ).toEqual([-1, 'held', 0]);
  });

  it('follow the signature', () => {
    expect(
      printed('Eb', [
        ['Bb', 34],
        ['B', 35],
        ['Eb', 39],
        ['E', 40],
      ]),
    ).toEqual(['signature', 0, 'signature', 0]);
    expect(
      printed('F# major', [
        ['E#', 41],
        ['E', 40],
        ['B', 35],
      ]),
    ).toEqual(['signature', 0, 'signature']);
  });

  it('are not printed again on a tied note, nor do they hold for the notes after it', () => {
    expect(
      printed('C', [
        ['F#', 42, true],
        ['F', 41],
        ['F#', 42],
      ]),
    ).toEqual(['tied', 'signature', 1]);
  });

  it('reach double flats and sharps', () => {
    expect(
      printed('C', [
        ['Bbb', 45],
        ['F##', 43],
      ]),
    ).toEqual([-2, 2]);
  });
});

describe('a signature', () => {
  it('knows every signature by the circle of fifths', () => {
    const letters = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
    const count = (tonic: string): number =>
      letters.reduce(
        (sum, letter) => sum + signatureAlteration(makeKey(noteName(tonic), 'major').fifths, letter),
        0,
      );
    expect(
      ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'].map(count),
    ).toEqual([-7, -6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7]);
  });

  it('alters the letters of the order of fifths', () => {
    expect([...'FCGDAEB'].map((letter) => signatureAlteration(3, letter))).toEqual([1, 1, 1, 0, 0, 0, 0]);
    expect([...'BEADGCF'].map((letter) => signatureAlteration(-2, letter))).toEqual([-1, -1, 0, 0, 0, 0, 0]);
  });

  it('is written in the order of fifths', () => {
    expect(signatureLetters(2)).toEqual(['F', 'C']);
    expect(signatureLetters(-3)).toEqual(['B', 'E', 'A']);
    expect(signatureLetters(0)).toEqual([]);
  });
});
