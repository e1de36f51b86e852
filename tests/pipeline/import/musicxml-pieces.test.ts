// Small pieces of MusicXML, one thing each: what is read from notes of several voices, from time, key and transposition, from
// signs and sounds. Source: W3C MusicXML 4.0, by the names of its elements.
import { describe, expect, it } from 'vitest';
import { importText, type ImportReading } from '../../../src/pipeline/1-chart/import';
import {
  attributes,
  back,
  bass,
  c7,
  clef,
  codes,
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
  symbolsOf,
} from './score';

describe('one line from several', () => {
  it('is the voice with the most notes, the first where they have as many', () => {
    const few = note('C3', 8);
    const many = inVoice(2, note('E3', 4) + note('F3', 4));
    expect(placed(bass(few + back(8) + many))).toEqual([
      [0, 0, 960, 40],
      [0, 960, 960, 41],
    ]);
    expect(placed(bass(many + back(8) + few))).toHaveLength(2);
    expect(placed(bass(few + back(8) + inVoice(2, note('E3', 8))))).toEqual([[0, 0, 1920, 36]]);
    expect(placed(bass(inVoice(2, note('E3', 8)) + back(8) + few))).toEqual([[0, 0, 1920, 40]]);
    // Counted over all bars.
    expect(placed(bass(few, inVoice(2, note('E3', 4) + note('F3', 4))))).toEqual([
      [1, 0, 960, 40],
      [1, 960, 960, 41],
    ]);
  });

  it('is the lowest note of each moment, wherever it is written', () => {
    const above = note('G3', 4).replace('<note>', '<note><chord/>');
    const below = note('C3', 4).replace('<note>', '<note><chord/>');
    const reading = bass(note('C3', 4) + above + note('A3', 4) + below);
    expect(placed(reading)).toEqual([
      [0, 0, 960, 36],
      [0, 960, 960, 36],
    ]);
    const told = reading.problems.filter(({ code }) => code === 'line-chords');
    expect(told).toHaveLength(1);
    expect(told[0]!.message).toContain('1');
    expect(codes(bass(note('C3', 4) + note('A3', 4)))).not.toContain('line-chords');
  });

  it('ends where the next note begins, in the order of time', () => {
    const early = note('D3', 8);
    const late = `<forward><duration>4</duration></forward>${note('E3', 4)}`;
    const both = [
      [0, 0, 960, 38],
      [0, 960, 960, 40],
    ];
    expect(placed(bass(early + back(8) + late))).toEqual(both);
    expect(placed(bass(late + back(8) + early))).toEqual(both);
  });

  it('joins a tie where it comes from the same pitch and was begun', () => {
    const tie = (type: string): string => `<tie type="${type}"/>`;
    expect(placed(bass(note('E3', 4, tie('start')) + note('E3', 4, tie('stop'))))).toEqual([
      [0, 0, 1920, 40],
    ]);
    for (const [first, second] of [
      [note('E3', 4, tie('start')), note('F3', 4, tie('stop'))],
      [note('E3', 4), note('E3', 4, tie('stop'))],
      [note('E3', 4, tie('start')), note('E3', 4)],
    ]) {
      expect(placed(bass(first! + second!))).toHaveLength(2);
    }
    expect(placed(bass(note('E3', 8, tie('stop'))))).toEqual([[0, 0, 1920, 40]]);
  });

  it('says in which bar a pitch cannot sound', () => {
    const wrong = note('C3', 4).replace('<step>C</step>', '<step>X</step>');
    const lost = note('C3', 4).replace(/<octave>.*<\/octave>/, '');
    const high = note('C3', 4).replace('<octave>3', '<octave>99');
    for (const bad of [wrong, lost, high]) {
      const reading = bass(bad + note('D3', 4));
      expect(placed(reading)).toEqual([[0, 960, 960, 38]]);
      expect(codes(reading)).toContain('line-range');
    }
  });
});

