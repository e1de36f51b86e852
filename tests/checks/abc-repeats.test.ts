// The repeat rules of ABC notation 2.1, sections 4.8 to 4.10 (repeat and bar symbols, first and second repeats, variant
// endings) and 3.1.9 (order of parts), one by one.
import { describe, expect, it } from 'vitest';
import { importText } from '../../src/pipeline/1-chart/import';
import { makeTimeline } from '../../src/pipeline';

function played(body: string, header = ''): string {
  const { chart } = importText(`X:1\nM:4/4\nL:1/1\n${header}K:C\n${body}\n`);
  const { timeline } = makeTimeline(chart, { choruses: 1, tempo: null });
  return timeline!.bars.map(({ chords }) => chords[0]!.chord!.root).join(' ');
}
/** "C | D :|" with each letter a bar under a chord of its name. */
const music = (short: string): string => short.replace(/\b[A-G]\b/g, (letter) => `"${letter}7"z`);

describe('repeat and bar symbols (4.8)', () => {
  it.each([
    ['a repeated section', '|: C | D :| E |', 'C D C D E'],
    ['two of them that meet, with the double sign', '|: C | D :: E | F :|', 'C D C D E F E F'],
    ['the same with the sign written :|:', '|: C | D :|: E | F :|', 'C D C D E F E F'],
    ['and with :||:', '|: C | D :||: E | F :|', 'C D C D E F E F'],
    ['an end without a start goes back to the beginning', 'C | D :| E |', 'C D C D E'],
    ['or to the end of the repeat before', '|: C :| D | E :|', 'C C D E D E'],
    ['or to the double bar line before', 'C | D || E | F :|', 'C D E F E F'],
    ['more colons, more times', '|:: C | D ::| E |', 'C D C D C D E'],
    ['a thin-thick line ends nothing but a section', '|: C | D :| E |] F |', 'C D C D E F'],
  ])('%s', (_name, body, bars) => expect(played(music(body))).toBe(bars));
});

describe('first and second repeats (4.9)', () => {
  it.each([
    ['with brackets', '|: C |[1 D :|[2 E |]', 'C D C E'],
    ['short, at the bar line', '|: C |1 D :|2 E |]', 'C D C E'],
    ['with a blank between', '|: C | [1 D :| [2 E |]', 'C D C E'],
    ['several bars long', '|: C |1 D | E :|2 F | G || A |', 'C D E C F G A'],
  ])('%s', (_name, body, bars) => expect(played(music(body))).toBe(bars));
});

describe('variant endings (4.10)', () => {
  it.each([
    ['a list', '|: C |[1,3 D :|[2 E :|[4 F |]', 'C D C E C D C F'],
    ['a range', '|: C |[1-3 D :|[4 E |]', 'C D C D C D C E'],
    ['a list with a range', '|: C |[1,3-4 D :|[2 E :|[5 F |]', 'C D C E C D C D C F'],
  ])('%s', (_name, body, bars) => expect(played(music(body))).toBe(bars));
});

describe('order of parts (3.1.9)', () => {
  const parts = music('P:A\nC | D |\nP:B\nE |\nP:C\nF |')
    .replaceAll('P:"A7"z', 'P:A')
    .replaceAll('P:"B7"z', 'P:B')
    .replaceAll('P:"C7"z', 'P:C');
  it.each([
    ['ABA', 'C D E C D'],
    ['A2B', 'C D C D E'],
    ['(AB)2C', 'C D E C D E F'],
    ['((AB)2C)2', 'C D E C D E F C D E C D E F'],
    ['A.B.C', 'C D E F'],
  ])('%s', (order, bars) => expect(played(parts, `P:${order}\n`)).toBe(bars));
});
