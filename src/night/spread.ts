// How far takes, drawn as people play, are from the best line under the same prices: mean and range of a few seeds.
import { regions, type Region } from '../instrument';
import { forgetSolved, walk } from '../pipeline';
import { byName, minutesOf } from './measure';
import { isWalked, requestUnder, type WishPrices, type TuneDesk } from './tune';
import type { Minutes, Spread } from './types';

/**
 * Null for a tune whose best line is what is played, where no take can be drawn, and under a longest stay, whose many states
 * make takes slow to draw.
 */
export function spreadOf(desk: TuneDesk, prices: WishPrices, takes: number): Spread | null {
  const { take } = desk.tune.request;
  if (take.temperature === 0 || desk.stay !== null) return null;
  const request = requestUnder(desk, prices);
  const all: Minutes[] = [];
  for (let seed = take.seed; seed < take.seed + takes; seed++) {
    const result = walk({ ...request, take: { ...take, seed } }, undefined, desk.caches);
    if (isWalked(result)) all.push(minutesOf(result.line.report, desk.tempo, desk.tune.walked));
  }
  forgetSolved(desk.caches);
  if (all.length === 0) return null;
  const over = (fold: (values: readonly number[]) => number): Minutes =>
    byName(regions, (region: Region) => fold(all.map((minutes) => minutes[region])));
  return {
    mean: over((values) => values.reduce((sum, value) => sum + value, 0) / values.length),
    least: over((values) => Math.min(...values)),
    most: over((values) => Math.max(...values)),
  };
}
