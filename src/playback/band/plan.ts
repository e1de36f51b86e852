// What the band plays in every bar of a form, before any of it is laid out in time: cells of the lanes, comping, lead-ins,
// the ending. All of it drawn from one seed.
import commonData from '../../../shared/band/common.json' with { type: 'json' };
import { derivedSeed, seededRandom, type BarIndex } from '../../music';
import type { Timeline } from '../../pipeline/2-timeline';
import { amounts, type Amount } from '../types';
import type { BarPlan } from './bar-plan';
import { barHits } from './hits';
import { cellsOf } from './phrases';
import { bandOf, drawn, lanes, type BandRows, type Cell, type Hits, type Lane, type LeadIn } from './rows';
import { sectionSpans, type SectionBars } from './spans';

export interface PlanWish {
  readonly seed: number;
  readonly amount: Amount;
  /** Without it the band keeps to the first cells, and nothing leads in. */
  readonly isLoose: boolean;
}

/** What the seed is mixed with for each thing that is drawn. */
const salts = { comping: 0xc04b, leadIn: 0x1ead, inside: 0x1d5e, ending: 0xe4d1 } as const;
const laneSalts: Readonly<Record<Lane, number>> = {
  cymbal: 0x71de,
  'hi-hat': 0x4a75,
  drums: 0xd2b3,
  under: 0x57c1,
};
/** Cells of these lanes never make the same four bars twice in a chorus. */
const neverAlike: readonly Lane[] = ['cymbal', 'drums'];

/** Whether the line rests on a last long root: the form is not to come round. */
export const endsForGood = ({ slots }: Pick<Timeline, 'slots'>): boolean =>
  slots.at(-1)?.confinedTo === 'root';

/** Bars out of which something leads: the last of every section, and some inside long ones. */
function leadInBars(sections: readonly SectionBars[], { seed, amount }: PlanWish): ReadonlySet<number> {
  const chance = commonData.insideChances[amounts.indexOf(amount)]!;
  const every = commonData.insideEvery;
  const found = new Set<number>();
  for (const { from, to } of sections) {
    found.add(to);
    for (let bar = from + every - 1; bar < to; bar += every)
      if (seededRandom(derivedSeed(seed ^ salts.inside, bar))() < chance) found.add(bar);
  }
  return found;
}

/** The lead-in out of a bar, another than the last one where there is a choice. */
function leadInAt(
  bar: BarIndex,
  { leadIns }: BandRows,
  { seed, amount }: PlanWish,
  last: LeadIn | null,
): LeadIn | null {
  const random = seededRandom(derivedSeed(seed ^ salts.leadIn, bar));
  const others = leadIns.filter((one) => one !== last);
  return drawn(others, amount, random) ?? drawn(leadIns, amount, random) ?? null;
}

/** The plain plan of a bar: the first cell of everything. */
function plainBar(band: BandRows): BarPlan {
  const first = lanes.flatMap((lane) => {
    const cell = band.lanes[lane]?.cells[0];
    return cell ? [[lane, cell] as const] : [];
  });
  return {
    band,
    lanes: Object.fromEntries(first),
    comping: band.comping.cells[0]!,
    leadIn: null,
    landing: [],
    tag: null,
    ending: null,
    lift: 1,
  };
}

/**
 * Cells of all bars, as if all were of one band.
 * @param framed the plans of the bars without their cells
 */
function drawnBars(
  band: BandRows,
  { bars }: Pick<Timeline, 'bars'>,
  sections: readonly SectionBars[],
  framed: readonly BarPlan[],
  { seed, amount }: PlanWish,
): readonly Pick<BarPlan, 'lanes' | 'comping'>[] {
  const isNew = (bar: BarIndex): boolean => bars[bar]!.chorus !== bars[bar - 1]?.chorus;
  const frame = { bars: bars.length, spans: sections, isNew };
  const heardIn =
    (lane: Lane) =>
    (bar: BarIndex, cell: Cell): string =>
      barHits(bars[bar]!, { ...framed[bar]!, band, lanes: { [lane]: cell } })
        .filter(({ part }) => part === lane)
        .map(({ sound, offset }) => `${sound} ${offset}`)
        .join();
  const byLane = lanes.flatMap((lane) => {
    const repertoire = band.lanes[lane];
    if (!repertoire) return [];
    const wish = { amount, seed: seed ^ laneSalts[lane] };
    const heardAs = neverAlike.includes(lane) ? { heardAs: heardIn(lane) } : {};
    return [[lane, cellsOf(repertoire, frame, { ...wish, ...heardAs })] as const];
  });
  const comping = cellsOf(band.comping, frame, {
    amount,
    seed: seed ^ salts.comping,
    heardAs: (_, { name }) => name,
  });
  return bars.map((_, i) => ({
    lanes: Object.fromEntries(byLane.map(([lane, cells]) => [lane, cells[i]!])),
    comping: comping[i]!,
  }));
}

/** The plan with its written ending, where the line has one. */
function withEnding(
  plan: readonly BarPlan[],
  timeline: Timeline,
  { seed, amount, isLoose }: PlanWish,
): readonly BarPlan[] {
  if (!endsForGood(timeline)) return plan;
  const last = plan.length - 1;
  const { endings } = plan[last]!.band;
  const ending = (isLoose && drawn(endings, amount, seededRandom(seed ^ salts.ending))) || endings[0]!;
  return plan.map((bar, i) => {
    if (i === last) return { ...bar, ending, leadIn: null, landing: [] };
    return i === last - 1 && ending.tag ? { ...bar, tag: ending.tag, leadIn: null } : bar;
  });
}

/** The plain plans with what leads in and lands, and how loud they are. */
function withLeadIns(
  plain: readonly BarPlan[],
  { bars, choruses }: Timeline,
  sections: readonly SectionBars[],
  wish: PlanWish,
): readonly BarPlan[] {
  const leading = leadInBars(sections, wish);
  let last: LeadIn | null = null;
  let landing: Hits = [];
  return plain.map((bar, i) => {
    const leadIn: LeadIn | null = leading.has(i) ? leadInAt(bars[i]!.index, bar.band, wish, last) : null;
    last = leadIn ?? last;
    const lift = choruses > 1 && bars[i]!.chorus === choruses - 1 ? commonData.lastChorus : 1;
    const framed = { ...bar, leadIn, landing, lift };
    landing = leadIn?.landing ?? [];
    return framed;
  });
}

/** The plan of every bar of a timeline. */
export function bandPlan(timeline: Timeline, wish: PlanWish): readonly BarPlan[] {
  const { bars, feel } = timeline;
  const plain = bars.map(({ meter }) => plainBar(bandOf(feel, meter.unit)));
  if (!wish.isLoose) return withEnding(plain, timeline, wish);
  const sections = sectionSpans(bars);
  const framed = withEnding(withLeadIns(plain, timeline, sections, wish), timeline, wish);
  const bands = [...new Set(plain.map(({ band }) => band))];
  const cells = new Map(bands.map((band) => [band, drawnBars(band, timeline, sections, framed, wish)]));
  return framed.map((bar, i) => ({ ...bar, ...cells.get(bar.band)![i]! }));
}
