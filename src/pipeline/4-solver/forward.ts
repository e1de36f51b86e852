// The least cost of every way into a state, by exact min-sum elimination (dynamic programming in two steps):
//
//   G_t(h, n)       = R_t(p(h), n) + min over m of  F_t(m, h) + S(p(h) - m, n - p(h))
//   F_{t+1}(b, h')  = A(h') + B(h') + min over h with pitch b of  G_t(h, p(h')) + V_t(h, h')
//
// which costs |H| |P|^2 + |H|^2 a slot instead of |P| |H|^2, and where turns fall into few classes (ways.ts) no more than some
// |H| |P| + |H|^2.
//
// Left out, exactly. All that follows a state (b, h') sees of b is one turn, and two turns differ by at most
//
//   spread = max S - min S.
//
// So a state with F_{t+1}(b, h') > spread + min over c of F_{t+1}(c, h') is worse than the state with that c, whatever
// follows: no best path goes through it, nor any best path through h'. Such states are blocked, and equal ones kept, so
// that optimum, prices, paths and ties are those of the whole table. Most need not even be computed, since for n = p(h')
//
//   F_{t+1}(b, h') - A(h') - B(h')  >=  min V_t + min over h with pitch b of G_t(h, n).
//
// For each n the b are taken by rising values of this bound. The first that is more than the spread above what every h'
// with pitch n has already ends the search; before that, the bound tells which h' it can still be of use to. What is
// blocked depends on the sums alone, not on the order in which they are found.
import { Chain, type Recursion, type Visit } from './chain';
import { keptOf, stepNumbers } from './kept';
import { barrier, infinite, type Lattice } from './lattice';
import { isSameSums, lesser, levelled, sortByBound, type Sums } from './sums';
import { leastMove, stateCount, turnRange, unaryCosts } from './sums';
import { fillWays, Ways } from './ways';

/** Room for what a step needs while it runs, for the widest slot of a lattice; taken once, used at every step. */
class Workspace {
  /** G_t. */
  readonly ways: Ways;
  /** All b by rising bound, for one n. */
  readonly order: Int32Array;
  /** The h' with pitch n that one b can be of use to. */
  readonly served: Int32Array;
  /** By h': the least sum so far, whichever its b; the highest that is kept; what makes a sum an entry of F_{t+1}. */
  readonly least: Int32Array;
  readonly highest: Int32Array;
  readonly shift: Int32Array;
  /** How many sums of F_{t+1} have been compared with a least one so far. */
  relaxed = 0;

  constructor(lattice: Lattice) {
    const placements = lattice.slots.reduce((most, slot) => Math.max(most, slot.placements.length), 0);
    const pitches = lattice.slots.reduce((most, slot) => Math.max(most, slot.pitches.length), 0);
    this.ways = new Ways(lattice);
    this.order = new Int32Array(pitches);
    this.served = new Int32Array(placements);
    this.least = new Int32Array(placements);
    this.highest = new Int32Array(placements);
    this.shift = new Int32Array(placements);
  }
}

