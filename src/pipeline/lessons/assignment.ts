// Every task gets one of some places, each place a number of tasks, at the least sum: the transportation problem.
//
// Pre: costs are whole numbers or Infinity where a task cannot have a place. Post: the least sum of all ways to share them
// out, or null when there is none; among equals the places of earlier tasks are as low as can be only by chance of the
// search, which is the same every time.
// Method: successive shortest augmenting paths, each found by relaxing until nothing gets shorter (Bellman and Ford), after
// Ahuja, Magnanti & Orlin, Network Flows (1993), chapter 9 [from memory]. Tasks and places are few: no potentials are kept.

export interface Assignment {
  /** The place of each task. */
  readonly places: readonly number[];
  readonly cost: number;
}

/** How a place was reached: the task that would move there, and the place that it would leave (null: it has none yet). */
interface Step {
  readonly cost: number;
  readonly task: number;
  readonly from: number | null;
}

/** Shortest ways from a task without a place to every place, over tasks that change theirs. */
function shortestWays(
  costs: readonly (readonly number[])[],
  places: readonly (number | null)[],
  task: number,
): readonly (Step | null)[] {
  const count = costs[task]!.length;
  const ways: (Step | null)[] = costs[task]!.map((cost) =>
    Number.isFinite(cost) ? { cost, task, from: null } : null,
  );
  for (let round = 0; round < count; round++) {
    let isShorter = false;
    places.forEach((from, other) => {
      const way = from === null ? null : ways[from];
      if (from === null || !way) return;
      costs[other]!.forEach((cost, to) => {
        const whole = way.cost - costs[other]![from]! + cost;
        if (to === from || !Number.isFinite(whole) || whole >= (ways[to]?.cost ?? Infinity)) return;
        ways[to] = { cost: whole, task: other, from };
        isShorter = true;
      });
    });
    if (!isShorter) break;
  }
  return ways;
}

/**
 * @param costs a row a task, a column a place
 * @param most how many tasks a place takes at most
 */
export function assign(costs: readonly (readonly number[])[], most: readonly number[]): Assignment | null {
  const places: (number | null)[] = costs.map(() => null);
  const taken = most.map(() => 0);
  for (const task of costs.keys()) {
    const ways = shortestWays(costs, places, task);
    let end = -1;
    ways.forEach((way, place) => {
      if (way && taken[place]! < most[place]! && way.cost < (ways[end]?.cost ?? Infinity)) end = place;
    });
    if (end < 0) return null;
    taken[end]!++;
    for (let place: number | null = end; place !== null;) {
      const { task: moving, from }: Step = ways[place]!;
      places[moving] = place;
      place = from;
    }
  }
  const shared = places.map((place) => place ?? 0);
  return { places: shared, cost: shared.reduce((sum, place, task) => sum + costs[task]![place]!, 0) };
}
