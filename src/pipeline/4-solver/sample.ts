// Drawing a path with probability proportional to exp(-cost / temperature): forward filtering, backward sampling.
//
// The two-step elimination of minimum.ts with sums of weights in place of minima of costs. Each slot's table is scaled by
// its largest entry and its entries are rounded to 26 bits; the scales cancel in every choice, and the rounding moves no
// probability by more than 1e-8. Rounded tables become equal some slots after an edit, so a chain can take the rest over.
import { Chain, type Recursion } from './chain';
import { keptOf, matchSlots } from './kept';
import { pitchOfPlacement, type Lattice, type Path } from './lattice';
import { rowCount, stateCount, turnStarts } from './minimum';
import { scaleToOne, Weights } from './weights';

/** Weight of all paths up to each state of one slot: row m, column h. */
export type Filtered = Float64Array;

/** Weights of going on through pitch b of slot t: row n, column m, step and turn. One column at slot 0. */
function onward(lattice: Lattice, weights: Weights, t: number, b: number): Float64Array {
  const { pitches: targets } = lattice.slots[t + 1]!;
  const { steps } = weights.ofSlot(lattice.slots[t]!);
  const turnWeights = weights.ofTable(lattice.turnCosts);
  const turns = turnStarts(lattice, t, b);
  const rows = rowCount(lattice, t);
  const result = new Float64Array(targets.length * rows);
  for (let n = 0; n < targets.length; n++) {
    const step = steps[b * targets.length + n]!;
    for (let m = 0; m < rows; m++) {
      result[n * rows + m] = t === 0 ? step : step * turnWeights[turns[m]! + targets[n]!]!;
    }
  }
  return result;
}

/** Sum over m of the filtered weight times the way on: row h, column n. Pitches to come are taken two at a time. */
function sumOutPitch(lattice: Lattice, weights: Weights, t: number, filtered: Filtered): Float64Array {
  const slot = lattice.slots[t]!;
  const placements = slot.placements.length;
  const columns = lattice.slots[t + 1]!.pitches.length;
  const rows = rowCount(lattice, t);
  const result = new Float64Array(placements * columns);
  const column = new Float64Array(rows);
  for (let b = 0; b < slot.pitches.length; b++) {
    const ways = onward(lattice, weights, t, b);
    for (let h = slot.groupStart[b]!; h < slot.groupStart[b + 1]!; h++) {
      for (let m = 0; m < rows; m++) column[m] = filtered[m * placements + h]!;
      for (let n = 0; n < columns; n += 2) {
        const other = Math.min(n + 1, columns - 1);
        let sum = 0;
        let otherSum = 0;
        for (let m = 0; m < rows; m++) {
          const weight = column[m]!;
          sum += weight * ways[n * rows + m]!;
          otherSum += weight * ways[other * rows + m]!;
        }
        result[h * columns + n] = sum;
        result[h * columns + other] = otherSum;
      }
    }
  }
  return result;
}

/** Filtered weights of slot t + 1: row b (pitches of slot t), column h'. Placements are taken two at a time. */
function sumOutPlacement(lattice: Lattice, weights: Weights, t: number, summed: Float64Array): Filtered {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const columns = next.pitches.length;
  const { placements: targets, groupStart } = next;
  const width = targets.length;
  const moves = weights.ofTable(slot.moves.costs);
  const { unary } = weights.ofSlot(next);
  const result = new Float64Array(slot.pitches.length * width);
  for (let b = 0; b < slot.pitches.length; b++) {
    const out = b * width;
    const groupEnd = slot.groupStart[b + 1]!;
    for (let h = slot.groupStart[b]!; h < groupEnd; h += 2) {
      const hasOther = h + 1 < groupEnd;
      const other = hasOther ? h + 1 : h;
      const row = slot.placements[h]! * lattice.placementCount;
      const otherRow = slot.placements[other]! * lattice.placementCount;
      for (let n = 0; n < columns; n++) {
        const weight = summed[h * columns + n]!;
        const otherWeight = hasOther ? summed[other * columns + n]! : 0;
        const end = groupStart[n + 1]!;
        for (let to = groupStart[n]!; to < end; to++) {
          const target = targets[to]!;
          result[out + to]! += weight * moves[row + target]! + otherWeight * moves[otherRow + target]!;
        }
      }
    }
    for (let to = 0; to < width; to++) result[out + to]! *= unary[to]!;
  }
  scaleToOne(result);
  roundAll(result);
  return result;
}

/** 2^27 + 1: the product with it, less what it grew by, keeps the upper 26 bits of a number (Veltkamp's splitting). */
const splitter = 134_217_729;

function roundAll(values: Float64Array): void {
  for (let index = 0; index < values.length; index++) {
    const product = splitter * values[index]!;
    values[index] = product - (product - values[index]!);
  }
}

