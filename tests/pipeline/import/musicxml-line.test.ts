import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toMusicXml } from '../../../src/export';
import { importText, type ImportReading } from '../../../src/pipeline/1-chart/import';
import { anyLine } from '../../export/arbitrary';
import { makeTest, naming } from '../../export/build';
import {
  attributes,
  back,
  clef,
  codes,
  dominant,
  harmony,
  inVoice,
  listed,
  note,
  rest,
  score,
  sounding,
  symbolsOf,
  transposed,
} from './score';

describe('a bass line', () => {
  const octaveClef = clef.replace('</clef>', '<clef-octave-change>-1</clef-octave-change></clef>');
  const line = (head: string, notes: string): ImportReading['line'] =>
    importText(score([{ measures: [`${attributes(head)}${harmony('C', dominant)}${notes}`], listed }])).line;

  it.each([
    ['a plain clef and <transpose>', sounding, ['E2', 'A2', 'D3', 'G3']],
    ['a clef with an octave sign', octaveClef, ['E1', 'A1', 'D2', 'G2']],
    ['a clef with an octave sign and <transpose>', octaveClef + transposed, ['E1', 'A1', 'D2', 'G2']],
    ['neither', clef, ['E1', 'A1', 'D2', 'G2']],
  ])('sounds E A D G as 28 33 38 43 with %s', (_, head, pitches) => {
    const read = line(head, pitches.map((pitch) => note(pitch, 2)).join(''))!;
    expect(read.map(({ midi }) => midi)).toEqual([28, 33, 38, 43]);
    expect(read.map(({ pitch }) => `${pitch.name}${pitch.octave}`)).toEqual(['E1', 'A1', 'D2', 'G2']);
  });

  it('keeps fingers, strings, open strings and thumb marks', () => {
    const technical = (content: string): string => `<notations><technical>${content}</technical></notations>`;
    const read = line(
      sounding,
      note('F2', 2, technical('<fingering>1</fingering><string>4</string>')) +
        note('D3', 2, technical('<fingering>0</fingering><open-string/>')) +
        note('G4', 2, technical('<thumb-position/><string>1</string>')) +
        note('C3', 2, technical('<fingering>4</fingering><fingering alternate="yes">2</fingering>')),
    )!;
    expect(read.map(({ finger, string, otherFingers }) => [finger, string, otherFingers])).toEqual([
      ['1', 4, []],
      ['0', null, []],
      ['T', 1, []],
      ['4', null, ['2']],
    ]);
  });

  it('joins ties whichever way round they are written, over bar lines too', () => {
    const tie = (...types: string[]): string =>
      types.map((type) => `<tie type="${type}"/>`).join('') +
      `<notations>${types.map((type) => `<tied type="${type}"/>`).join('')}</notations>`;
    const reading = importText(
      score([
        {
          listed,
          measures: [
            `${attributes(sounding)}${note('C3', 4)}${note('E3', 4, tie('start'))}`,
            note('E3', 8, tie('start', 'stop')),
            note('E3', 2, tie('stop')) + note('E3', 2) + rest(4),
          ],
        },
      ]),
    );
    expect(reading.line!.map(({ bar, offset, ticks }) => [bar, offset, ticks])).toEqual([
      [0, 0, 960],
      [0, 960, 960 + 1920 + 480],
      [2, 480, 480],
    ]);
  });

  it('takes one voice and the lowest of several notes, without grace notes', () => {
    const chord = note('G3', 4).replace('<note>', '<note><chord/>');
    const grace = note('B2', 0).replace('<note>', '<note><grace/>').replace('<duration>0</duration>', '');
    const second = back(8) + inVoice(2, note('C4', 8));
    const reading = importText(
      score([
        {
          listed,
          measures: [`${attributes(sounding)}${note('C3', 4)}${chord}${grace}${note('D3', 4)}${second}`],
        },
      ]),
    );
    expect(reading.line!.map(({ midi, offset }) => [midi, offset])).toEqual([
      [36, 0],
      [38, 960],
    ]);
    expect(codes(reading)).toContain('line-chords');
  });

  it('finds the bass among the parts, and no bass where there is none', () => {
    const lead = { measures: [`${attributes()}${harmony('C', dominant)}${note('C5', 8)}`] };
    const low = { measures: [`${attributes(sounding)}${note('C3', 8)}`], listed };
    const clarinet = { measures: low.measures, listed: '<part-name>Bass Clarinet</part-name>' };
    expect(importText(score([lead, low])).line!.map(({ midi }) => midi)).toEqual([36]);
    expect(importText(score([lead])).line).toBeNull();
    expect(
      importText(score([lead, { ...clarinet, measures: [`${attributes()}${note('C3', 8)}`] }])).line,
    ).toBeNull();
  });

  it('comes back from our own export with every pitch, place, string and finger', () => {
    fc.assert(
      fc.property(anyLine, ({ timeline, line: made }) => {
        const { line: read } = importText(toMusicXml(timeline, made, naming));
        const told = (read ?? []).map(({ bar, offset, ticks, midi, pitch, string, finger }) => ({
          tick: timeline.bars[bar]!.tick + offset,
          ticks,
          midi,
          name: `${pitch.name}${pitch.octave}`,
          string,
          finger,
        }));
        expect(told).toEqual(
          made.notes.map(({ tick, ticks, midi, pitch, placement }) => ({
            tick,
            ticks,
            midi,
            name: `${pitch.name}${pitch.octave}`,
            string: placement.string,
            finger: placement.finger,
          })),
        );
      }),
      { numRuns: 80 },
    );
  });

  it('comes with the changes that were exported beside it', () => {
    const { timeline, line: made } = makeTest(
      {
        bars: [
          {
            chords: [
              [0, 'Dm7'],
              [960, 'G7/B'],
            ],
          },
          { chords: [[0, 'Cmaj7']] },
        ],
      },
      [{ tick: 0, ticks: 1920, midi: 38 }],
    );
    expect(symbolsOf(importText(toMusicXml(timeline, made, naming)))).toEqual([['Dm7', 'G7/B'], ['Cmaj7']]);
  });
});
