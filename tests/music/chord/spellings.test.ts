// Every kind of chord in the spellings of the trade, put together from their parts: quality words, bracketings, signs of
// print, roots and basses. Tones are those of any jazz theory text; the spellings are common practice, no source.
import { describe, expect, it, test } from 'vitest';
import { parseChord, transpose, type IntervalName, type NoteName } from '../../../src/music';

/** Intervals of what is read, or the code of the refusal. */
function read(symbol: string): string {
  const reading = parseChord(symbol);
  if (reading.kind === 'refused') return `refused: ${reading.code}`;
  if (reading.kind !== 'chord') return reading.kind;
  return reading.chord.tones.map((tone) => tone.interval).join(' ');
}

/** Words for each quality after the root, and the tones they stand for. */
const qualities: readonly (readonly [intervals: string, words: string])[] = [
  ['1P 3M 5P', '|M|maj|Maj|MAJ|ma|Ma|MA|major| maj| major'],
  ['1P 3m 5P', 'm|mi|min|Mi|Min|MI|MIN|-|−|–|minor| m| min| minor'],
  ['1P 3m 5d', 'dim|Dim|DIM|o|°|º|dim.|diminished|mb5|m(b5)|-(b5)|min(b5)|mi♭5| dim|m-5|○'],
  ['1P 3M 5A', '+|aug|Aug|AUG|aug.|augmented|(#5)|+5|(+5)| aug|⁺'],
  ['1P 5P', '5|(no3)|no3|omit3|(omit3)|(omit 3)| no 3|no3rd'],
  ['1P 4P 5P', 'sus|sus4|Sus4|SUS4|(sus4)|(sus)| sus| sus4| sus 4|sus(4)|4'],
  ['1P 2M 5P', 'sus2|(sus2)| sus2| sus 2|sus(2)'],
  ['1P 2M 4P 5P', 'sus24|sus2/4|sus4/2|sus2sus4|sus4sus2|sus(2,4)|sus2,4|sus4add9|sus4(add2)'],
  ['1P 3M 5P 6M', '6|M6|maj6|ma6|MA6|add6|(add6)|add13|(6)| 6|maj 6|⁶'],
  ['1P 3m 5P 6M', 'm6|-6|mi6|min6|MIN6|m(6)|m add6|m(add6)| m6|minor 6|−6|m⁶'],
  ['1P 3M 5P 6M 9M', '69|6/9|6(9)|6,9|6 9|6add9|6(add9)|(6/9)|M69|maj6/9|maj69|ma69|⁶⁄₉|add6add9'],
  ['1P 3m 5P 6M 9M', 'm69|m6/9|-69|-6/9|min6/9|mi69|m6(9)|m6add9|min6(add9)|m(6/9)'],
  ['1P 3M 5P 9M', 'add9|(add9)|add 9|2|add2|(add2)|(9)|Madd9|majadd9|maj(add9)|(add 9)| add9|/9'],
  ['1P 3m 5P 9M', 'm(add9)|madd9|m add9|-add9|minadd9|miadd9|m(9)|-(add9)|madd2|m2'],
  ['1P 3M 5P 11P', 'add11|(add11)|add4|(add4)|(11)|add 11'],
  ['1P 3M 5P 7M', 'maj7|Maj7|MAJ7|ma7|Ma7|MA7|M7|j7|J7|^7|Δ7|△7|∆7|▵7|major7|7M| maj7|maj 7|maj.7| M7|maj⁷'],
  ['1P 3M 5P 7M 9M', 'maj9|ma9|MA9|M9|Δ9|^9|△9|maj7(9)|maj7add9|maj7(add9)|maj7/9|maj7,9|M7(9)'],
  ['1P 3M 5P 7M 9M 13M', 'maj13|ma13|M13|Δ13|^13|maj9(13)|maj9/13|maj7(9,13)|maj7(9/13)|maj9add13'],
  [
    '1P 3M 5P 7M 11A',
    'maj7#11|maj7(#11)|M7#11|Δ#11|Δ7#11|^7#11|ma7#11|maj7+11|maj7♯11|maj7 #11|maj7#4|maj7lyd',
  ],
  ['1P 3M 5P 7M 9M 11A', 'maj9#11|maj9(#11)|M9#11|Δ9#11|maj7(9,#11)|ma9♯11|maj9+11'],
  ['1P 3M 5A 7M', 'maj7#5|maj7(#5)|M7#5|+maj7|+M7|maj7+5|augmaj7|aug(maj7)|Δ#5|^7#5|ma7♯5|maj7+|+Δ7|+(maj7)'],
  ['1P 3M 5d 7M', 'maj7b5|maj7(b5)|M7b5|Δb5|Δ7b5|maj7-5|ma7♭5|maj7 b5'],
  ['1P 3M 5P 7M 9A', 'maj7#9|maj7(#9)|M7#9|Δ7♯9|maj7+9'],
  ['1P 4P 5P 7M', 'maj7sus4|maj7sus|M7sus4|maj7(sus4)|Δ7sus|susmaj7'],
  ['1P 3m 5P 7m', 'm7|-7|mi7|min7|Min7|MIN7|MI7|minor7|−7|–7|‑7| m7|m 7|min 7| minor 7|m⁷|⁻⁷'],
  ['1P 3m 5P 7m 9M', 'm9|-9|mi9|min9|MIN9|m7(9)|m7add9|m7/9|m7(add9)|−9|m9(no11)'],
  ['1P 3m 5P 7m 9M 11P', 'm11|-11|mi11|min11|m9(11)|m7(9,11)|m7(9/11)|m9add11|−11'],
  ['1P 3m 5P 7m 11P', 'm7(11)|m7add11|m7/11|m7add4|-7(11)|m7(add11)|min7add11'],
  ['1P 3m 5P 7m 9M 13M', 'm13|-13|mi13|min13|m9(13)|m9add13|m7(9,13)'],
  [
    '1P 3m 5P 7M',
    'mMaj7|mM7|m(maj7)|mmaj7|min(maj7)|mi(ma7)|-maj7|-M7|-Δ|-Δ7|mΔ7|m^7|m/maj7|m/M7|m#7|m(#7)|m+7|m(+7)',
  ],
  ['1P 3m 5P 7M 9M', 'mMaj9|mM9|m(maj9)|min(maj9)|-Δ9|mmaj9|m9(maj7)|-M9|mΔ9'],
  ['1P 3m 5A 7m', 'm7#5|m7(#5)|-7#5|m7+5|min7#5|mi7♯5|m7+'],
  ['1P 3m 5P 7m 9m', 'm7b9|m7(b9)|-7b9|min7(♭9)'],
  [
    '1P 3m 5d 7m',
    'm7b5|m7(b5)|-7b5|-7(b5)|mi7b5|min7b5|min7(b5)|m7♭5|−7♭5|m7-5|ø|ø7|∅|∅7|Ø7|h7|halfdim|half-dim7|half diminished|m7 b5|-7-5|⁻⁷♭⁵',
  ],
  ['1P 3m 5d 7m 9M', 'm9b5|m9(b5)|-9b5|ø9|min9b5|m7b5(9)|m7b5add9|ø(9)'],
  ['1P 3m 5d 7m 9M 11P', 'ø11|m11b5|m11(b5)|-11b5'],
  ['1P 3m 5d 7d', 'dim7|o7|°7|º7|07|d7|Dim7|DIM7|dim 7|diminished7| dim7| o7|○7'],
  ['1P 3m 5d 7M', 'oM7|o(maj7)|dim(maj7)|°(maj7)|dimmaj7|dimM7|mM7b5'],
  ['1P 3M 5P 7m', '7|dom7|dom|(7)|7th| 7|dominant 7|⁷|₇'],
  ['1P 3M 5P 7m 9M', '9|7(9)|dom9|7/9|7add9|7(add9)|9th| 9|⁹'],
  ['1P 3M 5P 7m 9M 13M', '13|13(9)|9(13)|9/13|7(9,13)|9add13|dom13|7 9 13'],
  ['1P 3M 5P 7m 13M', '7(13)|7add13|7/13|7(add13)|7add6|7/6'],
  ['1P 5P 7m 9M 11P', '11|dom11|11th'],
  ['1P 3M 5A 7m', '+7|7+|7#5|7(#5)|7+5|7(+5)|7aug|aug7|7♯5|Aug7|7(+)|augmented7'],
  ['1P 3M 5A 7m 9M', '9#5|9(#5)|+9|9+5|aug9|9♯5|9+'],
  ['1P 3M 5d 7m', '7b5|7(b5)|7-5|7♭5|7 b5|7(-5)|7(♭5)'],
  ['1P 3M 5d 7m 9M', '9b5|9(b5)|9-5|9♭5'],
  ['1P 3M 5P 7m 11A', '7#11|7(#11)|7+11|7♯11|7 #11|7#4|7lyd|7(+11)'],
  ['1P 3M 5P 7m 9M 11A', '9#11|9(#11)|9+11|9♯11|9 #11|7(9,#11)'],
  ['1P 3M 5P 7m 9M 11A 13M', '13#11|13(#11)|13+11|13♯11|7(9,#11,13)'],
  ['1P 3M 7m', '7alt|7(alt)|alt|alt7|7alt.|7altered|7 alt|(alt)|7(alt.)|ALT'],
  ['1P 4P 5P 7m', '7sus4|7sus|7(sus4)|7(sus)|sus7|7 sus4|7 sus|7sus(4)|sus4(7)|sus4/7|7/4|7suspended'],
  ['1P 2M 5P 7m', '7sus2|7(sus2)'],
  ['1P 4P 5P 7m 9M', '9sus|9sus4|9(sus4)|sus9|7sus4(9)|9 sus|11(no3)|7sus9'],
  ['1P 4P 5P 7m 9M 13M', '13sus|13sus4|13(sus4)|sus13|9sus4(13)'],
  [
    '1P 4P 5P 7m 9m',
    '7sus4b9|7susb9|7b9sus|7b9sus4|7sus(b9)|7sus4(b9)|sus4b9|7(b9)sus4|7(sus4,b9)|7(b9,sus4)|phryg',
  ],
  ['1P 3M 7m', '7no5|7(no5)|7omit5|7(omit5)|7(omit 5)|7 no5|7 no 5'],
  ['1P 5P 7m', '7no3|7(no3)|7(omit3)|7omit3'],
  ['1P 3m 7m', 'm7no5|m7(no5)|-7(omit5)'],
  ['1P 3M', 'no5|(no5)|omit5|(omit5)| no5'],
];

