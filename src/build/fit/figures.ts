// The figures that the energies are fitted to, as expectations over all lines of all charts.
import targets from '../../../shared/weights/targets.json' with { type: 'json' };
import type music from '../../../shared/weights/music.json';
import {
  degreeContext,
  degreeContexts,
  pairCell,
  toneClass,
  toneClasses,
  type DegreeContext,
} from '../../pipeline/5-line/features';
import { memories, sizeOf, stepSizes } from '../../pipeline/5-line/grammar';
import type { ProblemInstance } from '../../pipeline/problem/instance';
import { visitSteps } from './marginals';

export type Energies = typeof music;

const intervalBins = targets.intervalInBar.shares.length;
const widest = 60;

function sumOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let index = 0; index < values.length; index++) sum += values[index]!;
  return sum;
}

/** Expected counts; shares are taken from them at the end. */
export interface Counts {
  readonly degree: Readonly<Record<DegreeContext, Float64Array>>;
  readonly inBar: Float64Array;
  readonly barLine: Float64Array;
  /** Index: signed semitones + widest. */
  readonly signed: Float64Array;
  readonly register: Float64Array;
  /** Index: (size * sizes + size of the next) * 2 + back. */
  readonly pairs: Float64Array;
}

const binOf = (size: number, bins: number): number => Math.min(size, bins - 1);

export const emptyCounts = (energies: Energies): Counts => ({
  degree: Object.fromEntries(
    degreeContexts.map((context) => [context, new Float64Array(toneClasses.length)]),
  ) as Record<DegreeContext, Float64Array>,
  inBar: new Float64Array(intervalBins),
  barLine: new Float64Array(intervalBins),
  signed: new Float64Array(2 * widest + 1),
  register: new Float64Array(energies.register.energies.length),
  pairs: new Float64Array(stepSizes * stepSizes * 2),
});

/** Adds the expected counts of one chart. The return to the top is no note of the line and is left out. */
export function addCounts(
  counts: Counts,
  instance: ProblemInstance,
  energies: Energies,
  temperature: number,
): void {
  const { candidates, lattice } = instance;
  const lastNote = candidates.length - 2;
  const { from, bin } = energies.register;
  visitSteps(lattice, temperature, (t, g, b, n, probability) => {
    if (t > lastNote) return;
    const { slot, pitches } = candidates[t]!;
    const here = pitches[b]!;
    counts.degree[degreeContext(slot)][toneClasses.indexOf(toneClass(slot.harmony, here))]! += probability;
    counts.register[binOf(Math.max(0, Math.floor((here - from) / bin)), counts.register.length)]! +=
      probability;
    if (t === lastNote) return;
    const step = candidates[t + 1]!.pitches[n]! - here;
    const size = binOf(Math.abs(step), intervalBins);
    if (slot.nextIsDownbeat) {
      counts.barLine[size]! += probability;
      counts.signed[step + widest]! += probability;
    } else {
      counts.inBar[size]! += probability;
    }
    const memory = memories[g]!;
    if (memory.size === null) return;
    counts.pairs[(memory.size * stepSizes + sizeOf(step)) * 2 + pairCell(memory, step)]! += probability;
  });
}

/** Adds what one line shows, as if it were all there is. */
export function addLine(
  counts: Counts,
  instance: ProblemInstance,
  path: ArrayLike<number>,
  energies: Energies,
): void {
  const { candidates, played = candidates.length } = instance;
  const { from, bin } = energies.register;
  const midis = candidates.slice(0, played).map(({ placements }, t) => placements[path[t]!]!.midi);
  midis.forEach((here, t) => {
    const { slot } = candidates[t]!;
    counts.degree[degreeContext(slot)][toneClasses.indexOf(toneClass(slot.harmony, here))]! += 1;
    counts.register[binOf(Math.max(0, Math.floor((here - from) / bin)), counts.register.length)]! += 1;
    if (t + 1 === midis.length) return;
    const step = midis[t + 1]! - here;
    const size = binOf(Math.abs(step), intervalBins);
    (slot.nextIsDownbeat ? counts.barLine : counts.inBar)[size]! += 1;
    if (slot.nextIsDownbeat) counts.signed[step + widest]! += 1;
    if (t === 0) return;
    const before = here - midis[t - 1]!;
    counts.pairs[(sizeOf(before) * stepSizes + sizeOf(step)) * 2 + (before * step < 0 ? 1 : 0)]! += 1;
  });
}

