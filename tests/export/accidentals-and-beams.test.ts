import { describe, expect, it } from 'vitest';
import { makeKey, noteName, parseKey, soundingMidi, spellPitch } from '../../src/music';
import { barAccidentals, signatureAlteration } from '../../src/export/accidentals';
import { barGrid } from '../../src/export/bar-grid';
import { beamsOf } from '../../src/export/beams';
import { writtenValues } from '../../src/export/note-values';

function printed(keyText: string, notes: readonly (readonly [name: string, midi: number, tied?: boolean])[]) {
  const accidentals = barAccidentals(parseKey(keyText)!);
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
    ).toEqual([null, 1, 1, 0]);
    expect(
      printed('C', [
        ['Bb', 46],
        ['Bb', 46],
        ['B', 47],
      ]),
    ).toEqual([-1, null, 0]);
  });

  it('follow the signature', () => {
    expect(
      printed('Eb', [
        ['Bb', 34],
        ['B', 35],
        ['Eb', 39],
        ['E', 40],
      ]),
    ).toEqual([null, 0, null, 0]);
    expect(
      printed('F# major', [
        ['E#', 41],
        ['E', 40],
        ['B', 35],
      ]),
    ).toEqual([null, 0, null]);
  });

  it('are not printed again on a tied note, nor do they hold for the notes after it', () => {
    expect(
      printed('C', [
        ['F#', 42, true],
        ['F', 41],
        ['F#', 42],
      ]),
    ).toEqual([null, null, 1]);
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

it('knows every signature by the circle of fifths', () => {
  const letters = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
  const count = (tonic: string): number =>
    letters.reduce((sum, letter) => sum + signatureAlteration(makeKey(noteName(tonic), 'major'), letter), 0);
  expect(
    ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'].map(count),
  ).toEqual([-7, -6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7]);
});

describe('beams', () => {
  const beams = (
    lengths: readonly (readonly [ticks: number, isRest?: boolean])[],
    beats: number,
    unit: 4 | 8,
  ) => {
    const grid = barGrid({ beats, unit }, (beats * 1920) / unit, false);
    let at = 0;
    const stretches = lengths.map(([length, isRest = false]) => {
      const start = at;
      at += length;
      return { start, end: at, isRest };
    });
    const pieces = writtenValues(stretches, grid);
    const inputs = pieces.flatMap((own, index) =>
      own.map((piece) => ({ piece, isRest: stretches[index]!.isRest })),
    );
    return beamsOf(inputs, grid);
  };

  it('join the eighths of one beat only', () => {
    expect(beams([[240], [240], [240], [240], [480], [240], [240, true]], 4, 4)).toEqual([
      ['begin'],
      ['end'],
      ['begin'],
      ['end'],
      [],
      [],
      [],
    ]);
  });

  it('join three eighths in compound time', () => {
    expect(beams([[240], [240], [240], [480], [240]], 6, 8)).toEqual([
      ['begin'],
      ['continue'],
      ['end'],
      [],
      [],
    ]);
  });

  it('hook a sixteenth to the eighth beside it', () => {
    expect(beams([[360], [120], [120], [360], [960]], 4, 4)).toEqual([
      ['begin'],
      ['end', 'backward hook'],
      ['begin', 'forward hook'],
      ['end'],
      [],
    ]);
  });
});
