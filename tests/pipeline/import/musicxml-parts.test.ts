// Scores of several parts: whose chords, whose signs, whose line.
import { describe, expect, it } from 'vitest';
import { importText, type ImportReading } from '../../../src/pipeline/1-chart/import';
import {
  attributes,
  backward,
  barline,
  c7,
  codes,
  direction,
  dominant,
  forward,
  harmony,
  listed,
  note,
  played,
  rest,
  score,
  sounding,
} from './score';

const roots = ['C', 'F', 'B', 'E', 'A'];
/** What stands before and after the rest of a measure. */
type Signs = readonly [before: string, after: string];
const none: Signs = ['', ''];
const measure = (at: number, [before, after]: Signs, chord: string): string =>
  `${at === 0 ? attributes() : ''}${before}${chord}${rest(8)}${after}`;

/** Five bars of a melody without chords over a part that has them, with the signs in one of them or in both. */
function twoParts(signs: readonly Signs[], inMelody: boolean, inChords: boolean): ImportReading {
  const measures = (has: boolean, chord: (at: number) => string): string[] =>
    roots.map((_, at) => measure(at, (has ? signs[at] : undefined) ?? none, chord(at)));
  return importText(
    score([
      { measures: measures(inMelody, () => '') },
      { measures: measures(inChords, (at) => harmony(roots[at]!, dominant)) },
    ]),
  );
}

const bracket = (number: string, type: string, more = ''): string =>
  barline(
    type === 'start' ? 'left' : 'right',
    `${more === '' ? '' : '<bar-style>light-heavy</bar-style>'}<ending number="${number}" type="${type}"/>${more}`,
  );
const again = '<repeat direction="backward"/>';

describe('signs of the form', () => {
  it.each<readonly [string, readonly Signs[], string]>([
    [
      'a sign, a way out, a jump and a coda',
      [
        none,
        ['<sound segno="1"/>', ''],
        ['', direction('To Coda', '<sound tocoda="1"/>')],
        ['', direction('D.S. al Coda', '<sound dalsegno="1"/>')],
        ['<direction><direction-type><coda/></direction-type></direction>', ''],
      ],
      'C7 F7 B7 E7 F7 B7 A7',
    ],
    [
      'an end in the middle',
      [none, ['', direction('Fine')], none, none, ['', direction('D.C. al Fine')]],
      'C7 F7 B7 E7 A7 C7 F7',
    ],
    [
      'bars three times',
      [
        none,
        [barline('left', forward), ''],
        ['', barline('right', `<bar-style>light-heavy</bar-style><repeat direction="backward" times="3"/>`)],
      ],
      'C7 F7 B7 F7 B7 F7 B7 E7 A7',
    ],
    [
      'two endings',
      [
        none,
        [bracket('1', 'start'), ''],
        ['', bracket('1', 'stop', again)],
        [bracket('2', 'start'), bracket('2', 'stop')],
      ],
      'C7 F7 B7 C7 E7 A7',
    ],
    [
      'an ending closed before its last bar, and bars that are repeated by themselves',
      [
        none,
        [bracket('1', 'start'), bracket('1', 'stop', again)],
        [bracket('2', 'start'), bracket('2', 'stop')],
        ['', barline('right', backward)],
      ],
      'C7 F7 C7 B7 E7 E7 A7',
    ],
  ])('are followed in the melody, over the chords, or in both: %s', (_, signs, expected) => {
    for (const [inMelody, inChords] of [
      [true, false],
      [false, true],
      [true, true],
    ] as const)
      expect(played(twoParts(signs, inMelody, inChords))).toBe(expected);
  });

  it('name the sections, those of the chords first', () => {
    const mark = (name: string): Signs => [
      `<direction><direction-type><rehearsal>${name}</rehearsal></direction-type></direction>`,
      '',
    ];
    const sections = ({ chart }: ImportReading): (string | null)[] =>
      chart.bars.map(({ section }) => section);
    const names = ['A', null, 'B', null, null];
    expect(sections(twoParts([mark('A'), none, mark('B')], true, false))).toEqual(names);
    expect(sections(twoParts([mark('A'), none, mark('B')], false, true))).toEqual(names);
  });

  it('are asked for no longer than the melody lasts', () => {
    const text = score([
      { measures: [measure(0, none, '')] },
      { measures: roots.map((root, at) => measure(at, none, harmony(root, dominant))) },
    ]);
    expect(played(importText(text))).toBe('C7 F7 B7 E7 A7');
  });

  it('keep the tempo and the feel of the chords, and take those of the melody where they say nothing', () => {
    const header = (melody: string, chords: string): unknown => {
      const measures = (has: string, chord: string): string[] => [measure(0, [has, ''], chord)];
      const { feel, tempo } = importText(
        score([{ measures: measures(melody, '') }, { measures: measures(chords, harmony('C', dominant)) }]),
      ).chart.header;
      return [feel, tempo];
    };
    const said = direction('Bossa nova', '<sound tempo="130"/>');
    expect(header(said, '')).toEqual(['bossa', 130]);
    expect(header('', said)).toEqual(['bossa', 130]);
    expect(header(direction('Ballad', '<sound tempo="60"/>'), said)).toEqual(['bossa', 130]);
  });
});

