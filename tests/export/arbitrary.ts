// Random small lines: any meter, rests, notes over bar lines, triplets, keys, chords, sections and choruses.
import fc from 'fast-check';
import { makeKey, noteName, type Meter } from '../../src/music';
import { feels } from '../../src/pipeline';
import { makeTest, wholeBar, type BarSpec, type NoteSpec } from './build';

const meters: readonly Meter[] = (
  [
    [2, 4],
    [3, 4],
    [4, 4],
    [5, 4],
    [6, 4],
    [7, 4],
    [2, 2],
    [3, 2],
    [3, 8],
    [5, 8],
    [6, 8],
    [7, 8],
    [9, 8],
    [12, 8],
  ] as const
).map(([beats, unit]) => ({ beats, unit }));

const tonics = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];
const symbols = [
  'C',
  'Fm7',
  'Bb7b9',
  'F#m7b5',
  'Gbmaj7',
  'G7/B',
  'Dm6',
  'A7#5',
  'Eb9sus4',
  'G7alt',
  'Bdim7',
  'N.C.',
];

const barSpec: fc.Arbitrary<BarSpec> = fc
  .record({
    meter: fc.constantFrom(...meters),
    key: fc.tuple(fc.constantFrom(...tonics), fc.constantFrom('major' as const, 'minor' as const)),
    changes: fc.array(fc.tuple(fc.nat(11), fc.constantFrom(...symbols)), { maxLength: 3 }),
    first: fc.constantFrom(...symbols),
    section: fc.constantFrom(undefined, undefined, 'A', 'Bridge', '<&"\u0007>'),
  })
  .map(({ meter, key: [tonic, mode], changes, first, section }) => {
    const inside = changes
      .map(([eighth, symbol]) => [((eighth + 1) * 240) % wholeBar(meter), symbol] as const)
      .filter(([offset]) => offset > 0);
    const places = new Map<number, string>([[0, first], ...inside]);
    return {
      meter,
      key: makeKey(noteName(tonic), mode),
      chords: [...places].sort(([a], [b]) => a - b),
      ...(section === undefined ? {} : { section }),
    };
  });

/** Stands for three notes in one beat, written only where a beat begins. */
const triplet = 160;

interface Stride {
  readonly length: number;
  readonly gap: number;
  readonly midi: number;
  readonly place: number;
}

const stride: fc.Arbitrary<Stride> = fc.record({
  length: fc.constantFrom(120, 240, 360, triplet, 480, 480, 480, 720, 960, 1440, 1920, 2400),
  gap: fc.constantFrom(0, 0, 0, 0, 240, 480, 1920),
  midi: fc.integer({ min: 28, max: 60 }),
  place: fc.nat(3),
});

/** How a stride is held; the thumb only where it plays. */
function held({ midi, place }: Stride): Partial<NoteSpec> {
  const open = [28, 33, 38, 43].indexOf(midi);
  if (open >= 0 && place === 0) return { string: 4 - open, finger: '0', position: 3 };
  if (midi >= 55 && place === 1) return { string: 1, finger: 'T', position: midi - 43 };
  return { finger: (['1', '2', '4', '3'] as const)[place]!, position: 1 + place };
}

/** A line with its timeline. */
export const anyLine = fc
  .record({
    bars: fc.array(barSpec, { minLength: 1, maxLength: 6 }),
    strides: fc.array(stride, { maxLength: 24 }),
    feel: fc.constantFrom(...feels),
    tempo: fc.integer({ min: 40, max: 320 }),
  })
  .map(({ bars, strides, feel, tempo }) => {
    const beats = new Set<number>();
    let end = 0;
    for (const { meter } of bars) {
      const length = wholeBar(meter!);
      for (let at = 0; at + 480 <= length && meter!.unit !== 8; at += 480) beats.add(end + at);
      end += length;
    }
    let tick = 0;
    const notes: NoteSpec[] = [];
    for (const one of strides) {
      const start = tick + one.gap;
      const isTriplet = one.length === triplet && beats.has(start);
      const lengths = isTriplet ? [triplet, triplet, triplet] : [one.length === triplet ? 240 : one.length];
      if (start + lengths.reduce((sum, length) => sum + length) > end) break;
      tick = start;
      for (const length of lengths) {
        notes.push({ tick, ticks: length, midi: one.midi, ...held(one) });
        tick += length;
      }
    }
    return makeTest({ title: 'A <"line"> & more', tempo, feel, bars }, notes);
  });
