// Random charts that could stand on a page: sections of repeats, endings and plain bars, in any meter.
import fc from 'fast-check';
import {
  bpm,
  churchModes,
  makeKey,
  noteName,
  parseChord,
  sameKey,
  type Chord,
  type Key,
  type Meter,
} from '../../../src/music';
import { feels, jumps, type Chart, type ChartBar, type ChartChord } from '../../../src/pipeline';
import { repeated } from '../../../src/pipeline/1-chart/layout';
import { endOfSoundingBefore } from '../../../src/pipeline/1-chart/similes';
import { plainBar } from '../plain-bar';

const meters: readonly Meter[] = (
  [
    [2, 4],
    [3, 4],
    [4, 4],
    [4, 4],
    [4, 4],
    [5, 4],
    [6, 4],
    [7, 4],
    [2, 2],
    [3, 2],
    [3, 8],
    [6, 8],
    [7, 8],
    [9, 8],
    [12, 8],
  ] as const
).map(([beats, unit]) => ({ beats, unit }));

const symbols = [
  'C', 'Fm7', 'Bb7b9', 'F#m7b5', 'Gbmaj7', 'G7/B', 'Dm6', 'A7#5', 'Eb9sus4', 'G7alt', 'Bdim7', 'AmMaj7', 'C6/9/E', 'D5', 'Ebmaj7#11',
  'E7b9b13', 'Ab13', 'B7#9', 'Cbmaj7', 'N.C.',
]; // prettier-ignore

export function chordOf(symbol: string): Chord | null {
  const reading = parseChord(symbol);
  if (reading.kind === 'no chord') return null;
  if (reading.kind !== 'chord') throw new Error(`not a chord: ${symbol}`);
  return reading.chord;
}

const anyKey: fc.Arbitrary<Key> = fc
  .tuple(
    fc.constantFrom('Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'),
    fc.constantFrom('major' as const, 'minor' as const),
    fc.option(fc.constantFrom(...churchModes), { freq: 4 }),
  )
  .map(([tonic, mode, church]) => makeKey(noteName(tonic), mode, church ?? undefined));

const wholeBar = ({ beats, unit }: Meter): number => (beats * 1920) / unit;

/** Grids that chords change on: eighths and their triplets; or anything down to a tick. */
const steps = { usual: [120, 160], fine: [120, 160, 60, 80, 96, 7, 1] } as const;
type Grid = keyof typeof steps;

/** Chords with lengths, each on one of the grids. */
function chordsIn(
  length: number,
  grid: Grid,
  picks: readonly (readonly [place: number, symbol: string, extra: number])[],
): ChartChord[] {
  const places = new Map<number, readonly [string, number]>();
  for (const [index, [place, symbol, extra]] of picks.entries()) {
    const step = grid === 'usual' ? steps.usual[extra % 7 === 0 ? 1 : 0] : steps.fine[extra % 7]!;
    places.set(index === 0 ? 0 : (place * step) % length, [symbol, extra]);
  }
  const sorted = [...places].sort(([a], [b]) => a - b);
  return sorted.map(([offset, [symbol, extra]], index): ChartChord => {
    const chord = chordOf(symbol);
    const alternates =
      extra % 5 === 0 && chord ? [chordOf('Ab7')!, ...(extra % 2 === 0 ? [chordOf('D7b9')!] : [])] : [];
    return {
      chord,
      offset,
      length: (sorted[index + 1]?.[0] ?? length) - offset,
      alternates,
      optional: extra % 11 === 0 && chord !== null,
      span: null,
      ...(extra % 3 === 0 && chord ? { scale: extra % 2 === 0 ? 'altered' : 'half-whole diminished' } : {}),
    };
  });
}

const picks = fc.array(fc.tuple(fc.nat(40), fc.constantFrom(...symbols), fc.nat(1000)), {
  minLength: 1,
  maxLength: 4,
});

interface Extras {
  readonly meter: Meter | null;
  readonly key: Key | null;
}

const extras: fc.Arbitrary<Extras> = fc.record({
  meter: fc.option(fc.constantFrom(...meters), { freq: 8 }),
  key: fc.option(anyKey, { freq: 8 }),
});

type Layout =
  | 'plain'
  | 'repeat'
  | 'three times'
  | 'two endings'
  | 'three endings'
  | 'open ending'
  | 'double'
  | 'double repeat';

/** What the bars of a stretch of four are beside their chords. */
const layouts: Readonly<Record<Layout, readonly Partial<ChartBar>[]>> = {
  plain: [{}, {}, {}, {}],
  double: [{}, {}, {}, { doubleBar: true }],
  repeat: [{ repeatStart: true }, {}, {}, { repeatEnd: 2 }],
  'double repeat': [{ repeatStart: true }, {}, {}, { repeatEnd: 2, doubleBar: true }],
  'three times': [{ repeatStart: true }, {}, {}, { repeatEnd: 3 }],
  'two endings': [
    { repeatStart: true },
    { ending: [1] },
    { ending: [1], repeatEnd: 2 },
    { ending: [2], doubleBar: true },
  ],
  'three endings': [
    { repeatStart: true },
    { ending: [1, 3], repeatEnd: 4 },
    { ending: [2], repeatEnd: 4 },
    { ending: [4] },
  ],
  'open ending': [{ repeatStart: true }, { ending: [1], repeatEnd: 2 }, { ending: [2] }, { ending: [2] }],
};

