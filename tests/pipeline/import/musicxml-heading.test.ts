// What a score says of itself: title, feel, order of parts, tempo, key.
import { describe, expect, it } from 'vitest';
import { importText, type ImportReading } from '../../../src/pipeline/1-chart/import';
import { attributes, c7, direction, dominant, harmony, rest, score } from './score';

describe('what a score says of itself', () => {
  const headerOf = (head: string, first = ''): ImportReading['chart']['header'] =>
    importText(score([{ measures: [`${attributes()}${first}${c7}`] }], head)).chart.header;
  const credit = (type: string, words: string): string =>
    `<credit><credit-type>${type}</credit-type><credit-words>${words}</credit-words></credit>`;
  const field = (name: string, text: string): string =>
    `<identification><miscellaneous><miscellaneous-field name="other">waltz</miscellaneous-field><miscellaneous-field name="${name}">${text}</miscellaneous-field></miscellaneous></identification>`;

  it('is its title: of the work, else of the movement, else as printed', () => {
    const printed = credit('composer', 'Somebody') + credit('title', 'Printed');
    expect(headerOf(printed).title).toBe('Printed');
    expect(headerOf(`<movement-title>Movement</movement-title>${printed}`).title).toBe('Movement');
    expect(
      headerOf(
        `<work><work-title>Work</work-title></work><movement-title>Movement</movement-title>${printed}`,
      ).title,
    ).toBe('Work');
    expect(headerOf(credit('composer', 'Somebody')).title).toBe('');
  });

  it('is a title on one line of at most two hundred characters', () => {
    const title = (text: string): string => headerOf(`<movement-title>${text}</movement-title>`).title;
    expect(title('  Slow \n  boat ')).toBe('Slow boat');
    expect(title('x'.repeat(250))).toBe('x'.repeat(200));
  });

  it('is the feel that its fields name, before the words over the staff', () => {
    expect(headerOf(field('feel', 'bossa')).feel).toBe('bossa');
    expect(headerOf(field('feel', 'bossa'), direction('Ballad')).feel).toBe('bossa');
    expect(headerOf(field('feel', 'nothing of ours')).feel).toBe('swing');
    expect(headerOf(field('another', 'bossa')).feel).toBe('swing');
  });

  it('is a waltz in three quarters, and in nothing else', () => {
    const feel = (beats: number, unit: number): string =>
      importText(
        score([
          {
            measures: [
              `${attributes('', `<time><beats>${beats}</beats><beat-type>${unit}</beat-type></time>`)}${harmony('C', dominant)}${rest((beats * 8) / unit)}`,
            ],
          },
        ]),
      ).chart.header.feel;
    expect([feel(3, 4), feel(4, 4), feel(3, 8), feel(3, 2), feel(6, 8)]).toEqual([
      'waltz',
      'swing',
      'swing',
      'swing',
      'swing',
    ]);
  });

  it('is the order of its parts, as far as it is one', () => {
    const parts = (text: string): readonly string[] => headerOf(field('form', text)).parts;
    expect(parts('["A","A"," B | ","A"]')).toEqual(['A', 'A', 'B', 'A']);
    expect(parts('["A",3,null,"","B"]')).toEqual(['A', 'B']);
    expect(parts('{"A":1}')).toEqual([]);
    expect(parts('["A"')).toEqual([]);
    expect(parts(JSON.stringify(Array.from({ length: 70 }, () => 'A')))).toHaveLength(64);
    expect(headerOf('').parts).toEqual([]);
  });

  it('is a tempo in range, and one beyond it is told with both numbers', () => {
    const reading = importText(
      score([{ measures: [`${attributes()}${direction('', '<sound tempo="900"/>')}${c7}`] }]),
    );
    const { message } = reading.problems.find(({ code }) => code === 'tempo-range')!;
    expect(message).toBe('A tempo of 900 is outside 40 to 320; 320 is used.');
  });
});

describe('a signature without a mode', () => {
  const keyOf = (fifths: number, bars: readonly (readonly [string, string])[]): unknown => {
    const signature = `<attributes><divisions>2</divisions><key><fifths>${fifths}</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`;
    const { key } = importText(
      score([
        {
          measures: bars.map(
            ([root, kind], at) =>
              `${at === 0 ? signature : ''}${harmony(root, `<kind>${kind}</kind>`)}${rest(8)}`,
          ),
        },
      ]),
    ).chart.header;
    return [key?.fifths, key?.mode];
  };

  it('is minor where the chords are in its relative minor, and major else', () => {
    const minor = [
      ['A', 'minor'],
      ['D', 'minor-seventh'],
      ['E', 'dominant'],
      ['A', 'minor'],
    ] as const;
    const major = [
      ['C', 'major-sixth'],
      ['D', 'minor-seventh'],
      ['G', 'dominant'],
      ['C', 'major-sixth'],
    ] as const;
    expect(keyOf(0, minor)).toEqual([0, 'minor']);
    expect(keyOf(0, major)).toEqual([0, 'major']);
    // In a minor key of another signature, or a major one: the signature stands.
    expect(keyOf(2, minor)).toEqual([2, 'major']);
    expect(keyOf(2, major)).toEqual([2, 'major']);
  });
});
