// Places in a bar that beats and dots cannot say: `F7@2.75`, `F7@2+1/3`.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseMeter, printChart, readChart, withScale } from '../../../src/pipeline/1-chart';
import { placeText, readPlace } from '../../../src/pipeline/1-chart/beat-places';
import { barTicks, beatTicks } from '../../../src/pipeline/1-chart/meter';

const offsets = (text: string): (readonly [string, number])[][] =>
  readChart(text).chart.bars.map(({ chords }) =>
    chords.map(({ chord, offset }) => [chord?.symbol ?? 'N.C.', offset] as const),
  );
const codes = (text: string): string[] => readChart(text).problems.map(({ code }) => code);

describe('a place behind an @', () => {
  it.each([
    [
      '| C7 F7@3.75 |',
      [
        ['C7', 0],
        ['F7', 1320],
      ],
    ],
    [
      '| C7 F7@2+1/3 Bb7@4 |',
      [
        ['C7', 0],
        ['F7', 640],
        ['Bb7', 1440],
      ],
    ],
    [
      '| C maj7 F m7@3.25 |',
      [
        ['Cmaj7', 0],
        ['Fm7', 1080],
      ],
    ],
    [
      '| C7 F7 @3 |',
      [
        ['C7', 0],
        ['F7', 960],
      ],
    ],
    [
      '| C7 F7 G7@4 |',
      [
        ['C7', 0],
        ['F7', 720],
        ['G7', 1440],
      ],
    ],
    [
      '| C7 F7@4 G7 |',
      [
        ['C7', 0],
        ['F7', 1440],
        ['G7', 1680],
      ],
    ],
    [
      '{6/8} | C7 F7@1+1/3 |',
      [
        ['C7', 0],
        ['F7', 240],
      ],
    ],
  ] as const)('%s', (text, expected) => {
    expect(offsets(text)).toEqual([expected]);
    expect(codes(text)).toEqual([]);
  });

  it('lets the chord before the bar go on until the first place', () => {
    expect(offsets('| C7 | F7@2.5 |')[1]).toEqual([
      ['C7', 0],
      ['F7', 720],
    ]);
  });

  it('stands with scale, brackets and alternatives', () => {
    const { chart, problems } = readChart('| C7 (F7)@3.75{altered};B7 |');
    expect(problems).toEqual([]);
    expect(chart.bars[0]!.chords[1]).toMatchObject({ offset: 1320, optional: true, scale: 'altered' });
    expect(printChart(chart)).toContain('| C7 (F7)@3.75{altered};B7 |');
  });

  it('keeps its place when a scale is put behind its chord', () => {
    const text = '| C7 F7@3.75 |';
    const { span } = readChart(text).chart.bars[0]!.chords[1]!;
    expect(withScale(text, span!, 'altered')).toBe('| C7 F7@3.75{altered} |');
  });

  it.each([
    ['| C7 F7@5 |', 'place-wrong'],
    ['| C7 F7@0.5 |', 'chord-unknown'],
    ['| C7 F7@3 G7@2 |', 'place-wrong'],
    ['| @2 C7 |', 'place-without-chord'],
    ['| C7 / F7@3.75 / |', 'place-with-slashes'],
  ])('%s is told: %s', (text, code) => {
    expect(codes(text)).toContain(code);
    const [bar] = readChart(text).chart.bars;
    expect(bar!.chords.reduce((sum, { length }) => sum + length, 0)).toBe(1920);
  });

  it('makes a pickup as long as it says', () => {
    expect(readChart('{pickup 1.25} G7 C7@4.5 | F |').chart.bars[0]).toMatchObject({
      pickup: true,
      chords: [
        { offset: 0, length: 360 },
        { offset: 360, length: 240 },
      ],
    });
    expect(readChart('{pickup} G7@4.25 | F |').chart.bars[0]!.chords).toMatchObject([{ length: 360 }]);
  });

  it('says every tick of every meter exactly', () => {
    const anyPlace = fc.constantFrom('4/4', '3/4', '6/8', '7/8', '12/8', '2/2').chain((name) => {
      const meter = parseMeter(name)!;
      return fc.tuple(fc.constant(meter), fc.nat(barTicks(meter) - 1));
    });
    fc.assert(
      fc.property(anyPlace, ([meter, tick]) => {
        expect(Math.round(readPlace(placeText(tick, meter))! * beatTicks(meter))).toBe(tick);
      }),
      { seed: 20292, numRuns: 2000 },
    );
  });
});

describe('a bracket', () => {
  it('ends where it is said to end', () => {
    const endings = (text: string): (string | undefined)[] =>
      readChart(text).chart.bars.map(({ ending }) => ending?.join());
    const text = '|: C6 |1 A7 :|2 D7 | {bracket ends} E7 | F7 :|';
    expect(endings(text)).toEqual([undefined, '1', '2', undefined, undefined]);
    expect(endings(text.replace('{bracket ends} ', ''))).toEqual([undefined, '1', '2', '2', '2']);
    expect(codes(text)).toEqual([]);
  });

  it('of a repeat that was never closed does not swallow the next repeat', () => {
    const { chart } = readChart('| C7 |1 F7 |\n|: D7 | E7 |1 A7 :|2 G7 ||');
    expect(chart.bars.map(({ ending }) => ending?.join())).toEqual([
      undefined,
      '1',
      undefined,
      undefined,
      '1',
      '2',
    ]);
  });
});

describe('a form', () => {
  it('names sections of several words in quotation marks', () => {
    const { chart, problems } = readChart('Form: A "Tag 2" "Tag 2"\n[A] | C7 |\n[Tag 2] | F7 |');
    expect(problems).toEqual([]);
    expect(chart.header.parts).toEqual(['A', 'Tag 2', 'Tag 2']);
    expect(printChart(chart)).toContain('Form: A "Tag 2" "Tag 2"');
  });
});
