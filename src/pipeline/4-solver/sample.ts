// Drawing a path with probability proportional to exp(-cost / temperature): forward filtering, backward sampling.
//
// The same two-step elimination as minimum.ts with sums of weights in place of minima of costs. Each slot's table is
// scaled by its largest entry; the scales cancel in every choice.
import { pitchOfPlacement, type Lattice, type LatticeSlot, type Path } from './lattice';
import { rowCount, turnRow } from './minimum';
import { boltzmann, scaleToOne, weightedLattice, type Weighted } from './weights';

/** Sum over m of weight(m, h) * turn(m, p(h), n): row h, column n, step weights included. */
function sumOutPitch(lattice: Lattice, weighted: Weighted, t: number, filtered: Float64Array): Float64Array {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const placements = slot.placements.length;
  const columns = next.pitches.length;
  const result = new Float64Array(placements * columns);
  const { turns } = weighted;
  for (let b = 0; b < slot.pitches.length; b++) {
    const steps = next.pitches.map((coordinate) => coordinate - slot.pitches[b]! + lattice.reach);
    for (let m = 0; m < rowCount(lattice, t); m++) {
      const row = turnRow(lattice, t, m, slot.pitches[b]!);
      for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
        const weight = filtered[m * placements + h]!;
        if (weight === 0) continue;
        for (let n = 0; n < columns; n++) {
          result[h * columns + n]! += row < 0 ? weight : weight * turns[row + steps[n]!]!;
        }
      }
    }
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      for (let n = 0; n < columns; n++) result[h * columns + n]! *= weighted.steps[t]![b * columns + n]!;
    }
  }
  return result;
}

/** Filtered weights of slot t + 1, row b (pitches of slot t), column h', scaled to a largest entry of 1. */
function sumOutPlacement(
  lattice: Lattice,
  weighted: Weighted,
  t: number,
  summed: Float64Array,
): Float64Array {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const columns = next.pitches.length;
  const width = next.placements.length;
  const moves = weighted.moves[t]!;
  const unary = weighted.unary[t + 1]!;
  const result = new Float64Array(slot.pitches.length * width);
  for (let b = 0; b < slot.pitches.length; b++) {
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      const moveRow = slot.placements[h]! * lattice.placementCount;
      for (let n = 0; n < columns; n++) {
        const weight = summed[h * columns + n]!;
        if (weight === 0) continue;
        for (let to = next.groupStart[n]!; to < next.groupStart[n + 1]!; to++) {
          result[b * width + to]! += weight * moves[moveRow + next.placements[to]!]!;
        }
      }
    }
    for (let to = 0; to < width; to++) result[b * width + to]! *= unary[to]!;
  }
  scaleToOne(result);
  return result;
}

/** Everything needed to draw any number of paths from one lattice at one temperature. */
export interface Sampler {
  /** Draws a path; `random` gives numbers from 0 up to 1. Null when no path has any weight. */
  draw(random: () => number): Path | null;
}

/** @param unit integer cost units to one natural unit @throws RangeError unless the temperature is above 0 */
export function makeSampler(lattice: Lattice, temperature: number, unit: number): Sampler {
  if (!(temperature > 0)) throw new RangeError('a temperature to draw at must be above 0');
  const weighted = weightedLattice(lattice, boltzmann(temperature, unit));
  const filtered: Float64Array[] = [Float64Array.from(weighted.unary[0]!)];
  for (let t = 0; t + 1 < lattice.slots.length; t++) {
    filtered.push(sumOutPlacement(lattice, weighted, t, sumOutPitch(lattice, weighted, t, filtered[t]!)));
  }
  return { draw: (random) => drawPath(lattice, weighted, filtered, random) };
}

/** Draws an index with probability proportional to its weight; -1 when all are 0. */
function drawIndex(count: number, weightOf: (index: number) => number, random: () => number): number {
  let total = 0;
  for (let index = 0; index < count; index++) total += weightOf(index);
  if (!(total > 0)) return -1;
  let rest = random() * total;
  let last = -1;
  for (let index = 0; index < count; index++) {
    const weight = weightOf(index);
    if (weight === 0) continue;
    last = index;
    rest -= weight;
    if (rest < 0) return index;
  }
  return last;
}

function drawPath(
  lattice: Lattice,
  weighted: Weighted,
  filtered: readonly Float64Array[],
  random: () => number,
): Path | null {
  const last = lattice.slots.length - 1;
  const path = new Int32Array(last + 1);
  const final = drawIndex(filtered[last]!.length, (index) => filtered[last]![index]!, random);
  if (final < 0) return null;
  const lastWidth = lattice.slots[last]!.placements.length;
  path[last] = final % lastWidth;
  let before = Math.floor(final / lastWidth);
  for (let t = last - 1; t >= 0; t--) {
    const slot: LatticeSlot = lattice.slots[t]!;
    const next = lattice.slots[t + 1]!;
    const width = slot.placements.length;
    const start = slot.groupStart[before]!;
    const to = next.placements[path[t + 1]!]!;
    const coordinate = slot.pitches[before]!;
    const second = next.pitches[pitchOfPlacement(next)[path[t + 1]!]!]! - coordinate + lattice.reach;
    // The weight of each (m, h) that can stand before what has been drawn; the step weight is common to all of them.
    const turns = Float64Array.from({ length: rowCount(lattice, t) }, (_, m) => {
      const row = turnRow(lattice, t, m, coordinate);
      return row < 0 ? 1 : weighted.turns[row + second]!;
    });
    const weightOf = (m: number, h: number): number => filtered[t]![m * width + h]! * turns[m]!;
    const h =
      start +
      drawIndex(
        slot.groupStart[before + 1]! - start,
        (index) => {
          const move = weighted.moves[t]![slot.placements[start + index]! * lattice.placementCount + to]!;
          return move * turns.reduce((sum, _turn, m) => sum + weightOf(m, start + index), 0);
        },
        random,
      );
    path[t] = h;
    before = drawIndex(turns.length, (m) => weightOf(m, h), random);
  }
  return path;
}
