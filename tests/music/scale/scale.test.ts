import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  chooseScale,
  makeChord,
  makeKey,
  modes,
  noteName,
  parseChord,
  parseKey,
  pitchClassOf,
  scaleFor,
  scaleIntervals,
  scaleNames,
  scaleReasons,
  semitonesOf,
  type Chord,
} from '../../../src/music';

const chordOf = (text: string): Chord | null => (text === '' ? null : makeChord(text));

// Which scale, by function: common practice, no source. "next" is the chord that follows.
const rows: readonly (readonly [chord: string, key: string, next: string, scale: string, notes: string])[] = [
  // The chords of a major key.
  ['Cmaj7', 'C', '', 'C ionian', 'C D E F G A B'],
  ['Dm7', 'C', 'G7', 'D dorian', 'D E F G A B C'],
  ['Em7', 'C', 'Fmaj7', 'E phrygian', 'E F G A B C D'],
  ['Fmaj7', 'C', '', 'F lydian', 'F G A B C D E'],
  ['G7', 'C', 'Cmaj7', 'G mixolydian', 'G A B C D E F'],
  ['Am7', 'C', '', 'A aeolian', 'A B C D E F G'],
  ['Bm7b5', 'C', '', 'B locrian', 'B C D E F G A'],
  ['F#maj7', 'F#', '', 'F# ionian', 'F# G# A# B C# D# E#'],
  ['C', 'F', '', 'C mixolydian', 'C D E F G A Bb'],
  // Two-fives away from home, and what the key does not have.
  ['Em7', 'C', 'A7', 'E dorian', 'E F# G A B C# D'],
  ['Bbm7', 'F', 'Eb7', 'Bb dorian', 'Bb C Db Eb F G Ab'],
  ['Dbmaj7', 'F', '', 'Db lydian', 'Db Eb F G Ab Bb C'],
  ['Abm6', 'Eb', 'Ebmaj7', 'Ab melodic minor', 'Ab Bb Cb Db Eb F G'],
  // Dominants: home in minor, secondary, blues.
  ['G7', 'C minor', 'Cm7', 'G phrygian dominant', 'G Ab B C D Eb F'],
  ['G7', 'C minor', '', 'G phrygian dominant', 'G Ab B C D Eb F'],
  ['A7', 'C', 'Dm7', 'A phrygian dominant', 'A Bb C# D E F G'],
  ['E7', 'C', 'Am7', 'E phrygian dominant', 'E F G# A B C D'],
  ['D7', 'C', 'G7', 'D mixolydian', 'D E F# G A B C'],
  ['F7', 'F', 'Bb7', 'F mixolydian', 'F G A Bb C D Eb'],
  ['Bb7', 'F', 'F7', 'Bb mixolydian', 'Bb C D Eb F G Ab'],
  // Lydian dominants: a half step down, flat seven, two that does not go to five.
  ['Db7', 'C', 'Cmaj7', 'Db lydian dominant', 'Db Eb F G Ab Bb Cb'],
  ['Ab7', 'C minor', 'G7', 'Ab lydian dominant', 'Ab Bb C D Eb F Gb'],
  ['Bb7', 'C', 'Cmaj7', 'Bb lydian dominant', 'Bb C D E F G Ab'],
  ['D7', 'C', 'Dm7', 'D lydian dominant', 'D E F# G# A B C'],
  ['C7#11', 'F', '', 'C lydian dominant', 'C D E F# G A Bb'],
  // Alterations in the symbol.
  ['C7alt', 'F minor', 'Fm', 'C altered', 'C Db D# E Gb Ab Bb'],
  ['C7#5#9', 'F', 'Fmaj7', 'C altered', 'C Db D# E Gb G# Bb'],
  ['C7b5b9', 'F minor', 'Fm', 'C altered', 'C Db D# E Gb Ab Bb'],
  ['C7b9', 'F', 'Fmaj7', 'C half-whole diminished', 'C Db D# E F# G A Bb'],
  ['C13b9', 'F minor', 'Fm', 'C half-whole diminished', 'C Db D# E F# G A Bb'],
  ['C7b9', 'F minor', 'Fm', 'C phrygian dominant', 'C Db E F G Ab Bb'],
  ['C7b9b13', 'F', 'Fmaj7', 'C phrygian dominant', 'C Db E F G Ab Bb'],
  ['C7#5', 'F', 'Fmaj7', 'C whole tone', 'C D E F# G# Bb'],
  ['C7#5', 'F minor', 'Fm', 'C altered', 'C Db D# E Gb G# Bb'],
  ['C9b13', 'F minor', 'Fm', 'C mixolydian flat 6', 'C D E F G Ab Bb'],
  // The other families.
  ['Dm7b5', 'C minor', 'G7', 'D locrian', 'D Eb F G Ab Bb C'],
  ['Dm9b5', 'C minor', 'G7', 'D locrian natural 2', 'D E F G Ab Bb C'],
  ['Am7b5', 'C minor', '', 'A locrian natural 2', 'A B C D Eb F G'],
  ['Cdim7', 'C', '', 'C whole-half diminished', 'C D Eb F Gb Ab Bbb B'],
  ['CmMaj7', 'C minor', '', 'C melodic minor', 'C D Eb F G A B'],
  ['Cm6', 'C minor', '', 'C melodic minor', 'C D Eb F G A B'],
  ['CmMaj7b13', 'C minor', '', 'C harmonic minor', 'C D Eb F G Ab B'],
  ['Cm7', 'C minor', '', 'C dorian', 'C D Eb F G A Bb'],
  ['Cm', 'C minor', '', 'C aeolian', 'C D Eb F G Ab Bb'],
  ['Cm7b13', 'Eb', '', 'C aeolian', 'C D Eb F G Ab Bb'],
  ['G7sus4', 'C', 'Cmaj7', 'G mixolydian', 'G A B C D E F'],
  ['G7sus4b9', 'C minor', 'Cm', 'G dorian flat 2', 'G Ab Bb C D E F'],
  ['G7sus4', 'C minor', 'G7', 'G phrygian', 'G Ab Bb C D Eb F'],
  ['Cmaj7#5', 'C', '', 'C lydian augmented', 'C D E F# G# A B'],
  ['Caug', 'F', 'F', 'C whole tone', 'C D E F# G# Bb'],
  // A third that the symbol leaves out stays out.
  ['C5', 'C', '', 'C ionian', 'C D F G A B'],
  ['C7no3', 'F', '', 'C mixolydian', 'C D F G A Bb'],
  ['Cm7no3', 'Bb', '', 'C dorian', 'C D F G A Bb'],
  // Two flats in a name only where the chord itself has them.
  ['Db7alt', 'Gb', 'Gbmaj7', 'Db altered', 'Db D E F G A Cb'],
];

