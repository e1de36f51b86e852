// The least cost of every way on from a state, by the mirror image of forward.ts:
//
//   K_t(h, n)       = R_t(p(h), n) + min over h' with pitch n of  V_t(h, h') + A(h') + B(h') + W_{t+1}(p(h), h')
//   W_t(m, h)       = min over n of       S(p(h) - m, n - p(h)) + K_t(h, n)
//
// Left out, exactly: a pitch n with K_t(h, n) > spread + min over c of K_t(h, c) is worse than that c for every m, since
// two turns differ by at most the spread. And
//
//   K_t(h, n)  >=  L(b, n) = R_t(b, n) + min V_t + min over h' with pitch n of A(h') + B(h') + W_{t+1}(b, h'),   b = p(h):
//
// with the n taken by rising L(b, n), the first whose bound is more than the spread above the least K_t(h, .) so far ends
// the search for h. W_t itself is whole: no entry of it is left out.
import { Chain, type Recursion } from './chain';
import { keptOf, mirrored, stepNumbers } from './kept';
import { barrier, clamp, infinite, type Lattice } from './lattice';
import { isSameSums, lesser, levelled, sortByBound, type Sums } from './sums';
import { leastMove, rowCount, stateCount, turnRange, turnStarts, unaryCosts } from './sums';

/** W_t from W_{t+1}. */
function step(lattice: Lattice, t: number, after: Sums, spread: number): Sums {
  const { pitches, placements, groupStart, stepCosts, moves } = lattice.slots[t]!;
  const next = lattice.slots[t + 1]!;
  const { pitches: targets, placements: nextPlacements, groupStart: nextStart } = next;
  const { turnCosts } = lattice;
  const { costs } = moves;
  const move = leastMove(moves);
  const [width, nextWidth, columns] = [placements.length, nextPlacements.length, targets.length];
  const rows = rowCount(lattice, t);
  const limit = barrier;
  const blocked = infinite;
  const unary = unaryCosts(next);
  /** A + B + W by h', for one b. */
  const ahead = new Int32Array(nextWidth);
  const bounds = new Int32Array(columns);
  const order = new Int32Array(columns);
  /** K_t(h, .) for one h. */
  const ways = new Int32Array(columns);
  const result = new Int32Array(rows * width).fill(blocked);
  for (let n = 0; n < columns; n++) order[n] = n;
  for (let b = 0; b < pitches.length; b++) {
    const turns = turnStarts(lattice, t, b);
    for (let to = 0; to < nextWidth; to++) ahead[to] = clamp(unary[to]! + after[b * nextWidth + to]!);
    for (let n = 0; n < columns; n++) {
      let least = blocked;
      for (let to = nextStart[n]!; to < nextStart[n + 1]!; to++) least = Math.min(least, ahead[to]!);
      bounds[n] = clamp(least + move + stepCosts[b * columns + n]!);
    }
    sortByBound(order, bounds);
    for (let h = groupStart[b]!; h < groupStart[b + 1]!; h++) {
      const row = placements[h]! * lattice.placementCount;
      let least = limit;
      let found = 0;
      for (; found < columns; found++) {
        const n = order[found]!;
        if (bounds[n]! > least + spread) break;
        let sum = blocked;
        for (let to = nextStart[n]!; to < nextStart[n + 1]!; to++) {
          sum = lesser(sum, (costs[row + nextPlacements[to]!]! + ahead[to]!) | 0);
        }
        sum += stepCosts[b * columns + n]!;
        ways[n] = sum;
        if (sum < least) least = sum;
      }
      for (let index = 0; index < found; index++) {
        const n = order[index]!;
        const way = ways[n]!;
        if (way >= limit || way > least + spread) continue;
        for (let m = 0; m < rows; m++) {
          const cost = t === 0 ? way : way + turnCosts[turns[m]! + targets[n]!]!;
          if (cost < result[m * width + h]!) result[m * width + h] = cost;
        }
      }
    }
  }
  return levelled(result);
}

/** W_t at place T - 1 - t, from the last slot back: nothing is left to pay after it. @param spacing as for `forwardSums` */
export function backwardSums(lattice: Lattice, spacing?: number): Chain<Sums> {
  const { slots } = lattice;
  const kept = keptOf(lattice);
  const last = slots.length - 1;
  const { spread } = turnRange(lattice);
  const recursion: Recursion<Sums> = {
    length: slots.length,
    first: () => new Int32Array(stateCount(lattice, last)),
    next: (place, sums) => step(lattice, last - place - 1, sums, spread),
    isSame: isSameSums,
    bytesAt: (place) => stateCount(lattice, last - place) * Int32Array.BYTES_PER_ELEMENT,
    steps: stepNumbers(lattice).reverse(),
  };
  const related = kept?.backward.closest(lattice) ?? null;
  const earlier = related && {
    chain: related.chain,
    match: mirrored(related.match, related.chain.length),
  };
  const chain = new Chain(recursion, earlier, (done) => kept?.watch('backward', done), spacing);
  kept?.backward.add({ lattice, chain }, related);
  return chain;
}
