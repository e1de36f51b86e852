// Charts as they arrive: typed in a hurry, pasted from a letter, a page or a table, each with the bars that must be played.
// The layouts are ours; how they are to be understood is common practice, no source.
import { describe, expect, it } from 'vitest';
import { readChart } from '../../../src/pipeline/1-chart';
import { playedLines } from '../2-timeline/played-text';

const played = (text: string): string => playedLines(readChart(text).chart, 1)[0] ?? '';

/** What is said about each is told by its codes; notes on how something was read are counted where they are given. */
const layouts: readonly (readonly [
  name: string,
  text: string,
  bars: string,
  told?: readonly string[],
  noted?: readonly string[],
])[] = [
  ['tabs between bars', '|\tF7\t|\tBb7\t|\tF7\t|\tCm7\tF7\t|', 'F7 | Bb7 | F7 | Cm7 F7@3'],
  ['tabs for bar lines', 'F7\tBb7\nF7\tCm7', 'F7 | Bb7 | F7 | Cm7', [], ['bars-guessed']],
  ['dashes for beats', '| Dm7 - - - | G7 - Db7 - | C6 - - - |', 'Dm7 | G7 Db7@3 | C6'],
  ['dashes between chords', '| Dm7 - G7 | C6 - A7 |', 'Dm7 G7@3 | C6 A7@3'],
  ['many blanks', '|   Cmaj7        |  Am7    D7   |   Gmaj7          |', 'Cmaj7 | Am7 D7@3 | Gmaj7'],
  ['no bar line at the ends', 'Cm7 | F7 | Bbmaj7 | Ebmaj7', 'Cm7 | F7 | Bbmaj7 | Ebmaj7'],
  [
    'a double bar at the end of a line',
    'Cm7 | F7 | Bbmaj7 ||\nAm7b5 | D7 | Gm7 ||',
    'Cm7 | F7 | Bbmaj7 | Am7b5 | D7 | Gm7',
  ],
  ['a bar a line', 'Cm7\nF7\nBbmaj7\nBbmaj7', 'Cm7 | F7 | Bbmaj7 | Bbmaj7'],
  ['no chord', '| N.C. | NC | n.c. | C7 |', 'N.C. | N.C. | N.C. | C7'],
  ['times in brackets', '|: C7 | F7 :| (x3)\n| G7 |', 'C7 | F7 | C7 | F7 | C7 | F7 | G7'],
  ['times in words', '|: C7 | F7 :| 3 times\n| G7 |', 'C7 | F7 | C7 | F7 | C7 | F7 | G7'],
  ['times behind the sign', '|: C7 :|x4| G7 |', 'C7 | C7 | C7 | C7 | G7'],
  ['signs for the bar before', '| C7 | % | F7 | ％ |', 'C7 | C7 | F7 | F7'],
  ['a minus for minor', '| C-7 | F−7 | B♭–6 | Eb-Δ7 |', 'Cm7 | Fm7 | Bbm6 | EbmMaj7'],
  ['signs of print', '| Aø7 | A∅ | D7♭9 | G°7 | C△7 | CΔ |', 'Am7b5 | Am7b5 | D7b9 | Gdim7 | Cmaj7 | Cmaj7'],
  ['section letters in brackets', '[A]\n| C6 | A7 |\n[B]\n| Dm7 | G7 |', 'C6 | A7 | Dm7 | G7'],
  ['section letters with a colon', 'A: C6 | A7\nB: Dm7 | G7', 'C6 | A7 | Dm7 | G7'],
  ['section names with a colon', 'Verse:\nC6 | A7\nBridge:\nDm7 | G7', 'C6 | A7 | Dm7 | G7'],
  ['section letters in round brackets', '(A)\n| C6 | A7 |\n(B)\n| Dm7 | G7 |', 'C6 | A7 | Dm7 | G7'],
  ['wide repeat signs', '||: C6 | A7 :||\n||: Dm7 | G7 :||', 'C6 | A7 | C6 | A7 | Dm7 | G7 | Dm7 | G7'],
  [
    'endings with a full stop',
    '||: C6 | A7 | 1. Dm7 | G7 :|| 2. Dm7 G7 | C6 ||',
    'C6 | A7 | Dm7 | G7 | C6 | A7 | Dm7 G7@3 | C6',
  ],
  [
    'endings on lines of their own',
    '|: C6 | A7 |\n[1. Dm7 | G7 :|\n[2. Dm7 G7 | C6 ||',
    'C6 | A7 | Dm7 | G7 | C6 | A7 | Dm7 G7@3 | C6',
  ],
  [
    'endings as words of number',
    '|: C6 | A7 |1st Dm7 | G7 :|2nd Dm7 G7 | C6 ||',
    'C6 | A7 | Dm7 | G7 | C6 | A7 | Dm7 G7@3 | C6',
  ],
  ['an introduction', 'Intro\nDm7 | G7\n\nA\nC6 | A7', 'Dm7 | G7 | C6 | A7'],
  [
    'Fine and D.C.',
    'C6 | A7 | Dm7 | G7 Fine\nF7 | E7 D.C. al Fine',
    'C6 | A7 | Dm7 | G7 | F7 | E7 | C6 | A7 | Dm7 | G7',
  ],
  ['small letters', 'dm7 | g7 | cmaj7 | eb7 ab7', 'Dm7 | G7 | Cmaj7 | Eb7 Ab7@3'],
  [
    'chords over words',
    'Dm7         G7\nWalk along the quiet street\nC6          A7\nAnd never mind the rain',
    'Dm7 G7@3 | C6 A7@3',
    ['line-not-read'],
  ],
  [
    'chords over words with bar lines',
    '| Dm7       | G7       |\n  Walk along the quiet street\n| C6        | A7       |\n  and never mind the rain',
    'Dm7 | G7 | C6 | A7',
    ['line-not-read'],
  ],
  ['remarks behind a sign', '| C6 | A7 | # the turn\n| Dm7 | G7 | // twice as soft', 'C6 | A7 | Dm7 | G7'],
  ['Windows line ends', '| C6 | A7 |\r\n| Dm7 | G7 |\r\n', 'C6 | A7 | Dm7 | G7'],
  [
    'blanks that do not break',
    '|\u00a0C6\u00a0|\u00a0A7\u00a0|\u202fDm7\u2003G7\u3000|',
    'C6 | A7 | Dm7 G7@3',
  ],
  ['a mark of byte order and blanks of no width', '\ufeff| C6\u200b | A7\u200d |', 'C6 | A7'],
  ['full-width signs', '｜Ｃ６｜Ａ７｜Ｄｍ７　Ｇ７｜', 'C6 | A7 | Dm7 G7@3'],
  ['bullets', '• C6 | A7\n• Dm7 | G7', 'C6 | A7 | Dm7 | G7'],
  ['dashes as bullets', '- C6 | A7\n- Dm7 | G7', 'C6 | A7 | Dm7 | G7'],
  ['stars as bullets', '* C6 | A7\n* Dm7 | G7', 'C6 | A7 | Dm7 | G7'],
  [
    'a table of a page',
    '| 1 | 2 | 3 | 4 |\n|---|---|:-:|---|\n| C6 | A7 | Dm7 | G7 |\n| C6 | A7 | Dm7 G7 | C6 |',
    'C6 | A7 | Dm7 | G7 | C6 | A7 | Dm7 G7@3 | C6',
  ],
  [
    'a table without numbers',
    '| C6 | A7 | Dm7 | G7 |\n| --- | --- | --- | --- |\n| C6 | A7 | Dm7 G7 | C6 |',
    'C6 | A7 | Dm7 | G7 | C6 | A7 | Dm7 G7@3 | C6',
  ],
  ['bar numbers', '1 | C6 | A7 |\n3 | Dm7 | G7 |', 'C6 | A7 | Dm7 | G7'],
  ['strokes of a drawn line', '¦ C6 ¦ A7 ¦\n│ Dm7 │ G7 │', 'C6 | A7 | Dm7 | G7'],
  ['beats as strokes', '| C6 / / / | Dm7 / G7 / |', 'C6 | Dm7 G7@3'],
  ['beats as points', '| C6 . . . | Dm7 . . G7 |', 'C6 | Dm7 G7@4'],
  ['a fence of a page', '```\n| C6 | A7 |\n| Dm7 | G7 |\n```', 'C6 | A7 | Dm7 | G7'],
  ['headings of a page', '# Ours\n## A\n| C6 | A7 |\n## B\n| Dm7 | G7 |', 'C6 | A7 | Dm7 | G7'],
  ['quoted in a letter', '> | C6 | A7 |\n> | Dm7 | G7 |', 'C6 | A7 | Dm7 | G7'],
  ['a title on a line of its own', 'Our Own Tune\n\n| C6 | A7 |', 'C6 | A7'],
  ['times before and apart', '|: C7 :| (2x) |: F7 :| 3x | G7 |', 'C7 | C7 | F7 | F7 | F7 | G7'],
  ['a typed sign for the bar before', '| C7 | ./. | F7 | ./. |', 'C7 | C7 | F7 | F7'],
  ['bold type', '**A**\n| **C6** | **A7** |\n**Bridge**\n| **Dm7** | **G7** |', 'C6 | A7 | Dm7 | G7'],
  ['marks of a page', '| C6 &nbsp; | A7 |<br>\n| `Dm7` | G7 \\|', 'C6 | A7 | Dm7 | G7'],
  ['commas between chords', '| C6, A7 | Dm7, G7 |', 'C6 A7@3 | Dm7 G7@3'],
  ['a fade said in words', '|: C6 | A7 :|\n(repeat and fade)', 'C6 | A7 | C6 | A7', ['line-not-read']],
  ['an arrow to the next', 'Dm7 → G7 → C6', 'Dm7 | G7 | C6', [], ['bars-guessed']],
  ['typed arrows', 'Dm7 -> G7 => C6', 'Dm7 | G7 | C6', [], ['bars-guessed']],
  ['dashes for bar lines', 'Am7 - D7 - Gmaj7 - Cmaj7', 'Am7 | D7 | Gmaj7 | Cmaj7', [], ['bars-guessed']],
  ['long dashes for bar lines', 'Am7 – D7 — Gmaj7', 'Am7 | D7 | Gmaj7', [], ['bars-guessed']],
  [
    'dashes between bars of two',
    'Am7 D7 - Gmaj7 - Bm7 E7 -',
    'Am7 D7@3 | Gmaj7 | Bm7 E7@3',
    [],
    ['bars-guessed'],
  ],
  ['dashes that count beats', 'Dm7 - - - G7 - - -', 'Dm7 | G7', [], ['bars-guessed']],
  ['commas for bar lines', 'Dm7, G7, C7(b9,#11), F6', 'Dm7 | G7 | C7b9#11 | F6', [], ['bars-guessed']],
  ['semicolons for bar lines', 'Dm7; G7; C6', 'Dm7 | G7 | C6', [], ['bars-guessed']],
  ['semicolons between chords of a bar', '| Dm7; G7 | C6 |', 'Dm7 | C6', [], ['alternate-taken']],
  ['tabs behind a name', 'A:\tDm7\tG7\nB:\tC6\tA7', 'Dm7 | G7 | C6 | A7', [], ['bars-guessed']],
  ['tabs that set chords apart', 'Dm7\t\tG7\nC6\t\tA7', 'Dm7 G7@3 | C6 A7@3'],
  ['a name and dashes', 'Intro: C6 - A7 - Dm7 - G7', 'C6 | A7 | Dm7 | G7', [], ['bars-guessed']],
  ['a bullet and dashes', '• C6 - A7\n• Dm7 - G7', 'C6 | A7 | Dm7 | G7', [], ['bars-guessed']],
  ['a sentence with dashes', 'Play it softly - and slowly\n| C6 | A7 |', 'C6 | A7'],
  [
    'a line played twice',
    '| C6 | A7 | x2\n| Dm7 | G7 |',
    'C6 | A7 | C6 | A7 | Dm7 | G7',
    [],
    ['line-repeated'],
  ],
  [
    'a line played twice, in brackets',
    '| C6 | A7 | (x2)\n| Dm7 |',
    'C6 | A7 | C6 | A7 | Dm7',
    [],
    ['line-repeated'],
  ],
  [
    'a line played twice, said before it',
    '2x: | C6 | A7 |\n| Dm7 |',
    'C6 | A7 | C6 | A7 | Dm7',
    [],
    ['line-repeated'],
  ],
  [
    'a line played twice, in brackets before it',
    '(2x) C6 | A7\nDm7',
    'C6 | A7 | C6 | A7 | Dm7',
    [],
    ['line-repeated'],
  ],
  ['times that belong to no repeat', '|: C6 | A7 | x3\n| Dm7 |', 'C6 | A7 | Dm7', ['times-unused']],
  ['times said before the sign', '|: C6 | A7 x3 :| Dm7 |', 'C6 | A7 | C6 | A7 | C6 | A7 | Dm7'],
  ['an ending in words and brackets', '|: C6 |[1st ending] A7 :|[2nd ending] G7 ||', 'C6 | A7 | C6 | G7'],
  [
    'an ending in words on a line of its own',
    '|: C6 |\n[1st ending]\n| A7 :|\n[2nd ending]\n| G7 ||',
    'C6 | A7 | C6 | G7',
  ],
  [
    'an ending in words and a colon',
    '|: C6 |\n1st ending: | A7 :|\n2nd ending: | G7 ||',
    'C6 | A7 | C6 | G7',
  ],
  ['an ending in whole words', '|: C6 |\nFirst ending: A7 :|\nSecond ending: G7 ||', 'C6 | A7 | C6 | G7'],
  ['an ending called a time', '|: C6 |\n1st time: A7 :|\n2nd time: G7 ||', 'C6 | A7 | C6 | G7'],
  ['chords in the words', '[Dm7]Walk a[G7]long the [C6]street', 'Dm7 | G7 | C6', [], ['bars-guessed']],
  [
    'chords in the words under a name',
    'Verse:\n[Dm7]Walk a[G7]long\n[C6]home',
    'Dm7 | G7 | C6',
    [],
    ['bars-guessed'],
  ],
  ['several colons', '|: C6 | A7 ::| G7 |', 'C6 | A7 | C6 | A7 | C6 | A7 | G7', [], ['repeat-colons']],
  ['a repeat that nothing opens', '| C6 | A7 :| G7 |', 'C6 | A7 | C6 | A7 | G7'],
  [
    'such a repeat behind a double bar',
    '| C6 | A7 || Dm7 | G7 :|',
    'C6 | A7 | Dm7 | G7 | C6 | A7 | Dm7 | G7',
    [],
    ['repeat-past-double'],
  ],
  ['a place typed behind an at sign', '| C6 A7@4.5 | Dm7 G7@2.75 |', 'C6 A7@4.5 | Dm7 G7@2.75'],
];

describe('charts as they are pasted', () => {
  const rows = layouts.map(([name, text, bars, told = [], noted]) => ({ name, text, bars, told, noted }));
  it('are eighty and more', () => {
    expect(rows.length).toBeGreaterThanOrEqual(80);
    expect(new Set(rows.map(({ text }) => text)).size).toBe(rows.length);
  });

  it.each(rows)('$name', ({ text, bars, told, noted }) => {
    expect(played(text)).toBe(bars);
    const { problems } = readChart(text);
    const codes = problems.flatMap(({ code, severity }) => (severity === 'note' ? [] : [code]));
    expect([...new Set(codes)]).toEqual(told);
    if (noted === undefined) return;
    const notes = problems.flatMap(({ code, severity }) => (severity === 'note' ? [code] : []));
    expect([...new Set(notes)]).toEqual(noted);
  });
});