const bases = qualities.flatMap(([intervals, words]) =>
  words.split('|').map((word): readonly [word: string, intervals: string] => [word, intervals]),
);

describe('qualities', () => {
  test.each(bases)('C%s has %s', (word, intervals) => {
    expect(read(`C${word}`)).toBe(intervals);
  });

  it('tells at least 400 spellings of 60 kinds apart', () => {
    expect(bases.length).toBeGreaterThanOrEqual(400);
    expect(new Set(qualities.map(([intervals]) => intervals)).size).toBeGreaterThanOrEqual(50);
  });
});

/** Roots as they are typed and as they sound. */
const roots: readonly (readonly [typed: string, root: string])[] = [
  ['F#', 'F#'],
  ['F♯', 'F#'],
  ['Bb', 'Bb'],
  ['B♭', 'Bb'],
  ['E flat ', 'Eb'],
  ['Gb', 'Gb'],
  ['B', 'B'],
];

/** Spellings that begin with a degree would change the accidental's meaning, as in "F#11"; that is tested elsewhere. */
const isSafe = (word: string): boolean => !/^[259]|^1[13]|^[hd]7/.test(word);

describe('roots and basses', () => {
  test.each(roots)('any quality on %s', (typed, root) => {
    for (const [word, intervals] of bases.filter(([candidate]) => isSafe(candidate))) {
      const reading = parseChord(`${typed}${word}/D♭`);
      if (reading.kind !== 'chord') throw new Error(`${typed}${word}/D♭ is ${reading.kind}`);
      expect(reading.chord.root, word).toBe(root);
      expect(reading.chord.bass, word).toBe(root === 'Db' ? null : 'Db');
      const notes = intervals.split(' ').map((name) => transpose(root as NoteName, name as IntervalName));
      expect(
        reading.chord.tones.map(({ note }) => note),
        word,
      ).toEqual(notes);
    }
  });

  it('reads every quality inside brackets as optional, and with a comma or a question mark after it', () => {
    for (const [word, intervals] of bases) {
      for (const symbol of [
        `(C${word})`,
        `[C${word}]`,
        `C${word},`,
        `C${word}?`,
        `C${word}*`,
        `"C${word}"`,
      ]) {
        expect(read(symbol), symbol).toBe(intervals);
      }
    }
  });

  it('reads a lower-case root', () => {
    for (const [word, intervals] of bases.filter(([candidate]) => /^[m-]?\d|^sus|^ø|^°/.test(candidate))) {
      expect(read(`c${word}`), word).toBe(intervals);
    }
  });
});

