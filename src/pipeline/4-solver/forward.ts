// The least cost of every way into a state, by exact min-sum elimination (dynamic programming in two steps):
//
//   G_t(h, n)       = R_t(p(h), n) + min over m of  F_t(m, h) + S(p(h) - m, n - p(h))
//   F_{t+1}(b, h')  = A(h') + B(h') + min over h with pitch b of  G_t(h, p(h')) + V_t(h, h')
//
// which costs |H| |P|^2 + |H|^2 a slot instead of |P| |H|^2.
//
// Left out, exactly. All that follows a state (b, h') sees of b is one turn, and two turns differ by at most
//
//   spread = max S - min S.
//
// So a state with F_{t+1}(b, h') > spread + min over c of F_{t+1}(c, h') is worse than the state with that c, whatever
// follows: no best path goes through it, nor any best path through h'. Such states are blocked, and equal ones kept, so
// that optimum, prices, paths and ties are those of the whole table. Most need not even be computed, since for n = p(h')
//
//   F_{t+1}(b, h') - A(h') - B(h')  >=  min V_t + min over h with pitch b of G_t(h, n)
//                                   >=  min V_t + R_t(b, n) + min S + min over m and h with pitch b of F_t(m, h).
//
// For each n the b are taken by rising values of the last bound. The first that is more than the spread above what every
// h' with pitch n has already ends the search; before that, the first bound tells which h' it can still be of use to.
// What is blocked depends on the sums alone, not on the order in which they are found.
import { Chain, type Recursion } from './chain';
import { keptOf, matchSlots, stepNumbers } from './kept';
import { barrier, infinite, type Lattice } from './lattice';
import { isSameSums, lesser, levelled, sortByBound, type Range, type Sums } from './sums';
import { leastMove, rowCount, stateCount, turnRange, turnStarts, unaryCosts } from './sums';

/** Room for what a step needs while it runs, for the widest slot of a lattice; taken once, used at every step. */
class Workspace {
  /** States that are not blocked, placement by placement: those of h are from start[h] to start[h + 1]. */
  readonly start: Int32Array;
  /** F_t of each of them. */
  readonly sums: Int32Array;
  /** Where the turn costs of each begin; see `turnStarts`. */
  readonly turns: Int32Array;
  /** The least of F_t over m and the h of one pitch, by pitch. */
  readonly leastOf: Int32Array;
  /** By b, for one n: the bound on what comes from b, and all b by rising bound. */
  readonly bounds: Int32Array;
  readonly order: Int32Array;
  /** G_t(h, n) for one n and the h of one b. */
  readonly ways: Int32Array;
  /** The h' with pitch n that one b can be of use to. */
  readonly served: Int32Array;
  /** By h': the least sum so far, whichever its b; the highest that is kept; what makes a sum an entry of F_{t+1}. */
  readonly least: Int32Array;
  readonly highest: Int32Array;
  readonly shift: Int32Array;
  /** In place of the turn costs at slot 0, where there are no turns. */
  readonly noTurns: Int32Array;

  constructor({ slots, turnCosts }: Lattice) {
    const placements = slots.reduce((most, slot) => Math.max(most, slot.placements.length), 0);
    const pitches = slots.reduce((most, slot) => Math.max(most, slot.pitches.length), 0);
    this.start = new Int32Array(placements + 1);
    this.sums = new Int32Array(placements * pitches);
    this.turns = new Int32Array(placements * pitches);
    this.leastOf = new Int32Array(pitches);
    this.bounds = new Int32Array(pitches);
    this.order = new Int32Array(pitches);
    this.ways = new Int32Array(placements);
    this.served = new Int32Array(placements);
    this.least = new Int32Array(placements);
    this.highest = new Int32Array(placements);
    this.shift = new Int32Array(placements);
    this.noTurns = new Int32Array(turnCosts.length);
  }
}

/** Lists the states of slot t that are not blocked. */
function listStates(lattice: Lattice, t: number, forward: Sums, work: Workspace): void {
  const { pitches, placements, groupStart } = lattice.slots[t]!;
  const { start, sums, turns, leastOf } = work;
  const width = placements.length;
  const rows = rowCount(lattice, t);
  const limit = barrier;
  let count = 0;
  for (let b = 0; b < pitches.length; b++) {
    const starts = turnStarts(lattice, t, b);
    let least: number = infinite;
    for (let h = groupStart[b]!; h < groupStart[b + 1]!; h++) {
      for (let m = 0; m < rows; m++) {
        const sum = forward[m * width + h]!;
        if (sum >= limit) continue;
        sums[count] = sum;
        turns[count] = t === 0 ? -pitches[b]! + lattice.reach : starts[m]!;
        if (sum < least) least = sum;
        count++;
      }
      start[h + 1] = count;
    }
    leastOf[b] = least;
  }
}

/** Fills in G_t(h, n) for the h of pitch b. @returns the least of them */
function eliminatePitch(lattice: Lattice, t: number, b: number, n: number, work: Workspace): number {
  const { groupStart, stepCosts } = lattice.slots[t]!;
  const { pitches: targets } = lattice.slots[t + 1]!;
  const { start, sums, turns, ways } = work;
  const turnCosts = t === 0 ? work.noTurns : lattice.turnCosts;
  const target = targets[n]!;
  const stepCost = stepCosts[b * targets.length + n]!;
  const limit = barrier;
  const blocked = infinite;
  const end = groupStart[b + 1]!;
  let least = blocked;
  let state = start[groupStart[b]!]!;
  for (let h = groupStart[b]!; h < end; h++) {
    let way = blocked;
    for (const last = start[h + 1]!; state < last; state++) {
      way = lesser(way, (sums[state]! + turnCosts[turns[state]! + target]!) | 0);
    }
    way = (way + stepCost) | 0;
    ways[h] = way >= limit ? blocked : way;
    least = lesser(least, ways[h]!);
  }
  return least;
}

