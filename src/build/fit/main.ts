// `npm run fit`: chooses the energies of shared/weights/music.json so that lines drawn at temperature 1, rules and hand terms
// in, show the figures of shared/weights/targets.json. Moment matching for a log-linear model (Berger, Della Pietra & Della
// Pietra 1996, Computational Linguistics 22): an energy is raised where the model shows its figure too often and lowered where
// too seldom. The expectations are exact, so there is no chance in it and the result is the same each time.
//
// Takes are chosen among draws, and the choice moves the figures: in rounds of a second kind the figures are counted in chosen
// takes of fixed seeds. Those rounds move the hand, too: what a figure of shared/weights/hand-targets.json is answered by is
// raised in shared/weights/hand.json as long as the figure is missed (hand.ts), so that ear and hand are fitted to each other.
//
//   npm run fit [-- --rounds N] [--chosen N] [--music FILE] [--hand FILE] [--dry]
import { readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import fitCharts from '../../../shared/weights/fit-charts.json' with { type: 'json' };
import energies from '../../../shared/weights/music.json' with { type: 'json' };
import { defaultHand, defaultInstrument } from '../../instrument';
import { makeTimeline, type Timeline } from '../../pipeline/2-timeline';
import { makeAutomata, makeLine, type Line } from '../../pipeline/5-line';
import { chartOf } from '../../pipeline/pipeline';
import { emptyCaches, makeInstance, requestWishes, type Caches } from '../../pipeline/problem/instance';
import type { WalkRequest } from '../../pipeline';
import { choosePath } from '../../pipeline/choice/take';
import { placedBars } from '../../pipeline/problem/keep';
import { addCounts, addLine, emptyCounts, figuresOf, type Figure } from './figures';
import { HandFit } from './hand';
import { bound, centre, meanOf, rounded, setTo } from './tables';
import { written } from './written';

const temperature = 1;
const shared = new URL('../../../shared/', import.meta.url);
const weightsFile = new URL('weights/music.json', shared);
const handFile = new URL('weights/hand.json', shared);

interface Prepared {
  readonly request: WalkRequest;
  readonly timeline: Timeline;
  caches: Caches;
}

function prepare(chartText: string): Prepared {
  const request: WalkRequest = {
    chartText,
    key: null,
    tempo: null,
    choruses: 1,
    instrument: defaultInstrument,
    hand: defaultHand,
    limits: { barredPositions: [] },
    take: { seed: 1, temperature },
  };
  const { timeline } = makeTimeline(chartOf(request).chart, { choruses: 1, tempo: null });
  if (!timeline) throw new Error(`this chart cannot be walked:\n${chartText}`);
  return { request, timeline, caches: emptyCaches() };
}

function prepareAll(): Prepared[] {
  const texts = [
    ...fitCharts.fromCharts.map((id) => readFileSync(new URL(`charts/${id}.txt`, shared), 'utf8')),
    ...fitCharts.charts.map(({ text }) => text),
  ];
  return texts.map(prepare);
}

/** The lattice under the energies as they are now: all that is kept of the melody's costs is forgotten, the hand's is not. */
function instanceNow({ request, timeline, caches }: Prepared) {
  for (const { strict } of caches.models.values())
    for (const table of [strict.slots, strict.steps]) table.clear();
  const now = { ...caches, automata: makeAutomata() };
  const instance = makeInstance(request, timeline, requestWishes(request), undefined, now);
  if (!instance) throw new Error(`no line for ${timeline.title}`);
  return instance;
}

/** How far an energy has to go for its figure, were there no others. */
function distance({ shown, wanted }: Figure): number {
  const least = 1e-4;
  return Math.log(Math.max(shown, least) / Math.max(wanted, least));
}

/** Never far at once: the figures pull at one another. */
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

function countAll(prepared: readonly Prepared[]): Figure[] {
  const counts = emptyCounts(energies);
  for (const one of prepared) addCounts(counts, instanceNow(one), energies, temperature);
  return figuresOf(counts);
}

/**
 * How much of a step is taken by figures that were counted in takes, and so have chance in them: less from round to round, so
 * that the chance averages out (Robbins & Monro 1951, Annals of Mathematical Statistics 22).
 */
const chosenShare = (round: number): number => 0.8 / Math.sqrt(1 + round / 4);

/** Takes of each chart that a round of the second kind counts. */
const takesEach = 12;

/** What a round of the second kind has looked at. */
interface Chosen {
  readonly figures: Figure[];
  readonly takes: readonly Line[];
  readonly best: readonly Line[];
}

/** @param round other seeds in every round, so that no round is fitted to the chance of one */
function countChosen(prepared: readonly Prepared[], round: number): Chosen {
  const counts = emptyCounts(energies);
  const takes: Line[] = [];
  const best: Line[] = [];
  for (const one of prepared) {
    const { request, timeline } = one;
    const instance = instanceNow(one);
    const { candidates, model } = instance;
    const chosen = (wish: WalkRequest['take'], into: Line[]): ReturnType<typeof choosePath> => {
      const path = choosePath(instance, wish, timeline, placedBars(request, timeline));
      if (path) into.push(makeLine(candidates, path, timeline.slots.length, model));
      return path;
    };
    for (let take = 0; take < takesEach; take++) {
      const path = chosen({ seed: 1 + round * takesEach + take, temperature }, takes);
      if (path) addLine(counts, instance, path, energies);
    }
    chosen({ seed: 1, temperature: 0 }, best);
  }
  return { figures: figuresOf(counts), takes, best };
}

/** Where the energies come from, for the file itself. */
const sourceOf = (figures: readonly Figure[]): string =>
  `figures: shared/weights/targets.json. Energies: log-linear model with memory, the rules and the hand's terms in, fitted to them by \`npm run fit\` at temperature ${temperature}; mean absolute error ${meanError(figures).toFixed(5)} over ${figures.length} figures`;

function main(): void {
  const { values } = parseArgs({
    options: {
      rounds: { type: 'string' },
      chosen: { type: 'string' },
      music: { type: 'string' },
      hand: { type: 'string' },
      dry: { type: 'boolean' },
    },
  });
  const rounds = Number(values.rounds ?? 40);
  const chosen = Number(values.chosen ?? 12);
  const prepared = prepareAll();
  const slots = prepared.reduce((sum, { timeline }) => sum + timeline.slots.length, 0);
  process.stdout.write(`${prepared.length} charts, ${slots} notes\n`);
  let figures: Figure[] = [];
  const hand = new HandFit();
  const later: { readonly music: typeof energies; readonly hand: HandFit['weights'] }[] = [];
  const write = (): void => {
    if (values.dry) return;
    writeFileSync(values.music ?? weightsFile, written({ ...rounded(energies), source: sourceOf(figures) }));
    writeFileSync(values.hand ?? handFile, written(rounded(hand.weights)));
  };
  const forgetMoves = (): void => {
    // The moves are worked out under the weights of the hand, and those have changed.
    for (const one of prepared) one.caches = emptyCaches();
  };
  for (let round = 0; round < rounds + chosen; round++) {
    const isChosen = round >= rounds;
    if (isChosen) {
      const found = countChosen(prepared, round - rounds);
      ({ figures } = found);
      process.stdout.write(`${hand.answer(found)}\n`);
      forgetMoves();
    } else figures = countAll(prepared);
    process.stdout.write(
      `round ${round + 1}${isChosen ? ', chosen takes' : ''}: mean error ${meanError(figures).toFixed(5)}; worst: ${worst(figures)}\n`,
    );
    const share = isChosen ? chosenShare(round - rounds) : 1;
    for (const figure of figures)
      if (!isChosen || figure.movesWithChoice) figure.change(energies, share * stepOf(figure));
    centre(energies.pairs);
    bound(energies.pairs);
    bound(energies.intervalBarLine);
    if (isChosen && round >= rounds + chosen / 2)
      later.push(structuredClone({ music: energies, hand: hand.weights }));
    write();
  }
  if (later.length > 0) setTo({ music: energies, hand: hand.weights }, meanOf(later));
  forgetMoves();
  ({ figures } = countChosen(prepared, chosen));
  write();
  for (const { name, shown, wanted } of figures) {
    process.stdout.write(`${name.padEnd(24)} ${shown.toFixed(4)} wanted ${wanted.toFixed(4)}\n`);
  }
}

main();