describe('fingers and strings', () => {
  const technical = (content: string): string => `<notations><technical>${content}</technical></notations>`;
  const held = (content: string): unknown => {
    const { finger, string, otherFingers } = bass(note('E3', 8, technical(content))).line![0]!;
    return [finger, string, otherFingers];
  };

  it.each<[string, string | null, number | null, string[]]>([
    ['<string>1</string>', null, 1, []],
    ['<string>8</string>', null, 8, []],
    ['<string>9</string>', null, null, []],
    ['<string>0</string>', null, null, []],
    ['<string>1.5</string>', null, null, []],
    ['<fingering> t </fingering>', 'T', null, []],
    ['<fingering>x</fingering>', null, null, []],
    ['<fingering alternate="yes">2</fingering><fingering>4</fingering>', '4', null, ['2']],
    ['<fingering substitution="yes">2</fingering><fingering>4</fingering>', '4', null, ['2']],
    ['<open-string/><fingering>1</fingering>', '1', null, ['0']],
    ['<fingering>1</fingering><fingering>1</fingering>', '1', null, []],
  ])('%s', (content, finger, string, others) => expect(held(content)).toEqual([finger, string, others]));
});

describe('which part is the bass', () => {
  const lead = { measures: [`${attributes()}${harmony('C', dominant)}${note('C5', 8)}`] };
  const isBass = (name: string, more = '', head = ''): boolean =>
    importText(
      score([
        lead,
        {
          measures: [`${attributes(head)}${note('C3', 8)}`],
          listed: `<part-name>${name}</part-name>${more}`,
        },
      ]),
    ).line !== null;
  const program = (number: number): string =>
    `<midi-instrument id="P2-I1"><midi-program>${number}</midi-program></midi-instrument>`;

  it.each(['Bass', 'Acoustic bass', 'Kontrabass', 'Upright', 'contrabass'])('a part named %s', (name) =>
    expect(isBass(name)).toBe(true),
  );
  it.each([
    'Bass clarinet',
    'Bass  horn',
    'Basset  horn bass',
    'Bass Drum',
    'bass trombone',
    'Bass flute',
    'Bassoon',
    'Basset horn',
    'Basso',
    'Part',
  ])('none named %s', (name) => expect(isBass(name)).toBe(false));
  it('one whose instrument is named so', () => {
    const named =
      '<score-instrument id="P2-I1"><instrument-name>Double bass</instrument-name></score-instrument>';
    expect(isBass('Part', named)).toBe(true);
  });
  // General MIDI level 1, sound set, counted from 1.
  it.each([33, 36, 40, 44])('one with sound %i', (number) =>
    expect(isBass('Part', program(number))).toBe(true),
  );
  it.each([1, 32, 41, 43, 45])('none with sound %i', (number) =>
    expect(isBass('Part', program(number))).toBe(false),
  );
  it('one in an F clef that sounds an octave lower', () => {
    expect(isBass('Part', '', sounding)).toBe(true);
    expect(isBass('Part', '', clef)).toBe(false);
    expect(
      isBass('Part', '', clef.replace('</clef>', '<clef-octave-change>-1</clef-octave-change></clef>')),
    ).toBe(true);
    expect(isBass('Part', '', sounding.replace('>F<', '>G<'))).toBe(false);
    expect(isBass('Part', '', sounding.replace('>-1<', '>1<'))).toBe(false);
  });

  it('the left hand of a keyboard', () => {
    const clefs = '<clef number="1"><sign>G</sign></clef><clef number="2"><sign>F</sign></clef>';
    const staff = (number: number, text: string): string =>
      text.replace('</note>', `<staff>${number}</staff></note>`);
    // The hands cross: the lower note is the right one's.
    const hands = staff(1, note('C2', 8)) + back(8) + staff(2, note('C3', 8));
    const read = (head: string): number[] =>
      (
        importText(
          score([{ listed: '<part-name>Bass</part-name>', measures: [`${attributes(head)}${hands}`] }]),
        ).line ?? []
      ).map(({ midi }) => midi);
    expect(read(clefs)).toEqual([48]);
    expect(read(clefs.replace('<clef number="1">', '<clef>'))).toEqual([48]);
    // Where the staves have one clef, or the bass is above, or there is one staff, the lowest note of the voice.
    for (const head of [
      clefs.replace('>G<', '>F<'),
      clefs.replace('>F<', '>G<'),
      clefs.replace('>G<', '>x<').replace('>F<', '>G<').replace('>x<', '>F<'),
      '<clef><sign>F</sign></clef>',
      '<clef number="2"><sign>G</sign></clef><clef number="2"><sign>F</sign></clef>',
    ]) {
      expect(read(head), head).toEqual([36]);
    }
    const three = '<clef number="1"><sign>G</sign></clef><clef number="2"><sign>F</sign></clef>';
    expect(read(`${three}<clef number="3"><sign>G</sign></clef>`)).toEqual([48]);
  });
});

