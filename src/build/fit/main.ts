// `npm run fit`: chooses the energies of shared/weights/music.json so that lines drawn at temperature 1, hand terms in, show
// the figures of shared/weights/targets.json. Moment matching: an energy is raised where the model shows its figure too
// often and lowered where too seldom. The expectations are exact, so there is no chance in it and the result is the same
// each time.
//
//   npm run fit [-- --rounds N] [--out FILE] [--dry]
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import fitCharts from '../../../shared/weights/fit-charts.json' with { type: 'json' };
import { defaultHand, defaultInstrument } from '../../instrument';
import { makeTimeline } from '../../pipeline/2-timeline';
import { chartOf } from '../../pipeline/pipeline';
import { makeSetting, requestWishes } from '../../pipeline/setting';
import type { WalkRequest } from '../../pipeline';
import { addCounts, emptyCounts, figuresOf, type Figure, type Prepared } from './figures';
import { moveWeights } from './marginals';
import { differenceFrom, musicCosts, type Weights } from './model';

const temperature = 1;
const shared = new URL('../../../shared/', import.meta.url);
const weightsFile = new URL('weights/music.json', shared);
const decimals = 3;

function requestFor(chartText: string): WalkRequest {
  return {
    chartText,
    key: null,
    tempo: null,
    choruses: 1,
    instrument: defaultInstrument,
    hand: defaultHand,
    limits: { barredPositions: [] },
    take: { seed: 1, temperature },
  };
}

function prepare(chartText: string): Prepared {
  const request = requestFor(chartText);
  const { timeline } = makeTimeline(chartOf(request).chart, { choruses: 1, tempo: null });
  const setting = timeline && makeSetting(request, timeline, requestWishes(request));
  if (!setting) throw new Error(`this chart cannot be walked:\n${chartText}`);
  return { setting, moves: moveWeights(setting.lattice, temperature) };
}

function prepareAll(): Prepared[] {
  const texts = [
    ...fitCharts.fromCharts.map((id) => readFileSync(new URL(`charts/${id}.txt`, shared), 'utf8')),
    ...fitCharts.charts.map(({ text }) => text),
  ];
  return texts.map(prepare);
}

/** The terms here and those of the program must be the same, or the fit would be one of something else. */
function checkTerms(prepared: readonly Prepared[], weights: Weights): void {
  for (const { setting } of prepared) {
    const difference = differenceFrom(setting.lattice, musicCosts(setting, weights));
    // Each of up to four terms is rounded to a thousandth in the lattice.
    if (difference > 0.0021) throw new Error(`terms of fit and program differ by ${difference}`);
  }
}

const logit = (share: number): number => Math.log(share / (1 - share));

/** How far an energy has to go for its figure, were there no others. */
function distance({ shown, wanted, binary }: Figure): number {
  const least = 1e-4;
  const seen = Math.min(Math.max(shown, least), 1 - least);
  const asked = Math.min(Math.max(wanted, least), 1 - least);
  return binary ? logit(seen) - logit(asked) : Math.log(seen / asked);
}

/** Half the distance, and never far at once: the figures pull at one another. */
const stepOf = (figure: Figure): number =>
  Math.min(Math.max(0.6 * figure.part * distance(figure), -0.6), 0.6);

/** The figure that is farthest off, in words. */
function worst(figures: readonly Figure[]): string {
  const off = ({ shown, wanted }: Figure): number => Math.abs(shown - wanted);
  const { name, shown, wanted } = figures.reduce((a, b) => (off(b) > off(a) ? b : a));
  return `${name} ${shown.toFixed(4)} wanted ${wanted.toFixed(4)}`;
}

const meanError = (figures: readonly Figure[]): number =>
  figures.reduce((sum, { shown, wanted }) => sum + Math.abs(shown - wanted), 0) / figures.length;

function countAll(prepared: readonly Prepared[], weights: Weights): Figure[] {
  const counts = emptyCounts(weights);
  for (const one of prepared) addCounts(counts, one, weights, temperature);
  return figuresOf(counts);
}

/** JSON with arrays of numbers on one line each. */
const written = (weights: Weights): string =>
  `${JSON.stringify(weights, null, 2).replace(/\[[-\d.,\s]+\]/g, (array) => array.replace(/\s+/g, ' ').replace('[ ', '[').replace(' ]', ']'))}\n`;

/** Where the energies come from, for the file itself. */
const sourceOf = (figures: readonly Figure[]): string =>
  `figures: shared/weights/targets.json. Energies: second-order log-linear model with the hand's terms in, fitted to them by \`npm run fit\` at temperature ${temperature}; mean absolute error ${meanError(figures).toFixed(5)} over ${figures.length} figures`;

const rounded = <T>(value: T): T => {
  if (typeof value === 'number') return Number(value.toFixed(decimals)) as T;
  if (Array.isArray(value)) return value.map(rounded) as T;
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, rounded(inner)])) as T;
};

function main(): void {
  const { values } = parseArgs({
    options: { rounds: { type: 'string' }, out: { type: 'string' }, dry: { type: 'boolean' } },
  });
  const rounds = Number(values.rounds ?? 24);
  const weights = JSON.parse(readFileSync(weightsFile, 'utf8')) as Weights;
  const prepared = prepareAll();
  checkTerms(prepared, weights);
  const slots = prepared.reduce((sum, { setting }) => sum + setting.candidates.length - 1, 0);
  process.stdout.write(`${prepared.length} charts, ${slots} notes\n`);

  let figures = countAll(prepared, weights);
  for (let round = 1; round <= rounds; round++) {
    for (const figure of figures) figure.change(weights, stepOf(figure));
    figures = countAll(prepared, weights);
    process.stdout.write(
      `round ${round}: mean error ${meanError(figures).toFixed(5)}; worst: ${worst(figures)}\n`,
    );
  }
  for (const { name, shown, wanted } of figures) {
    process.stdout.write(`${name.padEnd(24)} ${shown.toFixed(4)} wanted ${wanted.toFixed(4)}\n`);
  }
  if (values.dry) return;
  writeFileSync(values.out ?? weightsFile, written({ ...rounded(weights), source: sourceOf(figures) }));
}

main();
