// The costs of all moves between any two placements, in numbers.
//
// A table of some hundred thousand moves is made of few that differ: how long a stay has lasted costs nothing by itself, and
// where the thumb was matters to a move of a semitone at most. Each move is weighed once for all that are alike.
import { getOrMake } from '../../cache';
import { isOpenString, regionOf, regions, thumbOf, thumbPlace, type Placement } from '../../instrument';
import { stayOf } from '../3-candidates';
import { infinite, type MoveTable } from '../4-solver';
import type { CostModel } from './cost-model';
import {
  kindOfMove,
  ofThree,
  placeKey,
  sumOfThree,
  thumbFollows,
  type MoveContext,
  type MoveFeature,
} from './features';

/** Placements that are the same by some key, one of each, and the number of each placement among them. */
interface Classes {
  readonly one: readonly Placement[];
  readonly of: Int32Array;
}

function classesOf(placements: readonly Placement[], keyOf: (one: Placement) => number): Classes {
  const numbers = new Map<number, number>();
  const one: Placement[] = [];
  const of = Int32Array.from(placements, (placement) =>
    getOrMake(numbers, keyOf(placement), () => one.push(placement) - 1),
  );
  return { one, of };
}

/**
 * What some features cost between any two placements, row from, column to. Each is asked once for all placements that are
 * alike to it.
 */
function sumsBetween(
  features: readonly MoveFeature[],
  placements: readonly Placement[],
  context: MoveContext,
): Int32Array {
  const sums = new Int32Array(placements.length * placements.length);
  for (const feature of features) {
    const { one, of } = classesOf(placements, feature.looksAt ?? placeKey);
    const row = new Int32Array(one.length);
    for (const [number, from] of one.entries()) {
      for (let k = 0; k < row.length; k++) row[k] = ofThree(feature, context, from, one[k]!);
      if (row.every((amount) => amount === 0)) continue;
      for (let i = 0; i < placements.length; i++) {
        if (of[i] !== number) continue;
        const start = i * placements.length;
        for (let j = 0; j < placements.length; j++) sums[start + j]! += row[of[j]!]!;
      }
    }
  }
  return sums;
}

/**
 * All moves between placements that are told apart by where the thumb is, too: a move that is possible costs the same wherever
 * it is, pivots apart.
 */
function heldMoves(model: CostModel, placements: readonly Placement[], context: MoveContext): Int32Array {
  const count = placements.length;
  const { one: plain, of } = classesOf(placements, placeKey);
  const others = sumsBetween(
    model.move.filter(({ isByPositions }) => isByPositions !== true),
    plain,
    context,
  );
  const byPositions = model.move.filter(({ isByPositions }) => isByPositions === true);
  // With the thumb in its place nothing is a pivot: positions and what is open tell the kind of move.
  const { one: seats, of: seatOf } = classesOf(
    placements,
    (one) => one.position * 2 + (isOpenString(one) ? 1 : 0),
  );
  const ofShifts = sumsBetween(
    byPositions,
    seats.map(({ thumb: _, ...seat }) => seat),
    context,
  );
  const pivots = new Map<number, number>();
  const positions = Int32Array.from(placements, ({ position }) => position);
  const thumbs = Int32Array.from(placements, thumbPlace);
  const isOff = Uint8Array.from(placements, (one) => (thumbOf(one) === 0 ? 0 : 1));
  const costs = new Int32Array(count * count).fill(infinite);
  for (let i = 0; i < count; i++) {
    const from = placements[i]!;
    const row = of[i]! * plain.length;
    const seatRow = seatOf[i]! * seats.length;
    for (let j = 0; j < count; j++) {
      // A thumb off its place has kept its place.
      if (isOff[j] === 1 && thumbs[j] !== thumbs[i]) continue;
      const to = placements[j]!;
      const turned = Math.abs(positions[i]! - positions[j]!);
      // A hand that goes by more than a semitone takes its thumb along to its place.
      if (turned > 1 ? isOff[j] === 1 : !thumbFollows(context, from, to)) continue;
      const isPivot = turned === 1 && thumbs[i] === thumbs[j] && kindOfMove(context, from, to) === 'pivot';
      const ofPositions = isPivot
        ? getOrMake(pivots, from.position * 64 + to.position, () =>
            sumOfThree(byPositions, context, from, to),
          )
        : ofShifts[seatRow + seatOf[j]!]!;
      costs[i * count + j] = others[row + of[j]!]! + ofPositions;
    }
  }
  return costs;
}

/** All moves between any two placements. */
export function moveTable(
  model: CostModel,
  placements: readonly Placement[],
  context: MoveContext,
): MoveTable {
  if (!placements.some((placement) => stayOf(placement) > 0))
    return { costs: heldMoves(model, placements, context) };
  const { one: kinds, of: alike } = classesOf(placements, (one) => placeKey(one) * 4 + thumbOf(one) + 1);
  const moves = heldMoves(model, kinds, context);
  const costs = new Int32Array(moves.length + 1);
  costs.set(moves);
  costs[moves.length] = infinite;
  const count = Int32Array.from(placements, stayOf);
  const group = Int32Array.from(placements, ({ position }) => regions.indexOf(regionOf(position)));
  return { costs, counted: { alike, kinds: kinds.length, count, group } };
}
