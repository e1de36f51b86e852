// `npm run bench -- lessons`: every layer on every chart that comes with the program, every layer in every key of the blues
// without half position, and every layer on every ground; each line checked by the rules of its layer, all timed. It reports;
// it asserts nothing.
import { performance } from 'node:perf_hooks';
import { practicalKeys, printKey } from '../../src/music';
import {
  emptyCaches,
  groundIds,
  layerIds,
  makeLesson,
  makeRound,
  readChart,
  type GroundId,
  type Line,
  type WalkRequest,
} from '../../src/pipeline';
import { layerFaults } from '../checks/layer-rules';
import { chartNames, chartText, positions, requestFor } from '../pipeline/request';
import { longChart } from './charts';

interface Tally {
  made: number;
  readonly faults: string[];
  readonly missing: string[];
  readonly times: number[];
}

const emptyTally = (): Tally => ({ made: 0, faults: [], missing: [], times: [] });

/** All layers, each from the one before. */
function teach(tally: Tally, name: string, request: WalkRequest, ground: GroundId): void {
  const caches = emptyCaches();
  const changed: string[] = [];
  let before: Line | null = null;
  for (const layer of layerIds) {
    const start = performance.now();
    const { line, impossible, changes } = makeLesson(request, { layer, ground }, before, caches);
    tally.times.push(performance.now() - start);
    if (!line) {
      tally.missing.push(`${name}, ${layer}, ${ground}: ${impossible?.message}`);
      continue;
    }
    tally.made++;
    const faults = layerFaults(layer, line.notes);
    if (faults.length > 0) tally.faults.push(`${name}, ${layer}, ${ground}: ${JSON.stringify(faults[0])}`);
    if (changes) changed.push(`${layer} ${changes.notes.length}`);
    before = line;
  }
  console.log(`${name}, ${ground}: notes changed: ${changed.join(', ')}`);
}

function report(title: string, { made, faults, missing, times }: Tally): void {
  const sorted = times.toSorted((a, b) => a - b);
  const at = (share: number): string => sorted[Math.floor(share * (sorted.length - 1))]!.toFixed(0);
  console.log(
    `${title}: ${made} of ${times.length} made, ${faults.length} with faults; ${at(0.5)} ms at the median, ${at(0.9)} at 90 %, ${at(1)} at most`,
  );
  for (const text of [...faults, ...missing]) console.log(`  ${text}`);
}

const repeats = 5;

/** Times of every layer on 32 bars, what bass and hand decide already known. */
function reportLong(): void {
  const request = requestFor(longChart(32));
  const caches = emptyCaches();
  for (const layer of layerIds) {
    const times: number[] = [];
    const frame = makeLesson(request, { layer: 'frame', ground: 'anywhere' }, null, caches).line;
    for (let run = 0; run < repeats; run++) {
      const start = performance.now();
      makeLesson(request, { layer, ground: 'anywhere' }, run % 2 === 0 ? null : frame, caches);
      times.push(performance.now() - start);
    }
    const median = times.toSorted((a, b) => a - b)[Math.floor(repeats / 2)]!;
    console.log(`32 bars, ${layer}: ${median.toFixed(0)} ms`);
  }
}

export function benchLessons(): void {
  const charts = emptyTally();
  for (const name of chartNames) {
    const { feel } = readChart(chartText(name)).chart.header;
    teach(charts, `${name} (${feel})`, requestFor(chartText(name)), 'anywhere');
  }
  const blues = chartText('back-stairs-blues.txt');
  const keys = emptyTally();
  const limits = { barredPositions: positions('half') };
  for (const key of practicalKeys('major'))
    teach(keys, printKey(key), requestFor(blues, { key, limits }), 'anywhere');
  const onGrounds = emptyTally();
  for (const ground of groundIds) teach(onGrounds, 'blues', requestFor(blues), ground);
  report('layers on all charts', charts);
  report('layers in all keys without half position', keys);
  report('layers on all grounds', onGrounds);
  reportLong();
  const start = performance.now();
  const round = makeRound(requestFor(blues), { layer: 'own', order: 'fourths' });
  console.log(
    `a round of the blues: ${round.keys.map(({ key, ground }) => `${key.tonic} ${ground}`).join(', ')}; ${((performance.now() - start) / 1000).toFixed(1)} s`,
  );
}