const stretch = fc.record({
  layout: fc.constantFrom(...(Object.keys(layouts) as Layout[])),
  section: fc.constantFrom(null, null, 'A', 'B', 'Bridge', 'Intro', 'Tag 2', '100% <b>'),
  bars: fc.tuple(picks, picks, picks, picks),
  extras: fc.tuple(extras, extras, extras, extras),
});

const signs = fc.record({
  simile: fc.constantFrom(null, null, 1 as const, 2 as const),
  jump: fc.option(fc.constantFrom(...jumps)),
  segno: fc.option(fc.nat(20)),
  fine: fc.option(fc.nat(20)),
  toCoda: fc.option(fc.nat(20)),
  coda: fc.option(fc.nat(20)),
});

/** Bars of a simile with the chords they stand for; without the sign where nothing sounds before them. */
function withSimile(bars: readonly ChartBar[], simile: 1 | 2 | null): readonly ChartBar[] {
  if (simile === null) return bars;
  const end = endOfSoundingBefore(bars, 2);
  if (end < simile) return bars;
  return bars.map((bar, index) => {
    if (index < 2 || index >= 2 + simile) return bar;
    const source = bars[end - simile + index - 2]!;
    return { ...bar, simile, chords: repeated(source.chords, wholeBar(bar.meter)) };
  });
}

/** A chart of up to sixteen bars; every field takes every kind of value in some of them. */
const chartOn = (grid: Grid): fc.Arbitrary<Chart> =>
  fc
    .record({
      title: fc.constantFrom('', 'A study', 'Two & <three>', '50 % "more"', 'a\\b', 'mi♭ 𝄢'),
      key: fc.option(anyKey),
      tempo: fc.option(fc.integer({ min: 400, max: 3200 }).map((tenths) => bpm(tenths / 10))),
      feel: fc.constantFrom(...feels),
      parts: fc.constantFrom([], [], ['A', 'A', 'B', 'A'], ['Intro', 'A', 'Tag 2']),
      meter: fc.constantFrom(...meters),
      stretches: fc.array(stretch, { minLength: 1, maxLength: 4 }),
      signs,
      pickup: fc.option(fc.nat(10)),
    })
    .map(({ title, key, tempo, feel, parts, meter, stretches, signs: form, pickup }): Chart => {
      let current = meter;
      let inForce = key;
      const plain = stretches.flatMap((one, place) =>
        layouts[one.layout].map((layout, index): ChartBar => {
          const extra = one.extras[index]!;
          const isFirst = place === 0 && index === 0;
          if (extra.meter && !isFirst) current = extra.meter;
          const isNewKey =
            extra.key !== null && (inForce === null || !sameKey(extra.key, inForce)) && !isFirst;
          const keyChange = isNewKey ? extra.key : null;
          inForce = keyChange ?? inForce;
          return {
            ...plainBar,
            ...layout,
            meter: current,
            keyChange,
            section: index === 0 ? one.section : null,
            chords: chordsIn(wholeBar(current), grid, one.bars[index]!),
          };
        }),
      );
      const at = (wanted: number | null): number => (wanted === null ? -1 : wanted % plain.length);
      const marked = plain.map((bar, index): ChartBar => ({
        ...bar,
        segno: index === at(form.segno),
        fine: index === at(form.fine),
        toCoda: index === at(form.toCoda),
        coda: index === at(form.coda),
        jump: index === plain.length - 1 ? form.jump : null,
      }));
      if (pickup !== null && marked[0]) {
        const short = grid === 'usual' ? 240 : 80 + pickup;
        const length = Math.min(short * (1 + (pickup % 3)), wholeBar(meter) - 120);
        marked[0] = { ...marked[0], pickup: true, chords: chordsIn(length, grid, stretches[0]!.bars[0]) };
      }
      const bars = withSimile(marked, marked[0]!.pickup && form.simile === 2 ? null : form.simile);
      return { header: { title, key, meter, tempo, feel, parts }, bars };
    });

export const anyChart = chartOn('usual');
/** The same with chords at places of any tick. */
export const anyFineChart = chartOn('fine');

/** A chart without what a file does not hold: where its symbols stood, and how they were typed. */
export function comparable(chart: Chart): unknown {
  return {
    ...chart,
    bars: chart.bars.map((bar) => ({
      ...bar,
      span: null,
      chords: bar.chords.map(({ chord, alternates, ...place }) => ({
        ...place,
        span: null,
        symbol: chord?.symbol ?? 'N.C.',
        tones: chord?.tones.map(({ note }) => note) ?? [],
        alternates: alternates.map(({ symbol }) => symbol),
      })),
    })),
  };
}
