// What a player sets about bass and hand beyond its kind, length and span. It belongs to the study, so that a link or a file
// shows the line as it was fingered: the fingering depends on every part of it.
import * as v from 'valibot';
import type { Millimetres } from '../music';
import {
  bassOf,
  defaultMover,
  defaultWay,
  findLivingPlace,
  heelRange,
  livingPlaces,
  moverRanges,
  tuningLength,
  wayIds,
  ways,
  type FingeringWay,
  type Hand,
  type HandPosition,
  type Instrument,
  type LivingPlace,
  type Mover,
  type WayId,
} from '../instrument';
import { hardestNames, type HardestWord, type Limits } from '../pipeline';

export interface Setup {
  /** First-finger semitone at the heel; null for that of the bass. */
  readonly heel: number | null;
  /** Open strings, lowest first: "E1 A1 D2 G2"; null for those of the bass. */
  readonly tuning: string | null;
  readonly way: WayId;
  /** The position at which the way changes; null for the way's own. */
  readonly wayFrom: HandPosition | null;
  /** Seconds a bit of movement, when the player has calibrated; null for the assumed value. */
  readonly slope: number | null;
  /** Seconds before a movement of no distance is over; null until the player has calibrated. */
  readonly intercept: number | null;
  /** Share of the note that a bare shift gets; null until the player has calibrated. */
  readonly bareShare: number | null;
  /** Id of the place to live. */
  readonly place: string;
  /** Share of its time that the hardest shift may take, or a word for it; null for any. */
  readonly hardest: number | HardestWord | null;
}

/** All of the neck: no limit. */
const anywhere = 'roam';

export const hardestRange = { least: 0.1, most: 10 } as const;

export const defaultSetup: Setup = {
  heel: null,
  tuning: null,
  way: defaultWay.id,
  wayFrom: null,
  slope: null,
  intercept: null,
  bareShare: null,
  place: anywhere,
  hardest: null,
};

const numberIn = (range: Readonly<Record<'least' | 'most', number>>): v.GenericSchema<number> =>
  v.pipe(v.number(), v.minValue(range.least), v.maxValue(range.most));
const position = v.pipe(
  v.number(),
  v.integer(),
  v.minValue(1),
  v.maxValue(12),
  v.transform((value) => value as HandPosition),
);

/** The gate for a stored setup: a part that is missing or wrong takes its default. */
export const setupSchema = v.optional(
  v.object({
    heel: v.fallback(v.nullable(v.pipe(numberIn(heelRange), v.integer())), defaultSetup.heel),
    tuning: v.fallback(v.nullable(v.pipe(v.string(), v.maxLength(tuningLength))), defaultSetup.tuning),
    way: v.fallback(v.picklist(wayIds), defaultSetup.way),
    wayFrom: v.fallback(v.nullable(position), defaultSetup.wayFrom),
    slope: v.fallback(v.nullable(numberIn(moverRanges.slope)), defaultSetup.slope),
    // Studies from before have a slope alone: the rest stays as assumed.
    intercept: v.fallback(v.nullable(numberIn(moverRanges.intercept)), defaultSetup.intercept),
    bareShare: v.fallback(v.nullable(numberIn(moverRanges.bareShare)), defaultSetup.bareShare),
    place: v.fallback(v.picklist(livingPlaces.map(({ id }) => id)), defaultSetup.place),
    hardest: v.fallback(
      v.nullable(v.union([v.picklist(hardestNames), numberIn(hardestRange)])),
      defaultSetup.hardest,
    ),
  }),
  defaultSetup,
);

/** A setup with some parts changed; the same object when nothing would. A way starts at its own position. */
export function changeSetup(setup: Setup, change: Partial<Setup>): Setup {
  const next = { ...setup, ...(change.way === undefined ? {} : { wayFrom: null }), ...change };
  const names = Object.keys(setup) as (keyof Setup)[];
  return names.every((name) => Object.is(setup[name], next[name])) ? setup : next;
}

/** The parts of a study that say which bass and which hand. */
interface Fitted {
  readonly instrument: string;
  readonly stringLength: Millimetres | null;
  readonly span: Millimetres;
  readonly setup: Setup;
}

/** The bass of a study, and what is wrong with its tuning. */
export const bassIn = ({
  instrument,
  stringLength,
  setup,
}: Fitted): { readonly instrument: Instrument; readonly problems: readonly string[] } =>
  bassOf({ id: instrument, length: stringLength, heel: setup.heel, tuning: setup.tuning });

/** The position a way of fingering changes at, null where it has none. */
export function wayChangeOf({ way, wayFrom }: Setup): HandPosition | null {
  const chosen = ways.find(({ id }) => id === way)?.chosen;
  return chosen ? (wayFrom ?? (chosen.default as HandPosition)) : null;
}

/** True when the player has found all three figures of how fast the hand is. */
export const isCalibrated = ({ slope, intercept, bareShare }: Setup): boolean =>
  slope !== null && intercept !== null && bareShare !== null;

/** How fast the hand is, null for the assumed figures. They belong together: a slope alone goes with the assumed others. */
function moverIn({ slope, intercept, bareShare }: Setup): Mover | null {
  if (slope === null) return null;
  if (intercept === null || bareShare === null) return { ...defaultMover, slope };
  return { ...defaultMover, slope, intercept, bareShare, isCalibrated: true };
}

/** The hand of a study. */
export function handIn({ span, setup }: Fitted): Hand {
  const { way, wayFrom } = setup;
  const mover = moverIn(setup);
  const fingering: FingeringWay = { id: way, ...(wayFrom === null ? {} : { from: wayFrom }) };
  return {
    span,
    ...(way === defaultSetup.way && wayFrom === null ? {} : { way: fingering }),
    ...(mover === null ? {} : { mover }),
  };
}

/** A place to live, with the way of fingering it begins with; leaving it, the hand goes back to the usual way. */
export function placeChange(setup: Setup, id: string): Partial<Setup> {
  const way = findLivingPlace(id)?.way;
  if (way) return { place: id, way };
  return placeIn(setup)?.way === setup.way ? { place: id, way: defaultSetup.way } : { place: id };
}

/** The place to live of a study; undefined for all of the neck. */
export const placeIn = ({ place }: Setup): LivingPlace | undefined =>
  place === anywhere ? undefined : findLivingPlace(place);

/** What a setup adds to the limits of a request. */
export function setupLimits(setup: Setup): Pick<Limits, 'place' | 'hardest'> {
  const place = placeIn(setup);
  return { ...(place ? { place } : {}), ...(setup.hardest === null ? {} : { hardest: setup.hardest }) };
}