/** Lowers the sums of row b of F_{t+1} at the first `count` of the h' that are served by the h of pitch b. */
function eliminatePlacement(
  lattice: Lattice,
  t: number,
  b: number,
  count: number,
  work: Workspace,
  result: Sums,
): void {
  const { placementCount } = lattice;
  const { placements, groupStart, moves } = lattice.slots[t]!;
  const { placements: targets } = lattice.slots[t + 1]!;
  const { costs } = moves;
  const { ways, served } = work;
  const out = b * targets.length;
  const last = groupStart[b + 1]! - 1;
  // Four h a round, so that h' are looked up once; at the end the last one stands in for those that are missing.
  for (let h = groupStart[b]!; h <= last; h += 4) {
    const h1 = Math.min(h + 1, last);
    const h2 = Math.min(h + 2, last);
    const h3 = Math.min(h + 3, last);
    const way0 = ways[h]!;
    const way1 = ways[h1]!;
    const way2 = ways[h2]!;
    const way3 = ways[h3]!;
    const row0 = placements[h]! * placementCount;
    const row1 = placements[h1]! * placementCount;
    const row2 = placements[h2]! * placementCount;
    const row3 = placements[h3]! * placementCount;
    for (let index = 0; index < count; index++) {
      const to = served[index]!;
      const target = targets[to]!;
      const sum = lesser(
        lesser((way0 + costs[row0 + target]!) | 0, (way1 + costs[row1 + target]!) | 0),
        lesser((way2 + costs[row2 + target]!) | 0, (way3 + costs[row3 + target]!) | 0),
      );
      result[out + to] = lesser(result[out + to]!, sum);
    }
  }
}

/** Blocks what is left out, adds A + B to the rest, and takes off the least entry. */
function settle(lattice: Lattice, t: number, spread: number, work: Workspace, result: Sums): Sums {
  const { least, highest, shift } = work;
  const unary = unaryCosts(lattice.slots[t + 1]!);
  const width = unary.length;
  const limit = barrier;
  const blocked = infinite;
  let lowest = limit;
  for (let to = 0; to < width; to++) lowest = lesser(lowest, (least[to]! + unary[to]!) | 0);
  for (let to = 0; to < width; to++) {
    const isOpen = unary[to]! < limit && least[to]! < limit;
    highest[to] = isOpen ? lesser(limit - 1, (least[to]! + spread) | 0) : -blocked;
    shift[to] = unary[to]! - lowest;
  }
  for (let row = 0; row < result.length; row += width) {
    for (let to = 0; to < width; to++) {
      const sum = result[row + to]!;
      result[row + to] = sum > highest[to]! ? blocked : sum + shift[to]!;
    }
  }
  return result;
}

/** F_{t+1} from F_t. */
function step(lattice: Lattice, t: number, forward: Sums, turn: Range, work: Workspace): Sums {
  const { pitches, stepCosts, moves } = lattice.slots[t]!;
  const { pitches: targets, placements, groupStart } = lattice.slots[t + 1]!;
  const { leastOf, bounds, served, least } = work;
  const [rows, columns, width] = [pitches.length, targets.length, placements.length];
  const leastOn = leastMove(moves) + (t === 0 ? 0 : turn.lowest);
  const limit = barrier;
  const result = new Int32Array(rows * width).fill(infinite);
  listStates(lattice, t, forward, work);
  least.fill(infinite);
  const order = work.order.subarray(0, rows);
  for (let b = 0; b < rows; b++) order[b] = b;
  for (let n = 0; n < columns; n++) {
    const first = groupStart[n]!;
    const end = groupStart[n + 1]!;
    for (let b = 0; b < rows; b++) {
      bounds[b] = leastOf[b]! + stepCosts[b * columns + n]! + leastOn;
    }
    sortByBound(order, bounds);
    let ceiling = limit;
    for (let k = 0; k < rows && bounds[order[k]!]! <= ceiling; k++) {
      const b = order[k]!;
      const bound = eliminatePitch(lattice, t, b, n, work) + leastMove(moves) - turn.spread;
      let count = 0;
      for (let to = first; to < end; to++) if (bound <= least[to]!) served[count++] = to;
      if (count === 0) continue;
      eliminatePlacement(lattice, t, b, count, work, result);
      let highest = -limit;
      for (let to = first; to < end; to++) {
        least[to] = lesser(least[to]!, result[b * width + to]!);
        highest = Math.max(highest, least[to]!);
      }
      ceiling = lesser(limit, (highest + turn.spread) | 0);
    }
  }
  return settle(lattice, t, turn.spread, work, result);
}

/** F_t at every slot t. @param spacing slots from one that is kept to the next; left out, as memory allows */
export function forwardSums(lattice: Lattice, spacing?: number): Chain<Sums> {
  const { slots } = lattice;
  const kept = keptOf(lattice);
  const turn = turnRange(lattice);
  const work = new Workspace(lattice);
  const recursion: Recursion<Sums> = {
    length: slots.length,
    first: () => levelled(unaryCosts(slots[0]!)),
    next: (t, sums) => step(lattice, t, sums, turn, work),
    isSame: isSameSums,
    bytesAt: (t) => stateCount(lattice, t) * Int32Array.BYTES_PER_ELEMENT,
    steps: stepNumbers(lattice),
  };
  const before = kept?.forward;
  const earlier = before && { chain: before.chain, match: matchSlots(before.lattice, lattice) };
  const chain = new Chain(recursion, earlier, (done) => kept?.watch('forward', done), spacing);
  if (kept) kept.forward = { lattice, chain };
  return chain;
}
