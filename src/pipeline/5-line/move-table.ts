// The costs of all moves between any two placements, in numbers.
//
// A table of some hundred thousand moves is made of few that differ: how long a stay has lasted costs nothing by itself, and
// where the thumb was matters to a move of a semitone at most. Each move is weighed once for all that are alike.
import { regionOf, regions, thumbOf, thumbPlace, type Placement } from '../../instrument';
import { getOrMake, stayGoesOn, stayOf } from '../3-candidates';
import { infinite, type MoveTable } from '../4-solver';
import type { CostModel } from './cost-model';
import { kindOfMove, sumOfThree, thumbFollows, type MoveContext } from './features';
import { moveKinds } from './types';

/** Not worked out yet. */
const unknown = -0x80000000;

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

const fingerOrder = '01234T';
const frameOrder = ['open', 'closed', 'extended', 'thumb'];
/** Positions and stops go from some semitones below the nut to 31 above it. */
const below = 32;

/** Everything about a placement but the thumb and how long a stay has lasted, as a number. */
const plainKey = ({ string, stop, finger, frame, position }: Placement): number =>
  [stop + below, fingerOrder.indexOf(finger), frameOrder.indexOf(frame), position + below].reduce(
    (key, part) => key * 128 + part,
    string,
  );

/** What the positions of a move cost, worked out once for all moves that are alike in them. */
function positionCosts(model: CostModel, context: MoveContext): (from: Placement, to: Placement) => number {
  const features = model.move.filter(({ isByPositions }) => isByPositions === true);
  const known = new Int32Array(moveKinds.length * 2 * 64 * 64).fill(unknown);
  return (from, to) => {
    const kind = moveKinds.indexOf(kindOfMove(context, from, to)) * 2 + (to.finger === '0' ? 1 : 0);
    const at = (kind * 64 + from.position + below) * 64 + to.position + below;
    const found = known[at]!;
    if (found !== unknown) return found;
    return (known[at] = sumOfThree(features, context, from, to));
  };
}

/**
 * All moves between placements that are told apart by where the thumb is, too: a move that is possible costs the same wherever
 * it is, pivots apart.
 */
function heldMoves(model: CostModel, placements: readonly Placement[], context: MoveContext): Int32Array {
  const count = placements.length;
  const { one: plain, of } = classesOf(placements, plainKey);
  const ofPositions = positionCosts(model, context);
  const others = model.move.filter(({ isByPositions }) => isByPositions !== true);
  const moved = new Int32Array(plain.length * plain.length).fill(unknown);
  const pivots = new Int32Array(plain.length * plain.length).fill(unknown);
  const positions = Int32Array.from(placements, ({ position }) => position);
  const thumbs = Int32Array.from(placements, thumbPlace);
  const isOff = Uint8Array.from(placements, (one) => (thumbOf(one) === 0 ? 0 : 1));
  const costs = new Int32Array(count * count).fill(infinite);
  for (let i = 0; i < count; i++) {
    const from = placements[i]!;
    const row = of[i]! * plain.length;
    for (let j = 0; j < count; j++) {
      // A thumb off its place has kept its place.
      if (thumbs[j] !== positions[j] && thumbs[j] !== thumbs[i]) continue;
      const to = placements[j]!;
      const turned = Math.abs(positions[i]! - positions[j]!);
      // A hand that goes by more than a semitone takes its thumb along to its place.
      if (turned > 1 ? isOff[j] === 1 : !thumbFollows(context, from, to)) continue;
      const turns = turned === 1 && thumbs[i] === thumbs[j] && kindOfMove(context, from, to) === 'pivot';
      const known = turns ? pivots : moved;
      const at = row + of[j]!;
      if (known[at] === unknown) known[at] = sumOfThree(others, context, from, to) + ofPositions(from, to);
      costs[i * count + j] = known[at]!;
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
  const held = classesOf(placements, (one) => plainKey(one) * 4 + thumbOf(one));
  const moves = heldMoves(model, held.one, context);
  const count = placements.length;
  const costs = new Int32Array(count * count);
  // Whether a stay goes on depends on little: the count of notes and the region.
  const { one: stays, of } = classesOf(
    placements,
    (one) => stayOf(one) * 8 + regions.indexOf(regionOf(one.position)),
  );
  const goesOn = stays.map((from) => Uint8Array.from(stays, (to) => (stayGoesOn(from, to) ? 1 : 0)));
  let index = 0;
  for (let i = 0; i < count; i++) {
    const onward = goesOn[of[i]!]!;
    const row = held.of[i]! * held.one.length;
    for (let j = 0; j < count; j++)
      costs[index++] = onward[of[j]!] === 1 ? moves[row + held.of[j]!]! : infinite;
  }
  return { costs, counted: { alike: held.of, count: Int32Array.from(placements, stayOf) } };
}
