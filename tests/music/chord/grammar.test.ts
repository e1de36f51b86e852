// What belongs to what in a chord symbol: which number a word takes with it, where a sign alters a degree and where it names a
// quality, and what may not stand beside what. Common practice, no source, where no other is named.
import { describe, expect, test } from 'vitest';
import { parseChord } from '../../../src/music';

/** Each symbol that may be typed, with the one it is, or with the fault, its place and length. */
function read(symbol: string): string {
  const reading = parseChord(symbol);
  if (reading.kind === 'chord') return reading.chord.symbol;
  return reading.kind === 'refused'
    ? `${reading.code.replace('chord-', '')} ${reading.at} ${reading.length}`
    : reading.kind;
}

const readings: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  'brackets and commas': {
    'C7( )': 'C7',
    'C(7)': 'C7',
    'C)': 'bracket 1 1',
    'C7()': 'bracket 3 1',
    'C7(b9))': 'bracket 6 1',
    'C((b9))': 'C(b9)',
    'C7,9,13': 'C13',
    'C6,9': 'C69',
    'C9(13)': 'C13',
  },
  'tones left out': {
    Cno3: 'C5',
    Cno5: 'Cno5',
    'Cno3,5': 'Cno3no5',
    'Cno3(5)': 'Cno3no5',
    'Cno5,3': 'Cno3no5',
    // Without a comma a number begins anew, after one it does where it is no third and no fifth.
    'Cno3 5': 'number 5 1',
    'Cno3(7)': 'C7no3',
    Cno9: 'C',
    C7no7: 'C',
    'C7no3+5': 'C7#5no3',
    Cno: 'number-missing 3 0',
    C7no: 'number-missing 4 0',
    'Cno b3': 'number-missing 4 1',
    'Cno#5': 'number-missing 3 1',
    'Cno+': 'number-missing 3 1',
    'Cno maj': 'number-missing 4 3',
    Cnomaj7: 'number-missing 3 3',
    Cno35: 'number-missing 3 1',
  },
  'tones added': {
    'Cadd9,11': 'Cadd9add11',
    'Cadd2,4': 'Cadd9add11',
    Cadd911: 'Cadd9add11',
    'Cadd9 2': 'Cadd9',
    'Cadd9 4': 'Cadd9add11',
    'Cadd9 13': 'C69',
    // A six or a seventh after an added ninth is the chord's own.
    'Cadd9 6': 'C69',
    'Cadd9 7': 'C9',
    Cadd5: 'C',
    Cadd6: 'C6',
    Cadd7: 'C7',
    Caddb9: 'C(b9)',
    'Cadd#11': 'C(#11)',
    'Cadd+9': 'C(#9)',
    'Cadd-9': 'C(b9)',
    Cadd9b13: 'C(b6)add9',
    'Cadd9#5': 'Caugadd9',
    'Cadd9+': 'Caugadd9',
    C7sus4add3: 'C7sus4add3',
    Caddmaj7: 'Cmaj7',
    'Cadd maj 7': 'Cmaj7',
    CaddM7: 'Cmaj7',
    Cadd: 'number-missing 4 0',
    'Cadd+': 'number-missing 4 1',
    'Cadd-': 'number-missing 4 1',
    Caddm7: 'number-missing 4 1',
    Caddmaj: 'number-missing 4 3',
    Caddmaj9: 'number-missing 4 3',
  },
  suspensions: {
    Csus: 'Csus4',
    Csus2: 'Csus2',
    Csus24: 'Csus24',
    C7sus2: 'C7sus2',
    C7sus2sus4: 'C7sus24',
    'Csus#4': 'Csus#4',
    Csusb2: 'Csusb2',
    'Csus b 2': 'Csusb2',
    C7susb2: 'C7susb2',
    // The fourth is meant where another degree follows, altered or not.
    Csusb9: 'C7sus4b9',
    C7susb9: 'C7sus4b9',
    'Csus4#4': 'Csus4#11',
    'Csus#2': 'C7sus4#9',
    Csusb4: 'alteration 4 1',
    Csus7: 'C7sus4',
    Csus9: 'C9sus4',
    C7sus9: 'C9sus4',
    Csus13: 'C13sus4',
    'C7sus+9': 'C7sus4#9',
    // An eleventh over a seventh is the suspended tone itself; alone it brings ninth and seventh.
    C7sus11: 'C7sus4',
    C9sus11: 'C9sus4',
    Csus11: 'C9sus4',
    'Csus+': 'Csus4#5',
    'Csus-5': 'Csus4b5',
    Csusmaj7: 'Cmaj7sus4',
    'Csus maj': 'Cmaj7sus4',
  },
  'plus and minus right after the root': {
    'C+': 'Caug',
    'C-': 'Cm',
    'C(+)': 'Caug',
    'C(-)': 'Cm',
    // They name the quality, but before the degrees of a triad that they alter.
    'C+7': 'C7#5',
    'C-7': 'Cm7',
    'C(+7)': 'C7#5',
    'C(-7)': 'Cm7',
    'C+9': 'C9#5',
    'C-9': 'Cm9',
    'C-11': 'Cm11',
    'C-4': 'Cmadd11',
    'C-2': 'Cmadd9',
    'C+5': 'Caug',
    'C-5': 'C(b5)',
    'C+4': 'C(#11)',
    'C+11': 'C(#11)',
    // In brackets they alter ninth and thirteenth, too.
    'C(+9)': 'C(#9)',
    'C(-9)': 'C(b9)',
    'C(+5)': 'Caug',
    'C(-5)': 'C(b5)',
    'C(-13)': 'C(b6)',
    'C(+4)': 'C(#11)',
    'C(+13)': 'alteration 2 1',
    // Added in some charts, raised in others.
    'C+2': 'alteration 1 1',
  },
  'plus and minus after other pieces': {
    'C7+': 'C7#5',
    'C7++': 'C7#5',
    'C7+5': 'C7#5',
    'C7-5': 'C7b5',
    'C7+9': 'C7#9',
    'C7-9': 'C7b9',
    'C7+-5': 'C7b5#5',
    // A hyphen joins two pieces and no others.
    'C7-b5': 'C7b5',
    'C7-#9': 'C7#9',
    'C7-': 'unknown 2 1',
    'Cm7--5': 'unknown 3 1',
    'Cm7-+5': 'unknown 3 1',
    'Cm7-(b5)': 'unknown 3 1',
    'Cm7- b5': 'unknown 3 1',
    C7b: 'number-missing 2 1',
    'C7# ': 'number-missing 2 1',
  },
  'major sevenths': {
    CM: 'C',
    CM5: 'C',
    CM6: 'C6',
    CM69: 'C69',
    CM2: 'Cadd9',
    CM4: 'Csus4',
    CM7: 'Cmaj7',
    CM9: 'Cmaj9',
    CM11: 'Cmaj11',
    CM13: 'Cmaj13',
    // Before an alteration of a degree above it the seventh is meant.
    'CM#11': 'Cmaj7#11',
    'CM(#11)': 'Cmaj7#11',
    CmM: 'CmMaj7',
    CmM7: 'CmMaj7',
    'Cm maj9': 'CmMaj9',
    C7M: 'Cmaj7',
    C9M: 'Cmaj9',
    C6M: 'C6',
    Cm6M: 'Cm6',
    C6M7: 'Cmaj7add13',
    CΔ: 'Cmaj7',
    CΔ6: 'C6',
    CΔ9: 'Cmaj9',
    'CΔ#11': 'Cmaj7#11',
    C6Δ: 'Cmaj7add13',
    CmΔ: 'CmMaj7',
    'C+Δ': 'Cmaj7#5',
    'C+M7': 'Cmaj7#5',
    'C°M7': 'CdimMaj7',
    'C°Δ': 'CdimMaj7',
  },
  qualities: {
    Cdom: 'C7',
    Cdom7: 'C7',
    Cdom9: 'C9',
    Cdom11: 'C11',
    Cdom13: 'C13',
    Cdom2: 'number 1 3',
    Cdom5: 'number 1 3',
    Cdom6: 'number 1 3',
    Cmdom: 'two-qualities 2 3',
    C7dom: 'two-qualities 2 3',
    Cmm: 'two-qualities 2 1',
    'Cmaj m': 'two-qualities 5 1',
    Cdim: 'Cdim',
    Cdim9: 'Cdim9',
    Caug9: 'C9#5',
    Chalfdim: 'Cm7b5',
    Cø9: 'Cm9b5',
    Cø11: 'Cm11b5',
    Cø13: 'Cm13b5',
    Cø5: 'number 1 1',
    Cø6: 'number 1 1',
    Cmø: 'two-qualities 2 1',
    C7ø: 'two-qualities 2 1',
    Calt: 'C7alt',
    C9alt: 'C7alt',
    Cmajalt: 'C7alt',
    Cmalt: 'two-qualities 2 3',
    Caugalt: 'two-qualities 4 3',
    Cdimalt: 'two-qualities 4 3',
    Cx: 'not-a-chord 0 2',
    C7x: 'unknown 2 1',
  },
  'words that alter a degree': {
    C7dim5: 'C7b5',
    C7dim9: 'C7b9',
    C7aug: 'C7#5',
    C7aug5: 'C7#5',
    C7aug9: 'C7#9',
    C7aug11: 'C7#11',
    C7dim: 'two-qualities 2 3',
    C7dim6: 'two-qualities 2 3',
    C7dim7: 'two-qualities 2 3',
    C7aug6: 'two-qualities 2 3',
    C7aug7: 'two-qualities 2 3',
  },
  modes: {
    Cdorian: 'Cm7',
    // After a quality or a seventh a mode adds what is its own.
    'Cm dorian': 'Cm',
    'C7 lydian': 'C7#11',
    Cmaj7lydian: 'Cmaj7#11',
    'Cmaj lydian': 'Cmaj7#11',
    'Clydian#5': 'Cmaj7#5#11',
    'Clydian lydian': 'Cmaj7#11',
    'C6 lydian': 'two-qualities 3 6',
  },
};

describe.each(Object.keys(readings))('%s', (group) => {
  test.each(Object.entries(readings[group]!))('%s is %s', (symbol, meant) =>
    expect(read(symbol)).toBe(meant),
  );
});

test('a bracket that is left open and a bare triangle are read and told', () => {
  const remarks = (symbol: string): readonly string[] => {
    const reading = parseChord(symbol);
    return reading.kind === 'chord' ? reading.remarks.map(({ code }) => code) : ['refused'];
  };
  expect(remarks('C7(b9')).toEqual(['chord-bracket-open']);
  expect(remarks('C7((b9)')).toEqual(['chord-bracket-open']);
  expect(remarks('C7(b9)')).toEqual([]);
  expect(remarks('CΔ')).toEqual(['chord-triangle']);
  // Nothing is bare about these.
  for (const symbol of ['CΔ7', 'CΔ9', 'CmΔ', 'CΔ#11', 'Cmaj']) expect(remarks(symbol), symbol).toEqual([]);
});