/** Alterations of the dominant in pairs: the tones each leaves. */
const pairs: readonly (readonly [first: string, second: string, intervals: string])[] = [
  ['b5', 'b9', '1P 3M 5d 7m 9m'],
  ['b5', '#9', '1P 3M 5d 7m 9A'],
  ['#5', 'b9', '1P 3M 5A 7m 9m'],
  ['#5', '#9', '1P 3M 5A 7m 9A'],
  ['b9', '#9', '1P 3M 5P 7m 9m 9A'],
  ['b9', '#11', '1P 3M 5P 7m 9m 11A'],
  ['#9', '#11', '1P 3M 5P 7m 9A 11A'],
  ['b9', 'b13', '1P 3M 7m 9m 13m'],
  ['#9', 'b13', '1P 3M 7m 9A 13m'],
  ['#11', 'b13', '1P 3M 7m 11A 13m'],
  ['b9', '13', '1P 3M 5P 7m 9m 13M'],
  ['#9', '13', '1P 3M 5P 7m 9A 13M'],
  ['#11', '13', '1P 3M 5P 7m 11A 13M'],
];

/** How two alterations stand after a seventh. */
const stylings: readonly ((a: string, b: string) => string)[] = [
  (a, b) => `${a}${b}`,
  (a, b) => `(${a}${b})`,
  (a, b) => `(${a},${b})`,
  (a, b) => `(${a}, ${b})`,
  (a, b) => `(${a} ${b})`,
  (a, b) => `(${a}/${b})`,
  (a, b) => `(${a};${b})`,
  (a, b) => `(${a})(${b})`,
  (a, b) => `[${a},${b}]`,
  (a, b) => ` ${a} ${b}`,
  (a, b) => ` (${a},${b})`,
  (a, b) => `${a}(${b})`,
  (a, b) => `(${a})${b}`,
  (a, b) => `${a}/${b}`,
  (a, b) => `${a},${b}`,
];
/** The signs a degree is altered by. */
const signs: readonly ((text: string) => string)[] = [
  (text) => text,
  (text) => text.replace('b', '♭').replace('#', '♯'),
  (text) => text.replace('b', 'flat ').replace('#', 'sharp '),
];
/** The signs of older print; one before another would be read as joining them. */
const plusAndMinus = (text: string): string => text.replace('b', '-').replace('#', '+');