describe('time, key and transposition', () => {
  const time = (...pairs: [string, string][]): string =>
    `<time>${pairs.map(([beats, unit]) => `<beats>${beats}</beats><beat-type>${unit}</beat-type>`).join('')}</time>`;
  const inTime = (...pairs: [string, string][]): ImportReading =>
    part(`${attributes('', time(...pairs))}${c7}`);

  it('adds up a meter in parts, and tells one of two units', () => {
    expect(inTime(['3+2', '4']).chart.header.meter).toEqual({ beats: 5, unit: 4 });
    expect(inTime(['2', '4'], ['1', '4']).chart.header.meter).toEqual({ beats: 3, unit: 4 });
    const mixed = inTime(['2', '4'], ['3', '8']);
    expect(codes(mixed)).toContain('meter-unread');
    expect(mixed.problems.find(({ code }) => code === 'meter-unread')!.message).toContain('2+3/4+8');
    expect(codes(part(`${attributes('', '<time><senza-misura/></time>')}${c7}`))).not.toContain(
      'meter-unread',
    );
  });

  const key = (content: string): ImportReading =>
    part(
      `<attributes><divisions>2</divisions><key>${content}</key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>${c7}`,
    );
  it.each([
    ['<fifths>2</fifths><mode>major</mode>', 2, 'major', undefined],
    ['<fifths>2</fifths><mode>Ionian</mode>', 2, 'major', undefined],
    ['<fifths>-3</fifths><mode>minor</mode>', -3, 'minor', undefined],
    ['<fifths>-3</fifths><mode>aeolian</mode>', -3, 'minor', undefined],
    ['<fifths>-2</fifths><mode>dorian</mode>', -2, 'minor', 'dorian'],
  ])('a key of %s', (content, fifths, mode, church) => {
    const { header } = key(content).chart;
    expect(header.key).toMatchObject({ fifths, mode });
    expect(header.key!.church ?? undefined).toBe(church);
  });
  it.each(['13', '1.5', 'x'])('no key of %s fifths', (fifths) => {
    const reading = key(`<fifths>${fifths}</fifths>`);
    expect(reading.chart.header.key).toBeNull();
    expect(reading.problems.find(({ code }) => code === 'key-unread')!.message).toContain(fifths);
  });
  it('a key that names no fifths is told', () =>
    expect(codes(key('<mode>major</mode>'))).toContain('key-unread'));

  const transposed = (chromatic: number, more = ''): string =>
    `<transpose>${more}<chromatic>${chromatic}</chromatic></transpose>`;
  it('brings chords of a transposing instrument to their sound', () => {
    // In B flat, in E flat, an octave and a tone lower, and untransposed.
    for (const [head, symbol] of [
      [transposed(-2, '<diatonic>-1</diatonic>'), 'Bb7'],
      [transposed(-9, '<diatonic>-5</diatonic>'), 'Eb7'],
      [transposed(-14, '<diatonic>-8</diatonic>'), 'Bb7'],
      [transposed(-2), 'Bb7'],
      [transposed(-12), 'C7'],
    ] as const) {
      const reading = part(`${attributes(head)}${c7}`);
      expect(symbolsOf(reading)).toEqual([[symbol]]);
      expect(codes(reading).includes('transposed')).toBe(symbol !== 'C7');
    }
  });
  it('brings notes of a transposing instrument to their sound', () => {
    const sound = (head: string): unknown =>
      importText(score([{ listed, measures: [`${attributes(head)}${note('D4', 8)}`] }])).line!.map(
        ({ midi, pitch }) => `${midi} ${pitch.name}`,
      )[0];
    expect(sound(transposed(0))).toBe('62 D');
    expect(sound(transposed(-2, '<diatonic>-1</diatonic>'))).toBe('60 C');
    expect(sound(transposed(-14, '<diatonic>-8</diatonic>'))).toBe('48 C');
    expect(sound(transposed(-12))).toBe('50 D');
    expect(sound(transposed(-3, '<diatonic>-2</diatonic>'))).toBe('59 B');
    expect(sound(transposed(1, '<diatonic>1</diatonic>'))).toBe('63 Eb');
  });

  it('takes divisions over that are none', () => {
    const none = attributes(sounding).replace('<divisions>2</divisions>', '<divisions>0</divisions>');
    expect(placed(importText(score([{ listed, measures: [`${none}${note('C3', 1)}`] }])))).toEqual([
      [0, 0, 480, 36],
    ]);
  });
});

