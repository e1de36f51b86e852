// `npm run bench`, `npm run bench -- solver` for this alone: how long the computation takes, how much memory it holds, and how it stands beside other ways to the same
// answer. It reports; it asserts nothing.
import { spawnSync } from 'node:child_process';
import { cpus, loadavg } from 'node:os';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { seededRandom, barNumber } from '../../src/music';
import { namedPositions, parsePosition, type StringNumber } from '../../src/instrument';
import { emptyCaches, walk, type Caches, type WalkRequest } from '../../src/pipeline';
import { bestPath, Vectors, type Lattice } from '../../src/pipeline/4-solver';
import { countedSizes, relaxationsOf, runBareKernel, stepSizes } from '../checks/bare-kernel';
import { solveByGraph } from '../checks/graph';
import { doorLayers, stateLayers } from '../checks/layers';
import { solveByLp } from '../checks/lp';
import { realLattice } from '../checks/real-lattice';
import { thinned } from '../checks/thinned';
import { requestFor } from '../pipeline/request';
import { changingChart, longChart } from './charts';
import { benchHand } from './hand';
import { loopSteps, loopTime } from './machine';
import { benchLessons } from './lessons';
import { benchNight } from './night';
import { benchPage } from './page';
import { benchPlaying } from './playing';
import { benchSound } from './sound';

const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);
const quantile = (values: readonly number[], share: number): number =>
  sorted(values)[Math.min(values.length - 1, Math.floor(values.length * share))]!;
const median = (values: readonly number[]): number => quantile(values, 0.5);
const ms = (value: number): string => value.toFixed(1).padStart(8);

/** Results of all runs, printed at the end so that no run can be optimised away. */
let sink = 0;

/** Processor time of this process in ms: unlike the wall clock it does not count what other programs take. */
const processorTime = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

interface Measured {
  readonly slots: number;
  readonly totals: number[];
  readonly processor: number[];
  readonly passes: Record<string, number[]>;
}

/** Forms that come round every 16 bars, and forms that never do. */
const forms = { round: longChart, changing: changingChart } as const;
type Form = keyof typeof forms;

const requestOf = (bars: number, temperature: number, form: Form = 'round'): WalkRequest =>
  requestFor(forms[form](bars), { take: { seed: 1, temperature } });

/** @param requestAt the request of each run, counted from 0 */
function measure(requestAt: (run: number) => WalkRequest, runs: number, caches?: Caches): Measured {
  const totals: number[] = [];
  const processor: number[] = [];
  const passes: Record<string, number[]> = {};
  let slots = 0;
  for (let run = 0; run < runs; run++) {
    const request = requestAt(run);
    const start = performance.now();
    const startProcessor = processorTime();
    const result = walk(request, () => performance.now(), caches ?? emptyCaches());
    totals.push(performance.now() - start);
    processor.push(processorTime() - startProcessor);
    for (const [name, time] of Object.entries(result.timings)) (passes[name] ??= []).push(time);
    slots = result.timeline?.slots.length ?? 0;
    sink += result.line?.cost ?? 0;
  }
  return { slots, totals, processor, passes };
}

const hard = ({ passes }: Measured): number => median(passes.lattice!) + median(passes.solve!);

function report(title: string, measured: Measured): void {
  const { slots, totals, processor, passes } = measured;
  console.log(
    `${title.padEnd(36)} median ${ms(median(totals))} ms (10-90 %:${ms(quantile(totals, 0.1))} -${ms(quantile(totals, 0.9))})` +
      `  processor ${ms(median(processor))} ms  lattice + solve ${ms(hard(measured))} ms, ${(hard(measured) / slots).toFixed(3)} a slot`,
  );
  const parts = Object.entries(passes).map(([name, times]) => `${name} ${median(times).toFixed(1)}`);
  console.log(`${''.padEnd(36)} ${parts.join(', ')} ms`);
}

