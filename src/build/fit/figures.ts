// The figures that the energies are fitted to, as expectations over all lines of all charts.
import targets from '../../../shared/weights/targets.json' with { type: 'json' };
import {
  degreeContext,
  degreeContexts,
  toneClass,
  toneClasses,
  type DegreeContext,
} from '../../pipeline/5-line/features';
import type { Setting } from '../../pipeline/setting';
import { visitTriples } from './marginals';
import { binOf, musicCosts, registerBin, turnKinds, type Weights } from './model';

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
  readonly turns: {
    all: number;
    directionChange: number;
    leap: number;
    leapReverses: number;
    skip: number;
    twoSkipsOneWay: number;
    turnBack: number;
  };
}

export const emptyCounts = (weights: Weights): Counts => ({
  degree: Object.fromEntries(
    degreeContexts.map((context) => [context, new Float64Array(toneClasses.length)]),
  ) as Record<DegreeContext, Float64Array>,
  inBar: new Float64Array(intervalBins),
  barLine: new Float64Array(intervalBins),
  signed: new Float64Array(2 * widest + 1),
  register: new Float64Array(weights.register.energies.length),
  turns: {
    all: 0,
    directionChange: 0,
    leap: 0,
    leapReverses: 0,
    skip: 0,
    twoSkipsOneWay: 0,
    turnBack: 0,
  },
});

/** A chart ready to be counted over and over. */
export interface Prepared {
  readonly setting: Setting;
  readonly moves: readonly Float64Array[];
}

/** Steps of two moves in a row, as one number. */
const pair = (first: number, second: number): number => (first + widest) * (2 * widest + 1) + second + widest;

function addTurns(counts: Counts, weights: Weights, pairs: Float64Array): void {
  pairs.forEach((probability, index) => {
    if (probability === 0) return;
    const first = Math.floor(index / (2 * widest + 1)) - widest;
    const kinds = turnKinds(weights, first, (index % (2 * widest + 1)) - widest);
    counts.turns.all += probability;
    for (const kind of Object.keys(kinds) as (keyof typeof kinds)[]) {
      if (kinds[kind]) counts.turns[kind] += probability;
    }
  });
}

/** Adds the expected counts of one chart. The return to the top is no note of the line and is left out. */
export function addCounts(
  counts: Counts,
  { setting, moves }: Prepared,
  weights: Weights,
  temperature: number,
): void {
  const { candidates, lattice } = setting;
  const lastNote = candidates.length - 2;
  const pairs = new Float64Array((2 * widest + 1) ** 2);
  visitTriples(lattice, musicCosts(setting, weights), moves, temperature, (t, b, triples) => {
    const { slot, pitches } = candidates[t]!;
    const before = candidates[t - 1]?.pitches;
    const next = candidates[t + 1]!.pitches;
    const here = pitches[b]!;
    const all = sumOf(triples);
    counts.degree[degreeContext(slot)][toneClasses.indexOf(toneClass(slot.harmony, here))]! += all;
    counts.register[registerBin(weights, here)]! += all;
    if (t === lastNote) return;
    triples.forEach((probability, index) => {
      const second = next[index % next.length]! - here;
      const bin = binOf(Math.abs(second), intervalBins);
      if (slot.nextIsDownbeat) {
        counts.barLine[bin]! += probability;
        counts.signed[second + widest]! += probability;
      } else {
        counts.inBar[bin]! += probability;
      }
      if (before) pairs[pair(here - before[Math.floor(index / next.length)]!, second)]! += probability;
    });
  });
  addTurns(counts, weights, pairs);
}

/** A family of figures: what the model shows and what was measured, and the energy of each to be changed. */
export interface Figure {
  readonly name: string;
  readonly shown: number;
  readonly wanted: number;
  /** Share of the change that its energy takes: figures that overlap take part of it each. */
  readonly part: number;
  /** A share of one of two outcomes rather than of many bins. */
  readonly binary: boolean;
  change(weights: Weights, by: number): void;
}

function bins(
  name: string,
  shown: ArrayLike<number>,
  wanted: readonly number[],
  energiesOf: (weights: Weights) => number[],
  part = 1,
): Figure[] {
  const all = sumOf(shown);
  return wanted.map((share, bin) => ({
    name: `${name} ${bin}`,
    shown: shown[bin]! / all,
    wanted: share / sumOf(wanted),
    part,
    binary: false,
    change: (weights, by) => (energiesOf(weights)[bin]! += by),
  }));
}

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
      binary: false,
      change: (weights, by) => (weights.degree[context][one] += by),
    }));
  });
}

function signedFigures(counts: Counts): Figure[] {
  const all = sumOf(counts.signed);
  return Object.entries(targets.signedBarLine.shares).map(([step, wanted]) => ({
    name: `bar line ${step}`,
    shown: counts.signed[Number(step) + widest]! / all,
    wanted,
    part: 0.5,
    binary: false,
    change: (weights, by) => (weights.signedBarLine[step as '-1'] += by),
  }));
}

function turnFigures({ turns }: Counts): Figure[] {
  const figure = (
    name: string,
    shown: number,
    wanted: number,
    change: Figure['change'],
    part = 1,
  ): Figure => ({ name, shown, wanted, part, binary: true, change });
  return [
    figure(
      'change of direction',
      turns.directionChange / turns.all,
      targets.turns.directionChange,
      (weights, by) => (weights.directionChange += by),
    ),
    figure(
      'leap turned back',
      turns.leapReverses / turns.leap,
      targets.turns.leapReverses.share,
      (weights, by) => (weights.leapReverses.energy += by),
    ),
    figure(
      'two skips one way',
      turns.twoSkipsOneWay / turns.skip,
      targets.turns.twoSkipsOneWay.share,
      (weights, by) => (weights.twoSkipsOneWay.energy += by),
    ),
    figure(
      'there and back',
      turns.turnBack / turns.all,
      targets.turns.turnBack,
      (weights, by) => (weights.turnBack += by),
    ),
  ];
}

/** All figures. */
export const figuresOf = (counts: Counts): Figure[] => [
  ...degreeFigures(counts),
  ...bins('in the bar', counts.inBar, targets.intervalInBar.shares, (weights) => weights.intervalInBar),
  ...bins(
    'over the bar line',
    counts.barLine,
    targets.intervalBarLine.shares,
    (weights) => weights.intervalBarLine,
    0.5,
  ),
  ...signedFigures(counts),
  ...turnFigures(counts),
  ...bins(
    'register',
    counts.register,
    targets.register.shares,
    (weights) => weights.register.energies,
    // A line stays where it is for many notes: a little energy moves it far.
    0.4,
  ),
];
