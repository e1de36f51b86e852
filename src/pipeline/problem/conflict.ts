// Constraints that cannot hold together: a minimal conflict among them, and a minimal correction, whose loss leaves the rest
// possible. Both by deletion, one question to the solver a constraint; what may hold must hold with fewer constraints, too.
// Method: J. Marques-Silva et al., "On Computing Minimal Correction Subsets", IJCAI 2013 (from memory).
import { listedBy } from './listed';

type IsPossible<One> = (constraints: readonly One[]) => boolean;

/**
 * None of it can be left out and the rest still be impossible; empty where nothing is possible at all.
 * @param all what cannot hold together
 */
export function minimalConflict<One>(all: readonly One[], isPossible: IsPossible<One>): readonly One[] {
  let kept = all;
  for (const one of all) {
    const without = kept.filter((other) => other !== one);
    if (!isPossible(without)) kept = without;
  }
  return kept;
}

function correctionOf<One>(all: readonly One[], isPossible: IsPossible<One>): readonly One[] {
  const staying: One[] = [];
  const leaving: One[] = [];
  for (const one of all) (isPossible([...staying, one]) ? staying : leaving).push(one);
  return leaving;
}

/**
 * Without these the others can hold together, and none of these could stay. Of two tries, one that keeps the first of them
 * where it can and one that keeps the last, the one that gives up fewer; in the order of `all`. As many as there are where
 * nothing is possible at all.
 */
export function minimalCorrection<One>(all: readonly One[], isPossible: IsPossible<One>): readonly One[] {
  const forward = correctionOf(all, isPossible);
  const backward = correctionOf(all.toReversed(), isPossible);
  return backward.length < forward.length ? backward.toReversed() : forward;
}

/** Longer lists are cut: a sentence is to be read. */
const mostListed = 4;

/** What helps, as the last sentence of why there is no line. */
export function wayOutWords(cheapest: string | null, together: readonly string[]): string {
  if (cheapest !== null) return ` Giving up “${cheapest}” costs the line least.`;
  if (together.length === 0) return '';
  const shown = together.length > mostListed ? together.slice(0, mostListed - 1) : together;
  const more = together.length - shown.length;
  const list = [...shown.map((one) => `“${one}”`), ...(more > 0 ? [`${more} more`] : [])];
  return ` Other wishes clash, too. Without ${listedBy(list, 'and')} there is a line.`;
}