/** Requests that differ from one to the next by one edit in the middle of the form. */
const edits: Readonly<Record<string, (request: WalkRequest, run: number) => WalkRequest>> = {
  'a chord typed': (request, run) => {
    const middle = request.chartText.indexOf('Bdim7', request.chartText.length / 2);
    const text = `${request.chartText.slice(0, middle)}${['Bdim7', 'Bm7b5', 'B7'][run % 3]!}${request.chartText.slice(middle + 5)}`;
    return { ...request, chartText: text };
  },
  'a pin set': (request, run) => ({
    ...request,
    pins: [{ bar: barNumber(17), beat: 2, string: ((run % 3) + 1) as StringNumber }],
  }),
  'a limit set': (request, run) => ({
    ...request,
    limits: { barredPositions: run % 2 ? [parsePosition('half')!] : [] },
  }),
  // Two positions barred at once, no two of them twice: nothing is known from the time before.
  'another limit': (request, run) => {
    const [first, second] = [run % 4, 4 + Math.floor(run / 4)];
    return { ...request, limits: { barredPositions: [namedPositions[first]!, namedPositions[second]!] } };
  },
};

/** Cold, at four lengths. */
function reportLengths(temperature: number, form: Form): void {
  const what = `${temperature === 0 ? 'best line' : 'take'}${form === 'round' ? '' : ', all different'}`;
  const slotTimes = new Map<number, number>();
  for (const [bars, runs] of [
    [12, 11],
    [32, 15],
    [128, 7],
    [1024, 3],
  ] as const) {
    const request = requestOf(bars, temperature, form);
    const measured = measure(() => request, runs);
    slotTimes.set(bars, hard(measured) / measured.slots);
    report(`${bars} bars, ${what}`, measured);
  }
  const ratio = slotTimes.get(1024)! / slotTimes.get(32)!;
  console.log(`time a slot at 1,024 bars over 32 bars: ${ratio.toFixed(2)}`);
}

function reportEdits(temperature: number): void {
  const what = temperature === 0 ? 'best line' : 'take';
  for (const [name, edit] of Object.entries(edits)) {
    const caches = emptyCaches();
    const request = requestOf(32, temperature);
    measure(() => request, 2, caches);
    report(
      `32 bars, ${what}, ${name}`,
      measure((run) => edit(request, run), 12, caches),
    );
  }
}

/** Median time of a function in ms, after a few runs to warm up. */
function timeOf(run: () => number, runs: number): number {
  for (let warm = 0; warm < Math.min(3, runs); warm++) sink += run();
  const times: number[] = [];
  for (let count = 0; count < runs; count++) {
    const start = performance.now();
    sink += run();
    times.push(performance.now() - start);
  }
  return median(times);
}

const alone = ({ slots, placementCount, memoryCount, startMemory }: Lattice): Lattice => ({
  slots,
  placementCount,
  memoryCount,
  startMemory,
});

/** The cost of the best path, nothing known from before; in vectors. */
const solvedAnew = (lattice: Lattice): number => bestPath({ ...lattice, vectors: new Vectors() })!.cost;

function reportKernel(name: string): void {
  const lattice = alone(realLattice(name).lattice);
  const { costs } = lattice.slots[0]!.moves;
  const solver = timeOf(() => solvedAnew(lattice), 15);
  const plain = timeOf(() => bestPath(lattice)!.cost, 15);
  console.log(`${name}: best line in vectors ${ms(solver)} ms, in plain numbers ${ms(plain)} ms`);
  for (const [title, sizes] of [
    ['with every memory state open', stepSizes(lattice)],
    ['with those that can be reached', countedSizes(lattice)],
  ] as const) {
    const bare = timeOf(() => runBareKernel(sizes, costs), 15);
    const relaxations = relaxationsOf(sizes);
    console.log(
      `${name}: best line ${ms(solver)} ms, bare kernel ${ms(bare)} ms for ${(relaxations / 1e6).toFixed(1)} million relaxations (${title}): ${(solver / bare).toFixed(2)} times`,
    );
  }
}