describe('alterations', () => {
  test.each(pairs)('%s and %s, in either order, any bracketing and any signs', (first, second, intervals) => {
    for (const [one, other] of [[first, second] as const, [second, first] as const]) {
      for (const styling of stylings) {
        for (const sign of signs) {
          const symbol = `C7${styling(sign(one), sign(other))}`;
          expect(read(symbol), symbol).toBe(intervals);
        }
        const symbol = `C7${styling(plusAndMinus(one), plusAndMinus(other))}`;
        if (!/--|-\+|-\d\d?-$/.test(symbol)) expect(read(symbol), symbol).toBe(intervals);
      }
    }
  });
});

describe('what is no chord', () => {
  // Words of lead sheets and lyrics that begin with a note name, or are made of them.
  const words =
    'end End bed add dad cab fade gag bad face cafe deaf egg ad Ad Add Ed ed go do be Be an An ah eh emma Emma Bridge ' +
    'Chorus Coda Fine Dal Segno Ending Adagio Allegro Andante Band Bass Drums Guitar Break break fill Fill Feel Even Double ' +
    'Fast Ballad Groove Dance Blues Girl Baby dream gone Again and Every Each Good God Come Call Day Dear Down Fly';
  test.each([...words.split(' '), 'ad lib', 'Double time', 'Fade out', 'Da Capo', 'End on C7', 'Bass solo'])(
    '%s is refused with a place',
    (word) => {
      expect(parseChord(word).kind).toBe('refused');
    },
  );

  test.each([
    ['CM-7', 'chord-two-qualities'],
    ['C/E/G', 'chord-bass'],
    ['C/E7', 'chord-bass'],
    ['H/D#', 'chord-german-h'],
    ['Hm7b5', 'chord-german-h'],
    ['C/H', 'chord-german-h'],
    ['BB7', 'chord-capital-flat'],
    ['Cmm7', 'chord-two-qualities'],
    ['C7b', 'chord-number-missing'],
    ['C7bb9', 'chord-alteration'],
    ['Cbbb7', 'chord-root-accidentals'],
    ['C7)', 'chord-bracket'],
    ['add9', 'chord-no-root'],
    ['♭7', 'chord-no-root'],
    ['C4x', 'chord-unknown'],
  ])('%s is refused as %s', (symbol, code) => {
    expect(parseChord(symbol)).toMatchObject({ kind: 'refused', code });
  });
});
