// How likely each figure is at each kind of place, from the data.
import figureData from '../../../shared/rhythm/figures.json' with { type: 'json' };
import type { Feel } from '../1-chart';

/**
 * Skip: a dead eighth before a beat. Drop: an eighth that falls from a beat. Triplet: a beat divided in three.
 * Anticipation: the next downbeat played an eighth early. Fill: a long note walked in beats. Held: a group of beats on
 * one note.
 */
export const figures = ['skip', 'drop', 'triplet', 'anticipation', 'fill', 'held'] as const;
export type Figure = (typeof figures)[number];

/** Kinds of places, as the data names them; before: the beat led into, on: the beat the figure begins on. */
export type Place =
  | 'before the downbeat'
  | 'before a strong beat'
  | 'before a weak beat'
  | 'on the downbeat'
  | 'on a strong beat'
  | 'on a weak beat'
  | 'before a turn'
  | 'before a change'
  | 'elsewhere';

const tables = new Map(
  figureData.chances.flatMap(({ feels, rows }) => {
    const table = new Map(rows.map(([figure, place, chance]) => [`${figure} ${place}`, Number(chance)]));
    return feels.map((feel) => [feel, table] as const);
  }),
);

const owns: ReadonlyMap<string, Readonly<Record<string, number>>> = new Map(
  figureData.chances.flatMap(({ feels, own = {} }) => feels.map((feel) => [feel, own] as const)),
);

/** The density that a feel has of a figure where nobody asks for any: a two-feel walks into its turns, a ballad holds notes. */
export const ownDensity = (feel: Feel, figure: Figure): number => owns.get(feel)?.[figure] ?? 0;

/** Whether a feel has figures of its own. */
export const hasOwnFigures = (feel: Feel): boolean => Object.keys(owns.get(feel) ?? {}).length > 0;

/** Chance of a figure at one place at density 1; 0 where the feel does not use it. */
export const chanceOf = (feel: Feel, figure: Figure, place: Place): number =>
  tables.get(feel)?.get(`${figure} ${place}`) ?? 0;
