// Measures of MusicXML: their numbers, what holds for all of one and what from a place in it, time, bar lines. Source: W3C
// MusicXML 4.0, by the names of its elements.
import { describe, expect, it } from 'vitest';
import { importText, type ImportReading } from '../../../src/pipeline/1-chart/import';
import {
  attributes,
  back,
  barline,
  bass,
  direction,
  dominant,
  harmony,
  inVoice,
  listed,
  note,
  part,
  placed,
  rest,
  score,
  sounding,
} from './score';

describe('measures', () => {
  const sounds = (root: string, ticks = 8): string => `${harmony(root, dominant)}${rest(ticks)}`;
  const messages = (reading: ImportReading, code: string): string[] =>
    reading.problems.filter((problem) => problem.code === code).map(({ message }) => message);

  it('are counted where they have no number', () => {
    const bad = '<note><pitch><step>X</step><octave>3</octave></pitch><duration>8</duration></note>';
    const text = score([{ listed, measures: [`${attributes(sounding)}${note('C3', 8)}`, bad] }]);
    expect(messages(importText(text), 'line-range')).toEqual([
      'Bar 2: a note is out of any range; it was left out.',
    ]);
    expect(messages(importText(text.replaceAll(/ number="\d+"/g, '')), 'line-range')).toEqual([
      'Bar 2: a note is out of any range; it was left out.',
    ]);
    expect(messages(importText(text.replace('number="2"', 'number="X1"')), 'line-range')).toEqual([
      'Bar X1: a note is out of any range; it was left out.',
    ]);
  });

  it('take attributes at their head for the whole, later ones from there', () => {
    // After the first half a quarter is four divisions.
    const finer = '<attributes><divisions>4</divisions></attributes>';
    expect(placed(bass(note('C3', 4) + finer + note('D3', 8), note('E3', 16)))).toEqual([
      [0, 0, 960, 36],
      [0, 960, 960, 38],
      [1, 0, 1920, 40],
    ]);
    // Directions before them take no time.
    const late = score([
      { listed, measures: [`${direction('Swing')}${attributes(sounding)}${note('C3', 2)}${note('D3', 6)}`] },
    ]);
    expect(placed(importText(late))).toEqual([
      [0, 0, 480, 36],
      [0, 480, 1440, 38],
    ]);
    const three = '<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>';
    const { bars } = part(`${attributes()}${sounds('C')}`, `${three}${sounds('D', 6)}`, sounds('E', 6)).chart;
    expect(bars.map(({ meter }) => meter.beats)).toEqual([4, 3, 3]);
  });

  it('go forward and back', () => {
    const forward = (duration: number): string => `<forward><duration>${duration}</duration></forward>`;
    expect(placed(bass(forward(2) + note('C3', 2) + forward(2) + note('D3', 2)))).toEqual([
      [0, 480, 480, 36],
      [0, 1440, 480, 38],
    ]);
    // Not before the bar line; what names no time moves nothing.
    expect(placed(bass(note('C3', 2) + back(99) + inVoice(2, note('E3', 2) + note('F3', 6))))).toEqual([
      [0, 0, 480, 40],
      [0, 480, 1440, 41],
    ]);
    expect(placed(bass('<forward/><backup/>' + note('C3', 8)))).toEqual([[0, 0, 1920, 36]]);
  });

  it('give chords at one place the time of the note under them', () => {
    const both = `${attributes()}${harmony('C', dominant)}${harmony('D', dominant)}`;
    const offsets = ({ chart }: ImportReading): number[][] =>
      chart.bars.map(({ chords }) => chords.map(({ offset }) => offset));
    const reading = part(`${both}${rest(4)}${harmony('E', dominant)}${rest(4)}`);
    expect(offsets(reading)).toEqual([[0, 480, 960]]);
    expect(messages(reading, 'harmony-shared')).toEqual([
      'Bar 1: several chords stand at one place; they share the time of the note under them.',
    ]);
    // A grace note has none, and the second voice's is not asked.
    const grace = '<note><grace/><pitch><step>C</step><octave>5</octave></pitch><voice>1</voice></note>';
    expect(offsets(part(`${both}${grace}${rest(4)}${harmony('E', dominant)}${rest(4)}`))).toEqual([
      [0, 480, 960],
    ]);
    const second = back(8) + inVoice(2, rest(8));
    expect(offsets(part(`${both}${rest(4)}${harmony('E', dominant)}${rest(4)}${second}`))).toEqual([
      [0, 480, 960],
    ]);
  });

  it('keep their mode where a new signature names none', () => {
    const key = (fifths: number, mode = ''): string =>
      `<attributes><key><fifths>${fifths}</fifths>${mode}</key></attributes>`;
    const changes = (first: string, second: string): unknown =>
      part(`${attributes().replace(/<key>.*<\/key>/, '')}${first}${sounds('C')}`, `${second}${sounds('D')}`)
        .chart.bars[1]!.keyChange;
    expect(changes(key(-3, '<mode>minor</mode>'), key(2))).toMatchObject({ fifths: 2, mode: 'minor' });
    expect(changes(key(-3), key(2))).toMatchObject({ fifths: 2, mode: 'major' });
    expect(changes('', key(2))).toMatchObject({ fifths: 2, mode: 'major' });
    expect(changes(key(2), key(2))).toBeNull();
    expect(changes(key(2, '<mode>major</mode>'), key(2, '<mode>minor</mode>'))).toMatchObject({
      mode: 'minor',
    });
  });

  const two = (first: string, second: string): ImportReading =>
    part(`${attributes()}${sounds('C')}${first}`, `${second}${sounds('D')}`, sounds('E'));
  const bars = (reading: ImportReading) => reading.chart.bars;

  it('close with a double bar line, drawn at either side of it', () => {
    const double = '<bar-style>light-light</bar-style>';
    const doubled = (first: string, second: string): boolean[] =>
      bars(two(first, second)).map(({ doubleBar }) => doubleBar);
    expect(doubled(barline('right', double), '')).toEqual([true, false, false]);
    expect(doubled('', barline('left', double))).toEqual([true, false, false]);
    expect(doubled(barline('right', '<bar-style>light-heavy</bar-style>'), '')).toEqual([true, false, false]);
    expect(doubled(barline('right', '<bar-style>dashed</bar-style>'), '')).toEqual([false, false, false]);
    // Before the first bar there is none.
    expect(bars(part(`${attributes()}${barline('left', double)}${sounds('C')}`))[0]!.doubleBar).toBe(false);
  });

  it.each([
    ['times="3"', 3],
    ['times="1"', 1],
    ['times="400"', 99],
    ['times="0"', 2],
    ['times="-2"', 2],
    ['times="2.5"', 2],
    ['', 2],
  ])('repeat as often as %j says', (times, often) => {
    expect(bars(two(barline('right', `<repeat direction="backward" ${times}/>`), ''))[0]!.repeatEnd).toBe(
      often,
    );
  });

  it('have signs at their bar lines', () => {
    const jump = '<sound dalsegno="1"/>';
    const read = part(
      `${attributes()}${barline('left', '<segno/>')}${sounds('C')}<sound tocoda="1"/>`,
      `${sounds('D')}${jump}`,
      `${barline('left', '<coda/>')}${sounds('E')}`,
    );
    expect(bars(read).map(({ segno, toCoda, coda }) => [segno, toCoda, coda])).toEqual([
      [true, true, false],
      [false, false, false],
      [false, false, true],
    ]);
  });

  it('tell an ending that has no number by its text, or by what stands for the number', () => {
    const ending = (text: string, number: string): string[] =>
      messages(
        two('', barline('left', `<ending number="${number}" type="start">${text}</ending>`)),
        'ending-unread',
      );
    expect(ending('last', 'x')).toEqual(['Bar 2: the ending “last” has no number that can be read.']);
    expect(ending('', 'x')).toEqual(['Bar 2: the ending “x” has no number that can be read.']);
    expect(ending('1.', '1')).toEqual([]);
  });
});
