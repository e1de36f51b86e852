// `npm run bench`: how long the computation takes, pass by pass. It reports; it asserts nothing.
import { cpus } from 'node:os';
import { performance } from 'node:perf_hooks';
import { defaultHand, defaultInstrument } from '../../src/instrument';
import { emptyMemory, walk, type Memory, type WalkRequest } from '../../src/pipeline';

const bars = [
  'F7 | Bb7 | F7 | Cm7 F7',
  'Bb7 | Bdim7 | F7 | Am7b5 D7',
  'Gm7 | C7 | F7 D7 | Gm7 C7',
  'Ebmaj7 | Ebm7 Ab7 | Dm7 G7 | C7sus4 C7',
];

function chartOf(barCount: number): string {
  const lines = Array.from({ length: barCount / 4 }, (_, index) => `| ${bars[index % bars.length]!} |`);
  return `Title: Bench\nKey: F\nTempo: 132\n\n${lines.join('\n')}\n`;
}

const requestFor = (barCount: number, temperature: number): WalkRequest => ({
  chartText: chartOf(barCount),
  key: null,
  tempo: null,
  choruses: 1,
  instrument: defaultInstrument,
  hand: defaultHand,
  limits: { barredPositions: [] },
  take: { seed: 1, temperature },
});

const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);
const quantile = (values: readonly number[], share: number): number =>
  sorted(values)[Math.min(values.length - 1, Math.floor(values.length * share))]!;
const ms = (value: number): string => value.toFixed(1).padStart(8);

/** Costs of all lines made, printed at the end so that no run can be optimised away. */
let sink = 0;

interface Measured {
  readonly slots: number;
  readonly totals: number[];
  readonly processor: number[];
  readonly passes: Record<string, number[]>;
}

/** Processor time of this process in ms: unlike the wall clock it does not count what other programs take. */
const processorTime = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

/** @param edit each run changes a chord and keeps what the request before left, as typing in the editor does */
function measure(barCount: number, temperature: number, runs: number, edit = false): Measured {
  const memory: Memory | undefined = edit ? emptyMemory() : undefined;
  const totals: number[] = [];
  const processor: number[] = [];
  const passes: Record<string, number[]> = {};
  let slots = 0;
  for (let run = 0; run < runs; run++) {
    const plain = requestFor(barCount, temperature);
    const request = edit
      ? { ...plain, chartText: plain.chartText.replace('F7', run % 2 ? 'F9' : 'F13') }
      : plain;
    const start = performance.now();
    const startProcessor = processorTime();
    const result = walk(request, () => performance.now(), memory);
    totals.push(performance.now() - start);
    processor.push(processorTime() - startProcessor);
    for (const [name, time] of Object.entries(result.timings)) (passes[name] ??= []).push(time);
    slots = result.timeline?.slots.length ?? 0;
    sink += result.line?.cost ?? 0;
  }
  return { slots, totals, processor, passes };
}

function report(title: string, { slots, totals, processor, passes }: Measured): void {
  const median = quantile(totals, 0.5);
  const perSlot = quantile(passes.solve!, 0.5) / slots;
  console.log(
    `${title.padEnd(26)} median ${ms(median)} ms  (10-90 %: ${ms(quantile(totals, 0.1))} -${ms(quantile(totals, 0.9))})` +
      `  processor ${ms(quantile(processor, 0.5))} ms  solve ${perSlot.toFixed(3)} ms/slot`,
  );
  const parts = Object.entries(passes).map(([name, times]) => `${name} ${quantile(times, 0.5).toFixed(1)}`);
  console.log(`${''.padEnd(26)} ${parts.join(', ')} ms`);
}

console.log(`Node ${process.version}, ${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores`);
report('12 bars, first in process', measure(12, 0, 1));
measure(32, 0, 5);
for (const barCount of [12, 32, 128]) report(`${barCount} bars, best line`, measure(barCount, 0, 11));
report('32 bars, one take', measure(32, 0.7, 11));
report('32 bars, a chord typed', measure(32, 0.7, 11, true));

globalThis.gc?.();
const before = process.memoryUsage();
measure(32, 0, 1);
const after = process.memoryUsage();
const grown = (after.heapUsed + after.arrayBuffers - before.heapUsed - before.arrayBuffers) / 2 ** 20;
console.log(`memory for 32 bars, garbage included: ${grown.toFixed(1)} MB`);
console.log(`(sum of costs ${sink})`);
