// What stands above the staff in MusicXML: marks of tempo, signs, words. Source: W3C MusicXML 4.0, by the names of its elements.
import { describe, expect, it } from 'vitest';
import type { ImportReading } from '../../../src/pipeline/1-chart/import';
import { longestSign } from '../../../src/pipeline/1-chart/import/signs';
import { attributes, c7, direction, dominant, harmony, part, rest, symbolsOf } from './score';

describe('tempo', () => {
  const mark = (content: string): number | null =>
    part(
      `${attributes()}<direction><direction-type><metronome>${content}</metronome></direction-type></direction>${c7}`,
    ).chart.header.tempo;
  const unit = (name: string, dot = ''): string => `<beat-unit>${name}</beat-unit>${dot}`;

  it.each([
    [`${unit('quarter')}<per-minute>120</per-minute>`, 120],
    [`${unit('half')}<per-minute>60</per-minute>`, 120],
    [`${unit('whole')}<per-minute>40</per-minute>`, 160],
    [`${unit('eighth')}<per-minute>200</per-minute>`, 100],
    [`${unit('16th')}<per-minute>400</per-minute>`, 100],
    [`${unit('quarter', '<beat-unit-dot/>')}<per-minute>80</per-minute>`, 120],
    [`${unit('quarter')}<per-minute>c. 96.5</per-minute>`, 96.5],
    [`${unit('quarter')}<per-minute>fast</per-minute>`, null],
    [`${unit('quarter')}${unit('half')}`, null],
    [`${unit('quarter')}${unit('half')}<per-minute>90</per-minute>`, null],
    [`${unit('long')}<per-minute>90</per-minute>`, null],
    [`<per-minute>90</per-minute>`, null],
  ])('%s', (content, tempo) => expect(mark(content)).toBe(tempo));

  it('is the first that is named', () => {
    const twice = `${direction('', '<sound tempo="0"/>')}${direction('', '<sound tempo="90"/>')}${direction('', '<sound tempo="140"/>')}`;
    expect(part(`${attributes()}${twice}${c7}`).chart.header.tempo).toBe(90);
  });
});

describe('signs that only the sound names', () => {
  const four = (...heads: string[]): ImportReading =>
    part(
      ...['', '', '', ''].map(
        (_, index) =>
          `${index === 0 ? attributes() : ''}${heads[index] ?? ''}${harmony('CDEF'[index]!, dominant)}${rest(8)}`,
      ),
    );
  const bars = (reading: ImportReading) => reading.chart.bars;

  it('end where the piece has an end for them', () => {
    const sound = (attribute: string): string => `<sound ${attribute}/>`;
    const jump = (...heads: string[]): unknown =>
      bars(four(...heads))
        .map((bar) => bar.jump)
        .find(Boolean);
    expect(jump('', '', '', sound('dacapo="yes"'))).toBe('D.C.');
    expect(jump('', '', '', sound('dacapo="no"'))).toBeUndefined();
    expect(jump('', sound('fine="yes"'), '', sound('dacapo="yes"'))).toBe('D.C. al Fine');
    expect(jump('', sound('fine="no"'), '', sound('dacapo="yes"'))).toBe('D.C.');
    expect(jump(sound('segno="1"'), sound('fine=""'), '', sound('dalsegno="1"'))).toBe('D.S. al Fine');
    expect(jump(sound('segno="1"'), sound('tocoda="1"'), sound('dalsegno="1"'), sound('coda="1"'))).toBe(
      'D.S. al Coda',
    );
  });
});

describe('words above the staff', () => {
  const said = (...words: string[]): ImportReading =>
    part(`${attributes()}${words.map((text) => direction(text)).join('')}${c7}`);
  const section = (reading: ImportReading): string | null => reading.chart.bars[0]!.section;

  it('name sections, feels and silence', () => {
    expect(section(said('Bridge'))).toBe('Bridge');
    expect(section(said('Bridge', 'Intro'))).toBe('Bridge');
    expect(section(said('softly'))).toBeNull();
    expect(said('Bossa Nova').chart.header.feel).toBe('bossa');
    expect(said('Bossa Nova', 'Waltz').chart.header.feel).toBe('bossa');
    expect(said('softly').chart.header.feel).toBe('swing');
    const silent = part(`${attributes()}${direction('N.C.')}${rest(4)}${harmony('C', dominant)}${rest(4)}`);
    expect(symbolsOf(silent)).toEqual([['N.C.', 'C7']]);
    expect(silent.chart.bars[0]!.chords[0]).toMatchObject({ chord: null, optional: false, alternates: [] });
  });

  it('are passed over where they are a sentence', () => {
    expect(section(said('A'.repeat(longestSign)))).toBeNull();
    const rehearsal = (label: string): string =>
      `<direction><direction-type><rehearsal>${label}</rehearsal></direction-type></direction>`;
    const labelled = part(`${attributes()}${rehearsal('x'.repeat(longestSign + 5))}${c7}`);
    expect(section(labelled)).toHaveLength(40);
  });

  it('say with the sound how eighths go', () => {
    const swing = (content: string): string =>
      part(`${attributes()}<sound tempo="120"><swing>${content}</swing></sound>${c7}`).chart.header.feel;
    expect(swing('<straight/>')).toBe('straight');
    expect(swing('<first>2</first><second>1</second><swing-type>eighth</swing-type>')).toBe('swing');
    expect(part(`${attributes()}<sound tempo="120"/>${c7}`).chart.header.feel).toBe('swing');
  });
});