describe('chords', () => {
  const read = (...content: string[]): ImportReading => part(`${attributes()}${content.join('')}${rest(8)}`);
  const root = (step: string, alter: string): string =>
    `<harmony><root><root-step>${step}</root-step><root-alter>${alter}</root-alter></root>${dominant}</harmony>`;

  it('have roots with up to two accidentals', () => {
    expect(symbolsOf(read(root('B', '-1')))).toEqual([['Bb7']]);
    expect(symbolsOf(read(root('f', '1')))).toEqual([['F#7']]);
    expect(symbolsOf(read(root('B', '-2')))).toEqual([['Bbbdom7']]);
    for (const alter of ['0.5', '3', '-3'])
      expect(codes(read(root('C', alter))), alter).toContain('chord-unread');
  });

  it('are told by their place where they have no root, or stand over one another', () => {
    const numeral = `<harmony><numeral><numeral-root>5</numeral-root></numeral>${dominant}</harmony>`;
    expect(codes(read(numeral))).toContain('harmony-numeral');
    const stacked = `<harmony><root><root-step>C</root-step></root>${dominant}<root><root-step>D</root-step></root>${dominant}</harmony>`;
    const reading = read(stacked);
    expect(reading.problems.find(({ code }) => code === 'harmony-stacked')!.message).toMatch(/^Bar 1\b/);
    expect(symbolsOf(reading)).toEqual([['C7']]);
    // A second root without a kind of its own says nothing.
    const bare = stacked.replace(/(<root><root-step>D<\/root-step><\/root>).*<\/harmony>/, '$1</harmony>');
    expect(codes(read(bare))).not.toContain('harmony-stacked');
    expect(symbolsOf(read(bare))).toEqual([['C7']]);
    expect(codes(read(harmony('C', dominant)))).not.toContain('harmony-stacked');
  });

  it('are silence where their kind says so, and told as they are written where they cannot be read', () => {
    expect(symbolsOf(read(harmony('C', '<kind>none</kind>')))).toEqual([['N.C.']]);
    const unread = (kind: string): string | undefined =>
      read(harmony('C', kind)).problems.find(({ code }) => code === 'chord-unread')?.message;
    expect(unread('<kind text="zz">other</kind>')).toContain('“Czz”');
    expect(unread('<kind>odd</kind>')).toContain('“C odd”');
  });

  it('pass over degrees that say nothing', () => {
    const degrees = `<degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type>add</degree-type></degree>`;
    expect(symbolsOf(read(harmony('C', dominant, degrees)))).toEqual([['C7b9']]);
    expect(symbolsOf(read(harmony('C', dominant, degrees.replace('add', 'other'))))).toEqual([['C7']]);
    expect(
      symbolsOf(read(harmony('C', dominant, degrees.replace(/<degree-value>.*<\/degree-value>/, '')))),
    ).toEqual([['C7']]);
    expect(
      symbolsOf(read(harmony('C', dominant, degrees.replace(/<degree-alter>.*<\/degree-alter>/, '')))),
    ).toEqual([['C9']]);
  });
});
