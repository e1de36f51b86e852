// Written pitch, ledger lines, signatures and accidentals.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultInstrument } from '../../src/instrument';
import {
  alterationOf,
  letterOf,
  noteName,
  signatureAlteration,
  spellPitch,
  type SpelledPitch,
} from '../../src/music';
import {
  decideSigns,
  ledgerSteps,
  signGlyphNames,
  signatureSteps,
  staffStep,
} from '../../src/notation/pitches';
import { pitch } from './made';

/** Signs of bars written as "F#2 F2 ~F2", where ~ marks a note tied over from before. */
function signsOf(bars: readonly string[], fifths = 0): readonly (readonly string[])[] {
  const decided = decideSigns(
    bars.map((bar) => ({
      fifths,
      notes: bar
        .split(' ')
        .map((text) => ({ pitch: pitch(text.replace('~', '')), tiedFrom: text.startsWith('~') })),
    })),
  );
  const names = ['bb', 'b', 'n', '#', '##'];
  return decided.map((bar) =>
    bar.map((sign) => {
      if (sign === null) return '-';
      const name = names[sign.alteration + 2]!;
      return sign.courtesy ? `(${name})` : name;
    }),
  );
}

describe('the staff step of a sounding pitch', () => {
  // Common practice, no source: the bass is written an octave above its sound; the bottom line of the bass staff is G.
  it.each([
    ['E1', -2],
    ['F1', -1],
    ['G1', 0],
    ['A1', 1],
    ['D2', 4],
    ['G2', 7],
    ['A2', 8],
    ['C3', 10],
    ['Cb3', 10],
    ['B#2', 9],
  ])('%s stands on step %i', (text, step) => {
    expect(staffStep(pitch(text))).toBe(step);
  });

  it('draws the open strings on the page of a bass player: E under the staff with one ledger line', () => {
    const names = ['G', 'D', 'A', 'E'];
    const steps = defaultInstrument.strings.map(({ open }, index) =>
      staffStep(spellPitch(open, noteName(names[index]!))),
    );
    expect(steps).toEqual([7, 4, 1, -2]);
    expect(steps.map((step) => ledgerSteps(step).length)).toEqual([0, 0, 0, 1]);
  });

  it.each(['B0', 'C1', 'D1', 'Eb1', 'E1', 'F1'])('needs at most two ledger lines below for %s', (text) => {
    expect(ledgerSteps(staffStep(pitch(text))).length).toBeLessThanOrEqual(2);
  });

  it('puts ledger lines on every second step, nearest first', () => {
    expect(ledgerSteps(14)).toEqual([10, 12, 14]);
    expect(ledgerSteps(-5)).toEqual([-2, -4]);
    expect(ledgerSteps(9)).toEqual([]);
  });
});

describe('signatures', () => {
  // Any theory primer: order of fifths, and the usual places in the bass clef.
  it('stands in the usual places', () => {
    expect(signatureSteps(-3)).toEqual([2, 5, 1]);
    expect(signatureSteps(4)).toEqual([6, 3, 7, 4]);
    expect(signatureSteps(0)).toEqual([]);
  });

  it('sets every sign on a line or space of its letter', () => {
    for (const fifths of [-7, 7]) {
      const letters = fifths < 0 ? 'BEADGCF' : 'FCGDAEB';
      signatureSteps(fifths).forEach((step, index) => {
        expect('GABCDEF'[((step % 7) + 7) % 7]).toBe(letters[index]);
      });
    }
  });
});

describe('accidentals', () => {
  it('hold for their line to the bar line and no further', () => {
    expect(signsOf(['Bb2 Bb2', 'Bb2 B2'])).toEqual([
      ['b', '-'],
      ['b', 'n'],
    ]);
    expect(signsOf(['C3 C#3 C#2 C2'])).toEqual([['-', '#', '#', 'n']]);
  });

  it('do not leak into the next bar', () => {
    expect(signsOf(['Gb2 G2', 'G2 G2'])).toEqual([
      ['b', 'n'],
      ['-', '-'],
    ]);
    expect(signsOf(['F#2 F#2 F2 F#2', 'F#2 F2'])).toEqual([
      ['#', '-', 'n', '#'],
      ['#', 'n'],
    ]);
  });

  it('are not repeated on a tied note, and the next bar is reminded', () => {
    expect(signsOf(['F#2', '~F#2', 'F2'])).toEqual([['#'], ['-'], ['(n)']]);
    expect(signsOf(['F#2', '~F#2 F#2'])).toEqual([['#'], ['-', '#']]);
  });

  it('remind of the natural state in the bar after, once, and at another octave', () => {
    expect(signsOf(['Gb2', 'G2 G2', 'G2'])).toEqual([['b'], ['(n)', '-'], ['-']]);
    expect(signsOf(['B2 Bb1 B2'], -1)).toEqual([['n', '(b)', '-']]);
  });

  it('follow the signature', () => {
    expect(signsOf(['Bb1 Eb2 E2 B1'], -2)).toEqual([['-', '-', 'n', 'n']]);
  });

  it('have a glyph for each, in brackets for a courtesy', () => {
    expect(signGlyphNames({ alteration: -2, courtesy: false })).toEqual(['accidentalDoubleFlat']);
    expect(signGlyphNames({ alteration: 1, courtesy: true })).toEqual([
      'accidentalParensLeft',
      'accidentalSharp',
      'accidentalParensRight',
    ]);
  });

  it('let a reader who knows only signature and signs find every pitch', () => {
    const note = fc
      .record({
        letter: fc.constantFrom(...'CDEFGAB'),
        sign: fc.constantFrom('bb', 'b', '', '#', '##'),
        octave: fc.integer({ min: 1, max: 3 }),
      })
      .map(({ letter, sign, octave }): SpelledPitch => ({ name: noteName(letter + sign), octave }));
    fc.assert(
      fc.property(
        fc.integer({ min: -7, max: 7 }),
        fc.array(fc.array(note, { minLength: 1, maxLength: 6 }), { minLength: 1, maxLength: 5 }),
        (fifths, bars) => {
          const signs = decideSigns(
            bars.map((bar) => ({ fifths, notes: bar.map((one) => ({ pitch: one, tiedFrom: false })) })),
          );
          bars.forEach((bar, barIndex) => {
            const lines = new Map<string, number>();
            bar.forEach((one, index) => {
              const line = `${letterOf(one.name)}${one.octave}`;
              const sign = signs[barIndex]![index]!;
              if (sign !== null) lines.set(line, sign.alteration);
              const read = lines.get(line) ?? signatureAlteration(fifths, letterOf(one.name));
              expect(read).toBe(alterationOf(one.name));
            });
          });
        },
      ),
    );
  });
});
