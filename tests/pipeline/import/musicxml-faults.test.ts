import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { importText } from '../../../src/pipeline/1-chart/import';
import { publicDoctype, score, attributes, rest, harmony, dominant, symbolsOf, codes } from './score';

describe('blanks before the head', () => {
  it('are no fault, and every place stays where it is', () => {
    const text = score([{ measures: [`${attributes()}${harmony('C', '<kind>odd</kind>')}${rest(8)}`] }]);
    for (const blanks of [' ', '\n\n  ', '\t\r\n', '\ufeff\n']) {
      const reading = importText(`${blanks}${text}`);
      expect(reading.chart.bars).toHaveLength(1);
      const { line, column } = reading.problems.find(({ code }) => code === 'chord-unread')!;
      const row = `${blanks}${text}`.split(/\r\n|\n/)[line - 1]!;
      expect(row.slice(column - 1)).toMatch(/^<harmony/);
    }
  });
});

describe('files that are not what they should be', () => {
  const plain = [{ measures: [`${attributes()}${harmony('C', dominant)}${rest(8)}`] }];

  it('accepts the plain public DOCTYPE', () => {
    const reading = importText(score(plain, '', publicDoctype));
    expect(codes(reading)).toEqual([]);
    expect(symbolsOf(reading)).toEqual([['C7']]);
  });

  it.each([
    ['one large entity', `<!DOCTYPE score-partwise [<!ENTITY a "${'x'.repeat(1000)}">]>`],
    [
      'nested entities',
      `<!DOCTYPE score-partwise [<!ENTITY a "aaaaaaaaaa">${'bcdefg'
        .split('')
        .map((name, index) => `<!ENTITY ${name} "${`&${'abcdef'[index]};`.repeat(10)}">`)
        .join('')}]>`,
    ],
    ['an outside entity', '<!DOCTYPE score-partwise [<!ENTITY a SYSTEM "file:///etc/hostname">]>'],
  ])('refuses a DOCTYPE that declares %s', (_, doctype) => {
    const head = `<work><work-title>${'&a;'.repeat(3000)}</work-title></work>`;
    const reading = importText(score(plain, head, doctype));
    expect(codes(reading)).toEqual(['xml-entities']);
    expect(reading.chart.bars).toEqual([]);
  });

  it('says where broken XML breaks', () => {
    const reading = importText('<score-partwise>\n<part-list>\n</part></score-partwise>');
    expect(reading.problems).toMatchObject([{ code: 'xml-broken', line: 3 }]);
    expect(codes(importText('<score-partwise>&nothing;</score-partwise>'))).toEqual(['xml-broken']);
    expect(codes(importText('<svg><body/></svg>'))).toEqual(['xml-not-score']);
    expect(codes(importText('<score-partwise version="4.0"/>'))).toEqual(['score-empty']);
    expect(codes(importText('<a>'.repeat(100_000)))).toEqual(['xml-deep']);
  });

  it('tells when there are no chords', () => {
    expect(codes(importText(score([{ measures: [attributes() + rest(8)] }])))).toEqual(['score-no-chords']);
  });

  it('reads numbers, words and signs that make no sense without failing', () => {
    const odd = [
      '<attributes><divisions>0</divisions><key><fifths>99</fifths></key><time><beats>x</beats><beat-type>0</beat-type></time><transpose><chromatic>1e999</chromatic></transpose></attributes>',
      '<note><pitch><step>H</step><octave>4</octave></pitch><duration>-5</duration></note>',
      '<note><pitch><step>C</step><alter>0.5</alter><octave>400</octave></pitch><duration>abc</duration></note>',
      '<backup><duration>99999</duration></backup><forward><duration>-3</duration></forward>',
      '<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>fast</per-minute></metronome></direction-type><sound tempo="-1"/></direction>',
      '<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>999</per-minute></metronome></direction-type></direction>',
      '<barline location="left"><ending number="x" type="start"/></barline>',
      '<barline location="right"><repeat direction="backward" times="0"/></barline>',
      harmony('C', '<kind>dominant</kind>', '<offset>-99</offset>'),
    ];
    const reading = importText(
      score([{ measures: odd.map((one) => one + rest(1)), listed: '<part-name>Bass</part-name>' }]),
    );
    expect(reading.chart.bars).toHaveLength(odd.length);
    expect(reading.chart.header.tempo).toBe(320);
    expect(new Set(codes(reading))).toEqual(
      new Set(['key-unread', 'meter-unread', 'line-range', 'ending-unread', 'tempo-range', 'bar-short']),
    );
  });

  it('never throws on cut or garbled files', () => {
    const whole = score(plain, '<work><work-title>T</work-title></work>', publicDoctype);
    fc.assert(
      fc.property(fc.nat(whole.length), fc.nat(whole.length), fc.string(), (from, to, other) => {
        const text = whole.slice(0, Math.min(from, to)) + other + whole.slice(Math.max(from, to));
        expect(Array.isArray(importText(text).problems)).toBe(true);
      }),
      { numRuns: 300 },
    );
  });
});
