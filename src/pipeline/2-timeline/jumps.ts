// D.C., D.S., Fine and Coda followed through one chorus.
import type { ChartBar, Jump } from '../1-chart';
import { expandRepeats } from './repeats';

/** Bars in playing order, and how to find a bar among them. */
interface Order {
  readonly bars: readonly number[];
  readonly lastAt: ReadonlyMap<number, number>;
  readonly firstAt: ReadonlyMap<number, number>;
}

function orderOf(bars: readonly number[]): Order {
  const lastAt = new Map<number, number>();
  const firstAt = new Map<number, number>();
  bars.forEach((bar, place) => {
    lastAt.set(bar, place);
    if (!firstAt.has(bar)) firstAt.set(bar, place);
  });
  return { bars, lastAt, firstAt };
}

const obeysFine = (jump: Jump): boolean => !jump.endsWith('al Coda');
const obeysCoda = (jump: Jump): boolean => !jump.endsWith('al Fine');

/** For each bar the sign a D.S. there goes back to: the nearest so far, else the first to come; -1 without one. */
export function segnoTargets(bars: readonly ChartBar[]): readonly number[] {
  let nearest = bars.findIndex(({ segno }) => segno);
  return bars.map(({ segno }, index) => {
    if (segno) nearest = index;
    return nearest;
  });
}

/** Where the coda begins; -1 without one. */
export const codaOf = (bars: readonly ChartBar[]): number => bars.findLastIndex(({ coda }) => coda);

/**
 * One time through the bars with repeats, endings and jumps. Every jump is taken once, on the last pass of its bar; after
 * it repeats are not taken again and the last ending is played (common practice, no source). After a plain D.C. or D.S.
 * both Fine and To Coda hold. Ends on any input: a jump cannot be taken twice.
 * @param top first bar of the form, where a D.C. goes back to and an implied repeat begins
 * @param most bars to give at most
 */
export function followJumps(bars: readonly ChartBar[], top: number, most: number): readonly number[] {
  const all = orderOf(expandRepeats(bars, 'all', most, top));
  const once = orderOf(expandRepeats(bars, 'last pass only', most, top));
  const coda = codaOf(bars);
  const segnos = segnoTargets(bars);
  const taken = new Set<number>();
  const order: number[] = [];
  let current = all;
  let place = 0;
  let jump: Jump | null = null;
  let codaTaken = false;

  const goTo = (target: number): void => {
    current = once.firstAt.has(target) ? once : all;
    place = current.firstAt.get(target) ?? 0;
  };

  while (place < current.bars.length && order.length < most) {
    const index = current.bars[place]!;
    const bar = bars[index]!;
    order.push(index);
    if (jump !== null && bar.fine && obeysFine(jump)) break;
    const isLastPass = current.lastAt.get(index) === place;
    if (jump !== null && bar.toCoda && obeysCoda(jump) && coda >= 0 && !codaTaken && isLastPass) {
      codaTaken = true;
      current = all;
      place = all.firstAt.get(coda) ?? all.bars.length;
    } else if (bar.jump !== null && !taken.has(index) && isLastPass) {
      taken.add(index);
      jump = bar.jump;
      goTo(jump.startsWith('D.C.') ? top : Math.max(segnos[index]!, top));
    } else place += 1;
  }
  return order;
}
