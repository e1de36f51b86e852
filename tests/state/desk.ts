// A desk for tests of the state: a studio that is answered by hand, with what it tells those around it written down.
import { newStudy, type Study } from '../../src/state/document';
import { Studio } from '../../src/state/studio.svelte';
import { HandExplainer, HandSource } from './fixtures';

export function desk(study: Study = newStudy('| F7 |')) {
  const source = new HandSource();
  const explainer = new HandExplainer();
  const changes: Study[] = [];
  const kept: Study[] = [];
  const lost: string[] = [];
  let now = 0;
  const studio = new Studio({
    study,
    connect: source.connect,
    connectExplainer: explainer.connect,
    now: () => now,
    onchange: (changed) => changes.push(changed),
    onkept: (one) => kept.push(one),
    onlost: (what) => lost.push(what),
  });
  return { studio, source, explainer, changes, kept, lost, wait: (time: number) => (now += time) };
}