/** A family of figures: what the model shows and what was measured, and the energy of each to be changed. */
export interface Figure {
  readonly name: string;
  readonly shown: number;
  readonly wanted: number;
  /** Share of the change that its energy takes: figures that overlap take part of it each. */
  readonly part: number;
  /** Fitted to chosen takes as well: what the line does, and where chords begin. What its notes are is left to rules and critic. */
  readonly movesWithChoice: boolean;
  change(energies: Energies, by: number): void;
}

function bins(
  name: string,
  shown: ArrayLike<number>,
  wanted: readonly number[],
  energiesOf: (energies: Energies) => number[],
  part = 1,
): Figure[] {
  const all = sumOf(shown);
  return wanted.flatMap((share, bin) =>
    share === 0
      ? []
      : [
          {
            name: `${name} ${bin}`,
            shown: shown[bin]! / all,
            wanted: share / sumOf(wanted),
            part,
            movesWithChoice: name !== 'register',
            change: (energies, by) => (energiesOf(energies)[bin]! += by),
          } satisfies Figure,
        ],
  );
}

const opening: readonly DegreeContext[] = ['section', 'four bars', 'change'];

function degreeFigures(counts: Counts): Figure[] {
  const notOffered: readonly string[] = targets.degree.notOffered.contexts;
  return degreeContexts.flatMap((context) => {
    const classes = toneClasses.filter((one) => one !== 'chrom' || !notOffered.includes(context));
    const indices = classes.map((one) => toneClasses.indexOf(one));
    const shown = indices.map((index) => counts.degree[context][index]!);
    const wanted = indices.map((index) => targets.degree.shares[context][index]!);
    const all = sumOf(shown);
    return classes.map((one, index): Figure => ({
      name: `${context} ${one}`,
      shown: shown[index]! / all,
      wanted: wanted[index]! / sumOf(wanted),
      part: 1,
      movesWithChoice: opening.includes(context),
      change: (energies, by) => (energies.degree[context][one] += by),
    }));
  });
}

function signedFigures(counts: Counts): Figure[] {
  const all = sumOf(counts.signed);
  return Object.entries(targets.signedBarLine.shares).map(([step, wanted]) => ({
    name: `bar line ${step}`,
    shown: counts.signed[Number(step) + widest]! / all,
    wanted,
    part: 0.6,
    movesWithChoice: true,
    change: (energies, by) => (energies.signedBarLine[step as '-1'] += by),
  }));
}

/** Pairs seldomer than this are left to the rules. */
const leastPair = 0.0007;

function pairFigures(counts: Counts): Figure[] {
  const all = sumOf(counts.pairs);
  return targets.pairs.shares.flatMap((row, first) =>
    row.flatMap((cell, second) =>
      cell.flatMap((wanted, back): Figure[] =>
        wanted < leastPair
          ? []
          : [
              {
                name: `pair ${first} ${second} ${back === 1 ? 'back' : 'on'}`,
                shown: counts.pairs[(first * stepSizes + second) * 2 + back]! / all,
                wanted,
                part: 0.5,
                movesWithChoice: true,
                change: (energies, by) => (energies.pairs[first]![second]![back]! += by),
              },
            ],
      ),
    ),
  );
}

/** Sizes whose energies are those of their two directions. */
const signedSizes = [1, 2];

/**
 * All figures. Steps inside the bar have none of their own: pairs of steps hold them, and two families for the same thing
 * would pull each other apart.
 */
export const figuresOf = (counts: Counts): Figure[] => [
  ...degreeFigures(counts),
  ...bins(
    'over the bar line',
    counts.barLine,
    targets.intervalBarLine.shares,
    (energies) => energies.intervalBarLine,
    0.4,
  ).filter((_, bin) => !signedSizes.includes(bin)),
  ...signedFigures(counts),
  ...pairFigures(counts),
  ...bins(
    'register',
    counts.register,
    targets.register.shares,
    (energies) => energies.register.energies,
    // A line stays where it is for many notes: a little energy moves it far.
    0.4,
  ),
];
