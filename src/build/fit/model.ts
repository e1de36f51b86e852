// The melody and harmony terms as energies that can be changed: the costs of a lattice's pitches, steps and turns taken
// from them. The terms are those of src/pipeline/5-line/features; `differenceFrom` says how far the two are apart.
import type music from '../../../shared/weights/music.json';
import type { SoundingMidi } from '../../music';
import type { Slot } from '../../pipeline/2-timeline';
import type { Lattice } from '../../pipeline/4-solver';
import { degreeContext, leadsIntoTarget, toneClass } from '../../pipeline/5-line/features';
import type { Setting } from '../../pipeline/setting';

export type Weights = typeof music;

const milli = 1000;

/** Costs in natural units, laid out as in a lattice. */
export interface MusicCosts {
  readonly pitch: readonly Float64Array[];
  readonly step: readonly Float64Array[];
  readonly turn: Float64Array;
}

const at = (energies: readonly number[], index: number): number =>
  energies[Math.min(Math.max(index, 0), energies.length - 1)]!;

/** Bin of an array whose last entry stands for all that is larger. */
export const binOf = (size: number, bins: number): number => Math.min(size, bins - 1);

export const registerBin = ({ register }: Weights, midi: number): number =>
  binOf(Math.max(0, Math.floor((midi - register.from) / register.bin)), register.energies.length);

function pitchEnergy(weights: Weights, slot: Slot, midi: SoundingMidi): number {
  const degree = weights.degree[degreeContext(slot)][toneClass(slot.harmony, midi)];
  return degree + weights.register.energies[registerBin(weights, midi)]!;
}

function stepEnergy(weights: Weights, slot: Slot, from: SoundingMidi, to: SoundingMidi): number {
  const leads = leadsIntoTarget(slot);
  const step = to - from;
  const interval = at(leads ? weights.intervalBarLine : weights.intervalInBar, Math.abs(step));
  const signed = weights.signedBarLine as Readonly<Record<string, number>>;
  const approach = leads ? (signed[step > 0 ? `+${step}` : `${step}`] ?? 0) : 0;
  const hanging = Math.abs(step) !== 1 && toneClass(slot.harmony, from) === 'chrom';
  return interval + approach + (hanging ? weights.leftHanging.energy : 0);
}

/** Which of the turn terms apply to two steps in a row. */
export function turnKinds(weights: Weights, first: number, second: number) {
  const { leapReverses, twoSkipsOneWay } = weights;
  const turns = first * second < 0;
  return {
    directionChange: turns,
    leap: Math.abs(first) >= leapReverses.least,
    leapReverses: turns && Math.abs(first) >= leapReverses.least,
    skip: Math.abs(first) >= twoSkipsOneWay.least,
    twoSkipsOneWay:
      first * second > 0 &&
      Math.abs(first) >= twoSkipsOneWay.least &&
      Math.abs(second) >= twoSkipsOneWay.least,
    turnBack: first !== 0 && first + second === 0,
  };
}

function turnEnergy(weights: Weights, first: number, second: number): number {
  const kinds = turnKinds(weights, first, second);
  return (
    (kinds.directionChange ? weights.directionChange : 0) +
    (kinds.leapReverses ? weights.leapReverses.energy : 0) +
    (kinds.twoSkipsOneWay ? weights.twoSkipsOneWay.energy : 0) +
    (kinds.turnBack ? weights.turnBack : 0)
  );
}

/** All costs of pitches, steps and turns of a setting under some weights. */
export function musicCosts({ candidates, lattice }: Setting, weights: Weights): MusicCosts {
  const { reach } = lattice;
  const width = 2 * reach + 1;
  return {
    pitch: candidates.map(({ slot, pitches }) =>
      Float64Array.from(pitches, (midi) => pitchEnergy(weights, slot, midi)),
    ),
    step: candidates.map(({ slot, pitches }, t) =>
      Float64Array.from(
        pitches.flatMap((from) =>
          (candidates[t + 1]?.pitches ?? []).map((to) => stepEnergy(weights, slot, from, to)),
        ),
      ),
    ),
    turn: Float64Array.from({ length: width * width }, (_, index) =>
      turnEnergy(weights, Math.floor(index / width) - reach, (index % width) - reach),
    ),
  };
}

/** Largest difference between these costs and those that the program puts into its lattice, in natural units. */
export function differenceFrom(lattice: Lattice, costs: MusicCosts): number {
  let largest = 0;
  const compare = (own: ArrayLike<number>, theirs: ArrayLike<number>): void => {
    for (let index = 0; index < theirs.length; index++) {
      largest = Math.max(largest, Math.abs(own[index]! - theirs[index]! / milli));
    }
  };
  lattice.slots.forEach((slot, t) => {
    compare(costs.pitch[t]!, slot.pitchCosts);
    compare(costs.step[t]!, slot.stepCosts);
  });
  compare(costs.turn, lattice.turnCosts);
  return largest;
}