describe('choice of parts', () => {
  const chords = (count: number, root: string): string => {
    const duration = 8 / count;
    return `${attributes()}${Array.from({ length: count }, () => harmony(root, dominant) + rest(duration)).join('')}`;
  };
  const plain = `${attributes()}${rest(8)}`;
  const read = (parts: readonly string[]): string =>
    played(importText(score(parts.map((one) => ({ measures: [one] })))));

  it('takes the chords of the part with the most, of the first among equals', () => {
    expect(read([chords(1, 'F'), chords(2, 'C'), plain])).toBe('C7 C7');
    expect(read([plain, chords(2, 'C'), chords(1, 'F')])).toBe('C7 C7');
    expect(read([chords(1, 'F'), chords(1, 'C')])).toBe('F7');
  });

  it('lists the parts by number, name and notes, without those that have no measure', () => {
    const long = 'Second  violin of the orchestra at the back of the room';
    const reading = importText(
      score([
        { measures: [`${attributes()}${note('C4', 4)}${rest(2)}${note('D4', 2)}`], listed: '' },
        { measures: [] },
        { measures: [c7], listed: `<part-name>${long}</part-name>` },
        {
          measures: [`${attributes(sounding)}${note('C2', 8)}`],
          listed: '<part-name>Upright\n Bass</part-name>',
        },
      ]),
    );
    expect(reading.parts).toEqual([
      '1 (2 notes)',
      '2 “Second violin of the orchestra at the ba” (0 notes)',
      '3 “Upright Bass” (1 note)',
    ]);
    expect(reading.part).toBe(3);
    expect(reading.line).toHaveLength(1);
  });

  it('takes the line of the part that is asked for', () => {
    const text = score([
      { measures: [c7, `${note('E3', 8)}`] },
      { measures: [`${attributes(sounding)}${note('C3', 8)}`, note('D3', 8)], listed },
    ]);
    const taken = (part?: number): unknown => {
      const { line, part: from } = importText(text, part);
      return [line?.map(({ midi }) => midi), from];
    };
    expect(taken()).toEqual([[36, 38], 2]);
    expect(taken(1)).toEqual([[52], 1]);
    expect(taken(2)).toEqual([[36, 38], 2]);
    expect(taken(3)).toEqual([undefined, null]);
    expect(importText(score([{ measures: [c7] }])).part).toBeNull();
  });

  it('takes the notes of a bass part that has the chords, too', () => {
    const { line, part } = importText(
      score([{ listed, measures: [`${attributes(sounding)}${harmony('C', dominant)}${note('C3', 8)}`] }]),
    );
    expect([line?.length, part]).toEqual([1, 1]);
  });

  it('says that a score has a line alone, with the number of its notes, or not even that', () => {
    const lineOnly = importText(
      score([{ listed, measures: [`${attributes(sounding)}${note('C3', 4)}${note('D3', 4)}`] }]),
    );
    expect(codes(lineOnly)).toEqual(['score-line-only']);
    expect(lineOnly.problems[0]!.message).toContain('(2 notes)');
    expect(codes(importText(score([{ measures: [plain] }])))).toEqual(['score-no-chords']);
    expect(codes(importText(score([{ measures: [attributes() + c7] }])))).toEqual([]);
  });
});

describe('timewise scores', () => {
  it('fill the bars in which a part is silent, and read on', () => {
    const timewise = `<score-timewise><part-list><score-part id="P1"/><score-part id="P2">${listed}</score-part></part-list>
      <measure number="1"><part id="P1">${attributes()}${harmony('C', dominant)}${rest(8)}</part></measure>
      <measure number="2"><part id="P1">${harmony('F', dominant)}${rest(8)}</part><part id="P2">${attributes(sounding)}${note('F3', 8)}</part></measure>
    </score-timewise>`;
    const reading = importText(timewise);
    expect(played(reading)).toBe('C7 F7');
    expect(reading.line?.map(({ bar, midi }) => [bar, midi])).toEqual([[1, 41]]);
  });

  it('have at most two hundred parts', () => {
    const parts = Array.from({ length: 203 }, (_, at) => `<part id="P${at}">${c7}</part>`).join('');
    expect(
      importText(`<score-timewise><measure number="1">${parts}</measure></score-timewise>`).parts,
    ).toHaveLength(200);
  });
});

describe('bars beyond the most', () => {
  const inParts = (count: number): string =>
    `<score-partwise><part id="P1"><measure>${attributes()}${c7}</measure>${'<measure/>'.repeat(count - 1)}</part></score-partwise>`;
  const inTime = (count: number): string =>
    `<score-timewise><measure><part id="P1">${attributes()}${c7}</part></measure>${'<measure/>'.repeat(count - 1)}</score-timewise>`;

  it('are left out of either layout, and this is said with their number', () => {
    for (const text of [inParts(20_001), inTime(20_002)]) {
      const { chart, problems } = importText(text);
      expect(chart.bars).toHaveLength(20_000);
      expect(problems.find(({ code }) => code === 'bars-many')?.message).toContain('20000');
    }
  });

  it('are not told of where there are none', () => {
    const reading = importText(inParts(20_000));
    expect(reading.chart.bars).toHaveLength(20_000);
    expect(codes(reading)).not.toContain('bars-many');
  });
});
