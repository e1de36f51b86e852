import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseKey, soundingMidi, ticks } from '../../../src/music';
import { givenLimits, parseNotes, printNotes } from '../../../src/pipeline/given';

const read = (text: string): string =>
  parseNotes(text)
    .notes.map(({ name, midi, tick, ticks }) => `${name}=${midi}@${tick}+${ticks}`)
    .join(' ');

describe('a line of notes', () => {
  it('is read with sounding octaves, quarter notes unless something else is said', () => {
    expect(read('E1 Bb1 | F#2, c3')).toBe('E=28@0+480 Bb=34@480+480 F#=42@960+480 C=48@1440+480');
    expect(read('F1:2 G1:1/2 A1:1.5 r:2 B♭1:1/3')).toBe(
      'F=29@0+960 G=31@960+240 A=33@1200+720 Bb=34@2880+160',
    );
  });

  it('goes to the nearest note where an octave is left out, upwards when both are as far', () => {
    expect(read('F1 G A Bb C D E F')).toBe(read('F1 G1 A1 Bb1 C2 D2 E2 F2'));
    expect(read('F2 E D C Bb')).toBe(read('F2 E2 D2 C2 Bb1'));
    expect(read('C2 F#')).toBe(read('C2 F#2'));
  });

  it('keeps the spelling, and the octave that belongs to it', () => {
    expect(read('Cb2 B#1')).toBe('Cb=35@0+480 B#=36@480+480');
  });

  it.each([
    ['F1 H1', 1, 4, 'no note'],
    ['F1\n  G1 ?', 2, 6, 'no note'],
    ['G', 1, 1, 'octave'],
    ['F1:x', 1, 1, 'no length'],
    ['F1:0', 1, 1, 'no length'],
    ['F1:1/7', 1, 1, 'no length'],
    ['F1:2:3', 1, 1, 'no length'],
    ['F9', 1, 1, 'higher'],
  ])('says of %j what is wrong at line %d, column %d', (text, line, column, words) => {
    const [problem] = parseNotes(text).problems;
    expect(problem).toMatchObject({ line, column, severity: 'error' });
    expect(problem!.message).toContain(words);
  });

  it('never throws, whatever is pasted, and keeps time rising', () => {
    const text = fc.oneof(
      fc.string({ maxLength: 200 }),
      fc
        .array(fc.constantFrom('F1', 'g', 'Bb2:1/2', 'r', '|', '::', 'C#9', 'cb0', '\n', 'E1:64'))
        .map((words) => words.join(' ')),
    );
    fc.assert(
      fc.property(text, (pasted) => {
        let end = 0;
        for (const { tick, ticks, midi } of parseNotes(pasted).notes) {
          expect(tick).toBeGreaterThanOrEqual(end);
          expect(ticks).toBeGreaterThan(0);
          expect(Number.isInteger(midi)).toBe(true);
          end = tick + ticks;
        }
      }),
      { numRuns: 300, seed: 5 },
    );
  });

  it('is written as text that reads as the same notes, rests and all', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            midi: fc.integer({ min: 21, max: 79 }),
            rest: fc.nat(40_000),
            length: fc.integer({ min: 1, max: 30_720 }),
          }),
          {
            maxLength: 24,
          },
        ),
        fc.constantFrom('F', 'F# minor', 'Db'),
        (wanted, keyText) => {
          let tick = 0;
          const notes = wanted.map(({ midi, rest, length }) => {
            const note = { midi: soundingMidi(midi), tick: ticks(tick + rest), ticks: ticks(length) };
            tick += rest + length;
            return note;
          });
          const read = parseNotes(printNotes(notes, parseKey(keyText)!));
          expect(read.problems).toEqual([]);
          expect(read.notes.map(({ midi, tick, ticks }) => ({ midi, tick, ticks }))).toEqual(notes);
        },
      ),
    );
    expect(printNotes(parseNotes('Bb1 r:2 Cb2:1/3 B#1:3/2').notes, parseKey('Bb')!)).toBe(
      'Bb1 r:2 Cb2:1/3 B#1:3/2',
    );
  });

  it('leaves out what is too much, and says so', () => {
    const many = parseNotes('F1 '.repeat(givenLimits.notes + 5));
    expect(many.notes).toHaveLength(givenLimits.notes);
    expect(many.problems[0]!.code).toBe('too-many-notes');
    const long = parseNotes(' '.repeat(givenLimits.characters + 1));
    expect(long.problems.map((one) => one.code)).toEqual(['line-too-long']);
  });
});