/** The weights kept from the lattice before where they are at the same temperature, else new ones. */
export function weightsFor(lattice: Lattice, temperature: number, unit: number): Weights {
  const kept = keptOf(lattice);
  const before = kept?.weights;
  if (before?.temperature === temperature && before.unit === unit) return before;
  const made = new Weights(temperature, unit);
  if (kept) kept.weights ??= made;
  return made;
}

/** Makes these weights, and no more of them than the lattice needs, those that are kept. */
function keepWeights(lattice: Lattice, weights: Weights): void {
  const kept = keptOf(lattice);
  if (!kept) return;
  if (kept.weights !== weights) kept.filtered = null;
  kept.weights = weights;
  weights.keepOnly(lattice.slots, lattice.turnCosts);
}

function filteredWeights(lattice: Lattice, weights: Weights): Chain<Filtered> {
  const { slots } = lattice;
  const kept = keptOf(lattice);
  const recursion: Recursion<Filtered> = {
    length: slots.length,
    first: () => weights.ofSlot(slots[0]!).unary,
    next: (t, filtered) => sumOutPlacement(lattice, weights, t, sumOutPitch(lattice, weights, t, filtered)),
    isSame: (a, b) => a.length === b.length && a.every((weight, state) => weight === b[state]),
    bytesAt: (t) => stateCount(lattice, t) * Float64Array.BYTES_PER_ELEMENT,
  };
  const before = kept?.filtered;
  const earlier = before && { chain: before.chain, match: matchSlots(before.lattice, lattice) };
  const chain = new Chain(recursion, earlier, (done) => kept?.watch('filter', done));
  if (kept) kept.filtered = { lattice, chain };
  return chain;
}

/** Everything needed to draw any number of paths from one lattice at one temperature. */
export interface Sampler {
  /** Draws a path; `random` gives numbers from 0 up to 1. Null when no path has any weight. */
  draw(random: () => number): Path | null;
}

/**
 * @param unit integer cost units to one natural unit
 * @param weights at that temperature, where there are some already
 * @throws RangeError unless the temperature is above 0
 */
export function makeSampler(lattice: Lattice, temperature: number, unit: number, weights?: Weights): Sampler {
  if (!(temperature > 0)) throw new RangeError('a temperature to draw at must be above 0');
  const used = weights ?? weightsFor(lattice, temperature, unit);
  keepWeights(lattice, used);
  const filtered = filteredWeights(lattice, used);
  return { draw: (random) => drawPath(lattice, used, filtered, random) };
}

/** Draws an index with probability proportional to its weight; -1 when all are 0. */
function drawIndex(weights: Float64Array, random: () => number): number {
  let total = 0;
  for (const weight of weights) total += weight;
  if (!(total > 0)) return -1;
  let rest = random() * total;
  let last = -1;
  for (let index = 0; index < weights.length; index++) {
    const weight = weights[index]!;
    if (weight === 0) continue;
    last = index;
    rest -= weight;
    if (rest < 0) return index;
  }
  return last;
}

function drawPath(
  lattice: Lattice,
  weights: Weights,
  filtered: Chain<Filtered>,
  random: () => number,
): Path | null {
  const { slots } = lattice;
  const last = slots.length - 1;
  const path = new Int32Array(last + 1);
  const final = drawIndex(filtered.at(last), random);
  if (final < 0) return null;
  const lastWidth = slots[last]!.placements.length;
  path[last] = final % lastWidth;
  let b = Math.floor(final / lastWidth);
  for (let t = last - 1; t >= 0; t--) {
    const drawn = drawBefore(lattice, weights, t, filtered.at(t), b, path[t + 1]!, random);
    path[t] = drawn.placement;
    b = drawn.before;
    keptOf(lattice)?.watch('path', 1 - t / last);
  }
  return path;
}

/** Draws the state (m, h) of slot t that stands before pitch b and placement `to` of slot t + 1: h first, then m. */
function drawBefore(
  lattice: Lattice,
  weights: Weights,
  t: number,
  filtered: Filtered,
  b: number,
  to: number,
  random: () => number,
): { readonly placement: number; readonly before: number } {
  const slot = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const width = slot.placements.length;
  const start = slot.groupStart[b]!;
  const target = next.placements[to]!;
  const coordinate = next.pitches[pitchOfPlacement(next)[to]!]!;
  const turnWeights = weights.ofTable(lattice.turnCosts);
  const moves = weights.ofTable(slot.moves.costs);
  // The step weight is common to all of them.
  const turns =
    t === 0
      ? Float64Array.of(1)
      : Float64Array.from(turnStarts(lattice, t, b), (turn) => turnWeights[turn + coordinate]!);
  const rowsOf = (h: number): Float64Array => turns.map((turn, m) => turn * filtered[m * width + h]!);
  const byPlacement = new Float64Array(slot.groupStart[b + 1]! - start).map((_, index) => {
    const move = moves[slot.placements[start + index]! * lattice.placementCount + target]!;
    return move * rowsOf(start + index).reduce((sum, weight) => sum + weight, 0);
  });
  const placement = start + drawIndex(byPlacement, random);
  return { placement, before: drawIndex(rowsOf(placement), random) };
}