describe('scaleFor', () => {
  test.each(rows)('%s in %s before %j is %s', (chord, key, next, name, notes) => {
    const scale = scaleFor(makeChord(chord), parseKey(key)!, chordOf(next));
    expect(scale).toEqual({ name, notes: notes.split(' ') });
  });

  const symbols = fc
    .tuple(
      fc.constantFrom('C', 'F#', 'Bb', 'Eb', 'Gb', 'B'),
      fc.constantFrom(
        '',
        'm',
        'maj7',
        'm7',
        '7',
        'dim7',
        'm7b5',
        'aug',
        'sus4',
        '5',
        '7alt',
        '13',
        'mMaj7',
        '6',
        '11',
      ),
      fc.uniqueArray(fc.constantFrom('b5', '#5', 'b9', '#9', '#11', 'b13', 'add9', 'no3', 'no5', 'add13'), {
        maxLength: 3,
      }),
    )
    .map(([root, quality, parts]) => `${root}${quality}(${parts.join(',')})`.replace('()', ''));
  const tonics = fc.constantFrom('C', 'F', 'Bb', 'Gb', 'D', 'F#').map(noteName);

  it('has every stated tone as the chord spells it, starts on the root and rises', () => {
    fc.assert(
      fc.property(
        symbols,
        tonics,
        fc.constantFrom(...modes),
        fc.option(symbols),
        (symbol, tonic, mode, after) => {
          const reading = parseChord(symbol);
          if (reading.kind !== 'chord') return;
          const { chord } = reading;
          const scale = scaleFor(chord, makeKey(tonic, mode), after === null ? null : makeChord(after));
          const root = pitchClassOf(chord.root);
          const heights = scale.notes.map((note) => (pitchClassOf(note) - root + 12) % 12);
          expect(scale.notes[0]).toBe(chord.root);
          expect(heights).toEqual([...new Set(heights)].sort((a, b) => a - b));
          for (const tone of chord.tones) expect(scale.notes.map(pitchClassOf)).toContain(tone.pitchClass);
          const stated = new Set(chord.tones.map((tone) => tone.note));
          for (const note of scale.notes) if (!stated.has(note)) expect(note.length, symbol).toBeLessThan(3);
          const hasPerfectFifth = chord.tones.some((tone) => tone.interval === '5P');
          const altersFifth = chord.tones.some((tone) => tone.interval === '5d' || tone.interval === '5A');
          if (altersFifth && !hasPerfectFifth) expect(heights).not.toContain(7);
        },
      ),
      { numRuns: 1000, seed: 28 },
    );
  });
});

describe('the table of scales', () => {
  it('has every name once, from the root up', () => {
    for (const name of scaleNames) {
      const sizes = scaleIntervals(name).map(semitonesOf);
      expect(sizes[0]).toBe(0);
      expect(sizes).toEqual([...new Set(sizes)].sort((a, b) => a - b));
      expect(Math.max(...sizes)).toBeLessThan(12);
    }
  });

  it('church modes and modes of melodic minor are rotations of one scale', () => {
    const steps = (name: (typeof scaleNames)[number]): string => {
      const sizes = scaleIntervals(name).map(semitonesOf);
      return sizes.map((size, index) => (sizes[index + 1] ?? 12) - size).join('');
    };
    const rotations = (pattern: string): string[] =>
      [...pattern].map((_, at) => pattern.slice(at) + pattern.slice(0, at));
    const church = ['dorian', 'phrygian', 'lydian', 'mixolydian', 'aeolian', 'locrian'] as const;
    for (const name of church) expect(rotations(steps('ionian')), name).toContain(steps(name));
    const melodic = [
      'dorian flat 2',
      'lydian augmented',
      'lydian dominant',
      'mixolydian flat 6',
      'locrian natural 2',
      'altered',
    ] as const;
    for (const name of melodic) expect(rotations(steps('melodic minor')), name).toContain(steps(name));
    expect(rotations(steps('harmonic minor'))).toContain(steps('phrygian dominant'));
    expect(rotations(steps('half-whole diminished'))).toContain(steps('whole-half diminished'));
  });

  it('chooses a name of the table for every family', () => {
    for (const symbol of ['C', 'Cm', 'C7', 'Cm7b5', 'Cdim', 'Caug', 'Csus', 'C5']) {
      const { name, reason } = chooseScale(makeChord(symbol), parseKey('Eb')!, null);
      expect(scaleNames).toContain(name);
      expect(scaleReasons).toContain(reason);
    }
  });
});
