// The least cost of every way into a state, by exact min-sum elimination in two steps. For a pitch b of slot t, a pitch n of
// slot t + 1 and the rule of the step between them:
//
//   G(q, h)         = min over g with next(rule, g) = q of  F_t(g, h) + S(rule, g)                    for h with pitch b
//   F_{t+1}(q, h')  = A(h') + B(h') + min over b, h of  G(q, h) + R_t(b, n) + V_t(h, h')              for h' with pitch n
//
// Memory goes first: a rule leads to few states q, so the quadratic step over placements is done for few of them, instead of
// for every state of the memory. (Bucket elimination: Dechter 1999, Artificial Intelligence 113.)
import { Chain, type Recursion } from './checkpointing';
import { barrier, infinite, moveIndex, type Lattice } from './lattice';
import { Gathered } from './gathering';
import { cacheOf, stepNumbers } from './solved-cache';
import { kernelOf } from './kernel/vectors';
import { isSameSums, levelled, stateCount, unaryCosts, type Sums } from './messages';

/** Lowers the sums of the h' with pitch n by the ways through each gathered row. */
function eliminatePlacement(
  lattice: Lattice,
  t: number,
  b: number,
  n: number,
  step: number,
  work: Gathered,
  result: Sums,
): void {
  const { placementCount } = lattice;
  const { placements, groupStart, moves } = lattice.slots[t]!;
  const { placements: targets, groupStart: targetStart } = lattice.slots[t + 1]!;
  const { costs } = moves;
  const { ways, states } = work;
  const first = groupStart[b]!;
  const size = groupStart[b + 1]! - first;
  const start = targetStart[n]!;
  const end = targetStart[n + 1]!;
  const limit = barrier;
  for (let row = 0; row < work.count; row++) {
    const out = states[row]! * targets.length;
    const from = row * size;
    for (let k = 0; k < size; k++) {
      const way = (ways[from + k]! + step) | 0;
      if (way >= limit) continue;
      const placement = placements[first + k]!;
      for (let to = start; to < end; to++) {
        const sum = (way + costs[moveIndex(moves, placementCount, placement, targets[to]!)]!) | 0;
        if (sum < result[out + to]!) result[out + to] = sum;
      }
    }
  }
  work.relaxed += work.count * size * (end - start);
}

/** Adds A + B and takes off the least entry. */
function settle(lattice: Lattice, t: number, result: Sums): Sums {
  const unary = unaryCosts(lattice.slots[t + 1]!);
  const width = unary.length;
  for (let row = 0; row < result.length; row += width) {
    for (let to = 0; to < width; to++) {
      const sum = result[row + to]!;
      if (sum < barrier) result[row + to] = sum + unary[to]!;
    }
  }
  return levelled(result);
}

/** F_{t+1} from F_t. */
function step(lattice: Lattice, t: number, forward: Sums, work: Gathered): Sums {
  const { pitches, stepCosts, ruleOf, rules } = lattice.slots[t]!;
  const columns = lattice.slots[t + 1]!.pitches.length;
  const result = new Int32Array(stateCount(lattice, t + 1)).fill(infinite);
  for (let b = 0; b < pitches.length; b++) {
    work.findOpen(lattice, t, b, forward);
    if (work.openCount === 0) continue;
    for (let n = 0; n < columns; n++) {
      const at = b * columns + n;
      if (stepCosts[at]! >= barrier) continue;
      work.gather(lattice, t, b, rules[ruleOf[at]!]!, forward);
      eliminatePlacement(lattice, t, b, n, stepCosts[at]!, work, result);
    }
  }
  return settle(lattice, t, result);
}

/** F_0: the first slot is in the memory state that the lattice starts in. */
function startSums(lattice: Lattice): Sums {
  const width = lattice.slots[0]!.placements.length;
  const sums = new Int32Array(stateCount(lattice, 0)).fill(infinite);
  sums.set(unaryCosts(lattice.slots[0]!), lattice.startMemory * width);
  return levelled(sums);
}

/**
 * F_t at every slot t.
 * @param spacing slots from one that is kept to the next; left out, as memory allows
 */
export function forwardMessages(lattice: Lattice, spacing?: number): Chain<Sums> {
  const { slots } = lattice;
  const cache = cacheOf(lattice);
  const kernel = kernelOf(lattice);
  const work = new Gathered(lattice);
  const recursion: Recursion<Sums> = {
    length: slots.length,
    first: () => startSums(lattice),
    next: (t, sums) => kernel?.forward(lattice, t, sums) ?? step(lattice, t, sums, work),
    isSame: isSameSums,
    bytesAt: (t) => stateCount(lattice, t) * Int32Array.BYTES_PER_ELEMENT,
    steps: stepNumbers(lattice),
  };
  const earlier = cache?.forward.closest(lattice) ?? null;
  const chain = new Chain(recursion, earlier, (done) => cache?.watch('forward', done), spacing);
  cache?.forward.add({ lattice, chain }, earlier);
  return chain;
}

/** Relaxations of one step: comparisons of a sum with the least so far. */
export interface Relaxations {
  /** To find G. */
  readonly onMemory: number;
  /** To find F_{t+1} from it. */
  readonly onPlacements: number;
}

/** What each step really relaxes, counted while it runs; for whoever measures. */
export function countRelaxations(lattice: Lattice): readonly Relaxations[] {
  const work = new Gathered(lattice);
  let sums = startSums(lattice);
  return lattice.slots.slice(1).map((_, t) => {
    work.relaxed = 0;
    work.gathered = 0;
    sums = step(lattice, t, sums, work);
    return { onMemory: work.gathered, onPlacements: work.relaxed };
  });
}
