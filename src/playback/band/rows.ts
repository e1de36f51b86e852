// The bands as data (shared/band): for every feel lanes of cells and phrases, comping, lead-ins and endings. A feel without
// rows does not compile; rows that are not as they should be stop the program at its start.
import * as v from 'valibot';
import ballad from '../../../shared/band/ballad.json' with { type: 'json' };
import bossa from '../../../shared/band/bossa.json' with { type: 'json' };
import eighths from '../../../shared/band/eighths.json' with { type: 'json' };
import straight from '../../../shared/band/straight.json' with { type: 'json' };
import swing from '../../../shared/band/swing.json' with { type: 'json' };
import twoFeel from '../../../shared/band/two-feel.json' with { type: 'json' };
import waltz from '../../../shared/band/waltz.json' with { type: 'json' };
import type { Random } from '../../music';
import type { Feel } from '../../pipeline/1-chart';
import { amounts, drumSounds, type Amount } from '../types';

export const lanes = ['cymbal', 'hi-hat', 'drums', 'under'] as const;
/** A hand or foot of the drummer; `under` goes on through lead-ins. */
export type Lane = (typeof lanes)[number];

const velocity = v.pipe(v.number(), v.minValue(0.05), v.maxValue(1));
/** A sound, then pairs of beat and velocity. */
const hits = v.array(v.tupleWithRest([v.picklist(drumSounds)], v.tuple([v.number(), velocity])));
/** Beat, length in beats, velocity. */
const strokes = v.array(v.tuple([v.number(), v.pipe(v.number(), v.minValue(0.1)), velocity]));
const weight = v.pipe(v.number(), v.minValue(0));
const row = { source: v.pipe(v.string(), v.minLength(1)) };
const weighted = { ...row, weights: v.tuple([weight, weight, weight]) };
const cell = v.object({
  ...row,
  name: v.string(),
  hits,
  second: v.optional(hits),
  in2: v.optional(hits),
});
const compCell = v.object({ ...row, name: v.string(), strokes });
const phrase = v.object({ ...weighted, bars: v.pipe(v.array(v.string()), v.minLength(4), v.maxLength(8)) });
const lane = v.object({ cells: v.pipe(v.array(cell), v.minLength(1)), phrases: v.array(phrase) });
const leadIn = v.object({
  ...weighted,
  hits,
  landing: v.optional(hits),
  without: v.optional(v.array(v.picklist(lanes))),
});
const ending = v.object({
  ...weighted,
  tag: v.optional(v.object({ hits, chords: strokes })),
  hits,
  choke: v.number(),
});
const band = v.object({
  about: v.string(),
  beats: v.picklist([3, 4]),
  lanes: v.object({ cymbal: lane, 'hi-hat': lane, drums: lane, under: v.optional(lane) }),
  comping: v.object({ cells: v.pipe(v.array(compCell), v.minLength(1)), phrases: v.array(phrase) }),
  leadIns: v.pipe(v.array(leadIn), v.minLength(1)),
  endings: v.pipe(v.array(ending), v.minLength(1)),
});

export type Hits = v.InferOutput<typeof hits>;
export type Strokes = v.InferOutput<typeof strokes>;
export type Cell = v.InferOutput<typeof cell>;
export type CompCell = v.InferOutput<typeof compCell>;
export type Phrase = v.InferOutput<typeof phrase>;
export type LeadIn = v.InferOutput<typeof leadIn>;
export type Ending = v.InferOutput<typeof ending>;
export type BandRows = v.InferOutput<typeof band>;

const bands: Readonly<Record<Feel, BandRows>> = {
  swing: v.parse(band, swing),
  'two-feel': v.parse(band, twoFeel),
  waltz: v.parse(band, waltz),
  ballad: v.parse(band, ballad),
  bossa: v.parse(band, bossa),
  straight: v.parse(band, straight),
};
const eighthBand = v.parse(band, eighths);

/** The rows for a bar; meters that are counted in eighths have their own, whatever the feel. */
export const bandOf = (feel: Feel, unit: number): BandRows => (unit === 8 ? eighthBand : bands[feel]);

/** A row's weight at an amount. */
export const weightOf = ({ weights }: { readonly weights: readonly number[] }, amount: Amount): number =>
  weights[amounts.indexOf(amount)] ?? 0;

/** One of some rows, drawn by weight; undefined where none has any. */
export function drawn<Row extends { readonly weights: readonly number[] }>(
  rows: readonly Row[],
  amount: Amount,
  random: Random,
): Row | undefined {
  const total = rows.reduce((sum, one) => sum + weightOf(one, amount), 0);
  let left = random() * total;
  return rows.find((one) => (left -= weightOf(one, amount)) < 0);
}
