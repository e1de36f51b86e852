// What the critic counts bar by bar: figures and shapes that come again.
import { pitchClass } from '../../../music';
import type { CriticNote } from './notes';

type Bar = readonly CriticNote[];
type BarCount = (bars: readonly Bar[], index: number) => boolean;

const figureOf = (bar: Bar): string => bar.map(({ midi }) => midi).join();
const shapeOf = (bar: Bar): string => bar.map(({ midi }) => midi - bar[0]!.midi).join();

/** The same notes, in any octave. */
const isSameFigure = (a: Bar, b: Bar): boolean =>
  shapeOf(a) === shapeOf(b) && pitchClass(a[0]!.midi) === pitchClass(b[0]!.midi);

/** Bars of one note, and patterns and pedals, have nothing to vary. */
const isFree = (bar: Bar): boolean =>
  bar.length >= 3 && bar.every(({ slot }) => slot.confinedTo === undefined && slot.isPedal !== true);

const barsOfPhrase = 4;

export const barCounts = {
  'bar again': (bars, i) => i > 0 && isSameFigure(bars[i]!, bars[i - 1]!),
  'bar of the last four': (bars, i) =>
    !(i > 0 && isSameFigure(bars[i]!, bars[i - 1]!)) &&
    bars.slice(Math.max(0, i - 4), i).some((other) => figureOf(other) === figureOf(bars[i]!)),
  'same downbeat three times': (bars, i) =>
    i >= 2 && [1, 2].every((by) => bars[i - by]![0]!.midi === bars[i]![0]!.midi),
  'root restated': (bars, i) => {
    const [here, before] = [bars[i]![0]!, bars[i - 1]?.[0]];
    if (!before || here.slot.isChange || !here.isRoot) return false;
    return (
      before.midi === here.midi &&
      bars[i - 1]!.every(({ slot }) => slot.harmony.chord?.symbol === here.slot.harmony.chord?.symbol)
    );
  },
  'shape three times': (bars, i) =>
    bars.slice(Math.max(0, i - 7), i).filter((other) => shapeOf(other) === shapeOf(bars[i]!)).length === 2,
  'highest note again': (bars, i) => {
    if ((i + 1) % barsOfPhrase !== 0) return false;
    const phrase = bars.slice(i + 1 - barsOfPhrase, i + 1).flat();
    const highest = Math.max(...phrase.map(({ midi }) => midi));
    return phrase.filter(({ midi }) => midi === highest).length > 1;
  },
} satisfies Record<string, BarCount>;

/** How often each comes in the bars that are free. */
export function countBars(bars: readonly Bar[]): Readonly<Record<keyof typeof barCounts, number>> {
  const free = bars.filter(isFree);
  const count = (counts: BarCount): number => free.filter((_, index) => counts(free, index)).length;
  return {
    'bar again': count(barCounts['bar again']),
    'bar of the last four': count(barCounts['bar of the last four']),
    'same downbeat three times': count(barCounts['same downbeat three times']),
    'root restated': count(barCounts['root restated']),
    'shape three times': count(barCounts['shape three times']),
    'highest note again': count(barCounts['highest note again']),
  };
}