async function reportOthers(name: string, placements: number): Promise<void> {
  const lattice = alone(thinned(realLattice(name).lattice, placements, seededRandom(1)));
  const solver = timeOf(() => solvedAnew(lattice), 25);
  const lp = (await solveByLp(lattice, () => performance.now()))!;
  const start = performance.now();
  const graph = solveByGraph(lattice, stateLayers)!;
  const graphTime = performance.now() - start;
  const { cost } = bestPath(lattice)!;
  console.log(
    `${name}, ${placements} placements a slot: best line ${solver.toFixed(2)} ms; LP (${lp.columns} columns) ${ms(lp.milliseconds)} ms,` +
      ` ${(lp.milliseconds / solver).toFixed(0)} times; graph library (${graph.arcs} arcs)${ms(graphTime)} ms, ${(graphTime / solver).toFixed(0)} times;` +
      ` costs ${[cost, Math.round(lp.cost), graph.cost].join(' = ')}`,
  );
}

function reportWholeGraph(name: string): void {
  const lattice = alone(realLattice(name).lattice);
  const solver = timeOf(() => solvedAnew(lattice), 15);
  const start = performance.now();
  const graph = solveByGraph(lattice, doorLayers)!;
  const time = performance.now() - start;
  console.log(
    `${name}, whole: best line ${ms(solver)} ms, graph library (${graph.arcs} arcs)${ms(time)} ms, ${(time / solver).toFixed(0)} times`,
  );
}

/** In a process of its own: the most that is alive at once in a walk, garbage swept at every look. */
function watchMemory(bars: number, temperature: number, form: Form): void {
  const live = (): number => {
    // The second time waits for what the first has swept.
    globalThis.gc?.();
    globalThis.gc?.();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return (heapUsed + arrayBuffers) / 2 ** 20;
  };
  sink += walk(requestOf(4, temperature)).line?.cost ?? 0;
  const before = live();
  const caches = emptyCaches();
  let most = 0;
  let looks = 0;
  caches.watch = () => {
    if (looks++ % 97 === 0) most = Math.max(most, live());
  };
  const result = walk(requestOf(bars, temperature, form), undefined, caches);
  const after = live();
  sink += result.line?.cost ?? 0;
  console.log(
    `${bars} bars, ${form}, temperature ${temperature}: at most ${(most - before).toFixed(1)} MB alive at once, ${(after - before).toFixed(1)} MB after, line included`,
  );
}

function reportMemory(bars: number, temperature: number, form: Form): void {
  const own = fileURLToPath(import.meta.url);
  const args = [...process.execArgv, own, 'memory', String(bars), String(temperature), form];
  const { stdout, stderr } = spawnSync(process.execPath, args, { encoding: 'utf8' });
  console.log((stdout || stderr).trimEnd());
}

async function main(): Promise<void> {
  const load = loadavg()[0]!.toFixed(1);
  console.log(
    `Node ${process.version}, ${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, load ${load}, a plain loop of ${loopSteps / 1e6} million steps ${loopTime().toFixed(0)} ms`,
  );
  report(
    '12 bars, first in process',
    measure(() => requestOf(12, 0), 1),
  );
  measure(() => requestOf(32, 0), 5);
  for (const temperature of [0, 1]) {
    reportLengths(temperature, 'round');
    reportLengths(temperature, 'changing');
    reportEdits(temperature);
  }
  for (const form of ['round', 'changing'] as const)
    for (const temperature of [0, 1]) reportMemory(1024, temperature, form);
  for (const name of ['back-stairs-blues.txt', 'corner-table.txt']) reportKernel(name);
  await reportOthers('back-stairs-blues.txt', 10);
  await reportOthers('corner-table.txt', 6);
  reportWholeGraph('back-stairs-blues.txt');
  console.log(`(sum of results ${sink})`);
}

const [, , task, bars, temperature, form] = process.argv;
if (task === 'memory') watchMemory(Number(bars), Number(temperature), form === 'changing' ? form : 'round');
else if (task === 'hand') benchHand();
else if (task === 'lessons') benchLessons();
else if (task === 'playing') await benchPlaying(Number(bars ?? 10), Number(temperature ?? 0));
else {
  if (task === undefined || task === 'solver') await main();
  if (task === undefined || task === 'night') benchNight();
  if (task === undefined || task === 'page') await benchPage();
  if (task === undefined || task === 'sound') await benchSound();
}
