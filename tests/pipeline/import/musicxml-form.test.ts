import { describe, expect, it } from 'vitest';
import { importText } from '../../../src/pipeline/1-chart/import';
import {
  score,
  attributes,
  rest,
  harmony,
  dominant,
  direction,
  barline,
  backward,
  forward,
  form,
  symbolsOf,
  played,
  codes,
} from './score';

describe('form', () => {
  const ending = (number: string, type: string): string => `<ending number="${number}" type="${type}"/>`;
  const end = (number: string, repeats: boolean): string =>
    barline(
      'right',
      `${repeats ? '<bar-style>light-heavy</bar-style>' : ''}<ending number="${number}" type="${repeats ? 'stop' : 'discontinue'}"/>${repeats ? '<repeat direction="backward"/>' : ''}`,
    );

  it('follows three endings', () => {
    const text = form([
      ['C', barline('left', forward), ''],
      ['F', barline('left', ending('1', 'start')), end('1', true)],
      ['B', barline('left', ending('2', 'start')), end('2', true)],
      ['E', barline('left', ending('3', 'start')), end('3', false)],
    ]);
    expect(played(importText(text))).toBe('C7 F7 C7 B7 C7 E7');
  });

  it('takes bars between the end of the first bracket and its repeat into the first ending', () => {
    const close = (type: string): string => barline('right', ending('1', type));
    for (const type of ['stop', 'discontinue']) {
      const text = form([
        ['C', barline('left', forward), ''],
        ['F', barline('left', ending('1', 'start')), close(type)],
        ['A', '', barline('right', backward)],
        ['B', barline('left', ending('2', 'start')), end('2', false)],
        ['D', '', ''],
      ]);
      expect(played(importText(text))).toBe('C7 F7 A7 C7 B7 D7');
    }
  });

  it('takes them in up to a second bracket that follows without a repeat sign', () => {
    const text = form([
      ['C', barline('left', forward), ''],
      ['F', barline('left', ending('1', 'start')), barline('right', ending('1', 'stop'))],
      ['A', '', ''],
      ['B', barline('left', ending('2', 'start')), end('2', false)],
    ]);
    expect(played(importText(text))).toBe('C7 F7 A7 C7 B7');
  });

  it('repeats bars behind a closed last ending by themselves, and takes them into an open one', () => {
    const bars = (type: string): string =>
      form([
        ['C', barline('left', forward), ''],
        ['F', barline('left', ending('1', 'start')), end('1', true)],
        ['B', barline('left', ending('2', 'start')), barline('right', ending('2', type))],
        ['D', '', barline('right', backward)],
      ]);
    expect(played(importText(bars('stop')))).toBe('C7 F7 C7 B7 D7 D7');
    expect(played(importText(bars('discontinue')))).toBe('C7 F7 C7 B7 D7');
  });

  it('closes a bracket that nothing closes at its repeat sign', () => {
    const text = form([
      ['C', barline('left', forward), ''],
      ['F', barline('left', ending('1', 'start')), barline('right', backward)],
      ['B', '', ''],
      ['D', '', ''],
    ]);
    expect(played(importText(text))).toBe('C7 F7 C7 B7 D7');
  });

  it('follows lists of numbers', () => {
    const text = form([
      ['C', barline('left', forward), ''],
      ['A', barline('left', ending('1, 3', 'start')), end('1, 3', true)],
      ['D', barline('left', ending('2', 'start')), end('2', true)],
      ['G', barline('left', ending('4', 'start')), end('4', false)],
    ]);
    expect(played(importText(text))).toBe('C7 A7 C7 D7 C7 A7 C7 G7');
  });

  it('plays a stretch as often as it says', () => {
    const thrice = barline(
      'right',
      '<bar-style>light-heavy</bar-style><repeat direction="backward" times="3"/>',
    );
    expect(
      played(
        importText(
          form([
            ['C', barline('left', forward), ''],
            ['D', '', thrice],
            ['E', '', ''],
          ]),
        ),
      ),
    ).toBe('C7 D7 C7 D7 C7 D7 E7');
    expect(
      played(
        importText(
          form([
            ['C', '', ''],
            ['D', '', barline('right', backward)],
            ['E', '', ''],
          ]),
        ),
      ),
    ).toBe('C7 D7 C7 D7 E7');
  });

  it.each([
    [
      'words and sound',
      direction('D.C. al Fine', '<sound dacapo="yes"/>'),
      direction('Fine', '<sound fine="yes"/>'),
    ],
    ['words', direction('D.C. al Fine'), direction('Fine')],
    ['sound', '<sound dacapo="yes"/>', '<sound fine="yes"/>'],
  ])('goes back to the beginning and ends at Fine: %s', (_, jump, fine) => {
    expect(
      played(
        importText(
          form([
            ['C', '', ''],
            ['D', '', fine],
            ['E', '', ''],
            ['F', '', jump],
          ]),
        ),
      ),
    ).toBe('C7 D7 E7 F7 C7 D7');
  });

  it.each([
    [
      'words and sound',
      '<direction><direction-type><segno/></direction-type><sound segno="1"/></direction>',
      direction('To Coda', '<sound tocoda="1"/>'),
      direction('D.S. al Coda', '<sound dalsegno="1"/>'),
      '<direction><direction-type><coda/></direction-type><sound coda="1"/></direction>',
    ],
    [
      'sound alone',
      '<sound segno="1"/>',
      '<sound tocoda="1"/>',
      '<sound dalsegno="1"/>',
      '<sound coda="1"/>',
    ],
    [
      'signs, two codas',
      '<direction><direction-type><segno/></direction-type></direction>',
      '<direction><direction-type><coda/></direction-type></direction>',
      direction('D.S. al Coda'),
      '<direction><direction-type><coda/></direction-type></direction>',
    ],
  ])('goes back to the sign and on to the coda: %s', (_, segno, toCoda, jump, coda) => {
    const text = form([
      ['C', '', ''],
      ['D', segno, ''],
      ['E', '', toCoda],
      ['F', '', jump],
      ['G', coda, ''],
      ['A', '', ''],
    ]);
    expect(played(importText(text))).toBe('C7 D7 E7 F7 D7 E7 G7 A7');
  });

  it('takes signs from the first part when the chords stand in another', () => {
    const melody = [
      `${attributes()}${direction('Swing')}<direction><direction-type><rehearsal>A</rehearsal></direction-type><sound tempo="97"/></direction>${rest(8)}`,
      `${rest(8)}${barline('right', backward)}`,
    ];
    const chords = [
      `${attributes()}${harmony('C', dominant)}${rest(8)}`,
      `${harmony('F', dominant)}${rest(8)}`,
    ];
    const reading = importText(score([{ measures: melody }, { measures: chords }]));
    expect(reading.chart.header).toMatchObject({ tempo: 97, feel: 'swing' });
    expect(reading.chart.bars[0]!.section).toBe('A');
    expect(played(reading)).toBe('C7 F7 C7 F7');
  });

  it('knows a pickup, and joins a bar that a repeat does not divide', () => {
    const text = score([
      {
        measures: [
          `${attributes()}${harmony('G', dominant)}${rest(2)}`,
          `${harmony('C', dominant)}${rest(8)}`,
          `${harmony('F', dominant)}${rest(4)}${barline('right', '<bar-style>light-light</bar-style>')}`,
          `${harmony('B', dominant)}${rest(4)}`,
          `${harmony('E', dominant)}${rest(6)}`,
        ],
      },
    ]);
    const reading = importText(text);
    expect(symbolsOf(reading)).toEqual([['G7'], ['C7'], ['F7', 'B7'], ['E7']]);
    expect(reading.chart.bars.map(({ pickup }) => pickup)).toEqual([true, false, false, false]);
    expect(reading.chart.bars[2]!.chords.map(({ offset }) => offset)).toEqual([0, 960]);
    expect(reading.chart.bars[3]!.chords[0]!.length).toBe(1920);
    expect(codes(reading)).toEqual(['bar-short']);
  });

  it('reads meters, keys and their changes', () => {
    const change =
      '<attributes><key><fifths>-3</fifths><mode>minor</mode></key><time><beats>3+2</beats><beat-type>4</beat-type></time></attributes>';
    const odd = '<attributes><time><beats>5</beats><beat-type>16</beat-type></time></attributes>';
    const reading = importText(
      score([
        {
          measures: [
            `<attributes><divisions>1</divisions><key><fifths>-1</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>${harmony('D', '<kind>minor</kind>')}${rest(4)}`,
            `${harmony('A', dominant)}${rest(4)}`,
            `${change}${harmony('D', '<kind>minor</kind>')}${rest(5)}`,
            odd + rest(5),
          ],
        },
      ]),
    );
    // A signature of one flat without a mode: the chords say D minor.
    expect(reading.chart.header.key).toMatchObject({ tonic: 'D', mode: 'minor' });
    expect(reading.chart.bars.map(({ meter }) => `${meter.beats}/${meter.unit}`)).toEqual([
      '4/4',
      '4/4',
      '5/4',
      '5/4',
    ]);
    expect(reading.chart.bars.map(({ keyChange }) => keyChange?.tonic ?? null)).toEqual([
      null,
      null,
      'C',
      null,
    ]);
    expect(codes(reading)).toEqual(['meter-unread']);
  });

  it('reads timewise scores', () => {
    const measure = (root: string, number: number, head: string): string =>
      `<measure number="${number}"><part id="P1">${head}${harmony(root, dominant)}${rest(8)}</part></measure>`;
    const text = `<score-timewise version="4.0"><part-list><score-part id="P1"><part-name>L</part-name></score-part></part-list>${measure('C', 1, attributes())}${measure('F', 2, '')}</score-timewise>`;
    expect(symbolsOf(importText(text))).toEqual([['C7'], ['F7']]);
  });
});
