// The lattice that holds a layer: drawn paths of it hold every rule, and paths of the lattice without it that hold the rules
// are paths of it, at the same cost.
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/music';
import { layerOf, makeTimeline, readChart, type LayerId, type PlayedNote } from '../../../src/pipeline';
import { infinite, makeSampler, pathCost, type Path } from '../../../src/pipeline/4-solver';
import { groundOf } from '../../../src/pipeline';
import { planOf } from '../../../src/pipeline/lessons/plan';
import { lessonRequest, lessonInstance } from '../../../src/pipeline/lessons/instance';
import { emptyCaches, type ProblemInstance } from '../../../src/pipeline/problem/instance';
import { layerFaults } from '../../checks/layer-rules';
import { requestFor } from '../request';

const text = 'Key: Bb\n\n| Cm7 | F7 G7 | Bbmaj7 | Bdim7 |\n';
const ground = groundOf('anywhere');

function instancesFor(layer: LayerId): { readonly held: ProblemInstance; readonly free: ProblemInstance } {
  const request = lessonRequest(requestFor(text), layerOf(layer), ground);
  const { timeline } = makeTimeline(readChart(text).chart, { choruses: 1, tempo: null });
  const plan = planOf(layerOf(layer), timeline!, true);
  const none = planOf(layerOf(layer), timeline!, true, () => false);
  const instance = (of: typeof plan): ProblemInstance =>
    lessonInstance(request, timeline!, of, ground, emptyCaches(), false)!;
  // The free one has the notes that the layer leaves, and none of what it remembers.
  const free = lessonInstance(
    request,
    timeline!,
    { ...none, demands: plan.demands },
    ground,
    emptyCaches(),
    false,
  )!;
  return { held: instance(plan), free };
}

/** The return to the top included, as a note like any other. */
const notesOf = ({ candidates }: ProblemInstance, path: Path): PlayedNote[] =>
  candidates.map(({ slot, placements }, t) => {
    const placement = placements[path[t]!]!;
    return { slot, midi: placement.midi, placement, carry: null };
  });

const draws = 120;
/** Hot enough that any path may be drawn. */
const temperature = 60;

function drawn({ lattice }: ProblemInstance, seed: number): readonly Path[] {
  const sampler = makeSampler(lattice, temperature, 1000);
  const random = seededRandom(seed);
  return Array.from({ length: draws }, () => sampler.draw(random)!);
}

describe.each(['frame', 'stairs', 'below', 'step', 'anywhere', 'pair', 'around', 'run'] as const)(
  'the lattice of %s',
  (layer) => {
    const { held, free } = instancesFor(layer);
    const isGood = (instance: ProblemInstance, path: Path): boolean =>
      layerFaults(layer, notesOf(instance, path), false).length === 0;

    it('has no path that breaks a rule', () => {
      for (const path of drawn(held, 1)) expect(layerFaults(layer, notesOf(held, path), false)).toEqual([]);
    });

    it('has every path that holds them, and no other, at its cost', () => {
      // Half of the paths come from the lattice itself, since few others hold every rule.
      const paths = [...drawn(held, 2), ...drawn(free, 3)];
      for (const path of paths) {
        const cost = pathCost(free.lattice, path);
        if (cost >= infinite) continue;
        if (isGood(free, path)) expect(pathCost(held.lattice, path)).toBe(cost);
        else expect(pathCost(held.lattice, path)).toBeGreaterThanOrEqual(infinite);
      }
    });
  },
);
