// The lattice that a chart of the program is solved on: default bass and hand, nothing barred.
import type { Lattice } from '../../src/pipeline/4-solver';
import { chartOf } from '../../src/pipeline/pipeline';
import type { StayLimit } from '../../src/pipeline/3-candidates';
import { makeTimeline } from '../../src/pipeline/2-timeline';
import { emptyCaches, makeInstance, requestWishes } from '../../src/pipeline/problem/instance';
import { chartText, requestFor } from '../pipeline/request';

export interface RealLattice {
  readonly lattice: Lattice;
  readonly bars: number;
}

/**
 * @param name file of shared/charts
 * @param isStrict without the steps that the rules never allow; of a lattice thinned by chance they may be all that is left
 * @param stay the longest stay, where there is one
 */
export function realLattice(name: string, isStrict = true, stay?: StayLimit): RealLattice {
  const request = requestFor(chartText(name));
  const { timeline } = makeTimeline(chartOf(request).chart, { choruses: 1, tempo: null });
  const instance =
    timeline && makeInstance(request, timeline, requestWishes(request), stay, emptyCaches(), isStrict);
  if (!timeline || !instance) throw new Error(`no lattice for ${name}`);
  return { lattice: instance.lattice, bars: timeline.bars.length };
}