/** Lowers the sums of row b of F_{t+1} at the first `count` of the h' with pitch n that are served by the h of pitch b. */
function eliminatePlacement(
  lattice: Lattice,
  t: number,
  b: number,
  n: number,
  count: number,
  work: Workspace,
  result: Sums,
): void {
  const { placementCount } = lattice;
  const { placements, groupStart, moves } = lattice.slots[t]!;
  const { placements: targets, pitches: columns } = lattice.slots[t + 1]!;
  const { costs } = moves;
  const { served } = work;
  const ways = work.ways.costs;
  const out = b * targets.length;
  const first = groupStart[b]!;
  const last = groupStart[b + 1]! - 1;
  const from = first * columns.length + n * (last + 1 - first) - first;
  // Four h a round, so that h' are looked up once; at the end the last one stands in for those that are missing.
  for (let h = first; h <= last; h += 4) {
    const h1 = Math.min(h + 1, last);
    const h2 = Math.min(h + 2, last);
    const h3 = Math.min(h + 3, last);
    const way0 = ways[from + h]!;
    const way1 = ways[from + h1]!;
    const way2 = ways[from + h2]!;
    const way3 = ways[from + h3]!;
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
function step(lattice: Lattice, t: number, forward: Sums, spread: number, work: Workspace): Sums {
  const { pitches, groupStart: groupOf, moves } = lattice.slots[t]!;
  const { pitches: targets, placements, groupStart } = lattice.slots[t + 1]!;
  const { served, least, ways } = work;
  const [rows, columns, width] = [pitches.length, targets.length, placements.length];
  const move = leastMove(moves);
  const limit = barrier;
  const result = new Int32Array(rows * width).fill(infinite);
  fillWays(lattice, t, forward, ways);
  least.fill(infinite);
  const order = work.order.subarray(0, rows);
  for (let b = 0; b < rows; b++) order[b] = b;
  for (let n = 0; n < columns; n++) {
    const first = groupStart[n]!;
    const end = groupStart[n + 1]!;
    const bounds = ways.least.subarray(n * rows, (n + 1) * rows);
    sortByBound(order, bounds);
    let ceiling = limit;
    for (let k = 0; k < rows && bounds[order[k]!]! + move <= ceiling; k++) {
      const b = order[k]!;
      const bound = bounds[b]! + move - spread;
      let count = 0;
      for (let to = first; to < end; to++) if (bound <= least[to]!) served[count++] = to;
      if (count === 0) continue;
      work.relaxed += count * (groupOf[b + 1]! - groupOf[b]!);
      eliminatePlacement(lattice, t, b, n, count, work, result);
      let highest = -limit;
      for (let to = first; to < end; to++) {
        least[to] = lesser(least[to]!, result[b * width + to]!);
        highest = Math.max(highest, least[to]!);
      }
      ceiling = lesser(limit, (highest + spread) | 0);
    }
  }
  return settle(lattice, t, spread, work, result);
}

/**
 * F_t at every slot t.
 * @param spacing slots from one that is kept to the next; left out, as memory allows
 * @param visit told F_t when it is made, where not all are kept
 */
export function forwardSums(lattice: Lattice, spacing?: number, visit?: Visit<Sums>): Chain<Sums> {
  const { slots } = lattice;
  const kept = keptOf(lattice);
  const { spread } = turnRange(lattice);
  const work = new Workspace(lattice);
  const recursion: Recursion<Sums> = {
    length: slots.length,
    first: () => levelled(unaryCosts(slots[0]!)),
    next: (t, sums) => step(lattice, t, sums, spread, work),
    isSame: isSameSums,
    bytesAt: (t) => stateCount(lattice, t) * Int32Array.BYTES_PER_ELEMENT,
    steps: stepNumbers(lattice),
  };
  const earlier = kept?.forward.closest(lattice) ?? null;
  const chain = new Chain(recursion, earlier, (done) => kept?.watch('forward', done), spacing, visit);
  kept?.forward.add({ lattice, chain }, earlier);
  return chain;
}

/** Relaxations of one step: comparisons of a sum with the least so far. */
export interface Relaxations {
  /** To find G_t. */
  readonly onPitches: number;
  /** To find F_{t+1} from it. */
  readonly onPlacements: number;
}

/** What each step really relaxes, counted while it runs; for whoever measures. */
export function countRelaxations(lattice: Lattice): readonly Relaxations[] {
  const { spread } = turnRange(lattice);
  const work = new Workspace(lattice);
  let sums = levelled(unaryCosts(lattice.slots[0]!));
  return lattice.slots.slice(1).map((_, t) => {
    work.relaxed = 0;
    work.ways.relaxed = 0;
    sums = step(lattice, t, sums, spread, work);
    return { onPitches: work.ways.relaxed, onPlacements: work.relaxed };
  });
}
