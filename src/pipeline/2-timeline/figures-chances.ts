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
export type FigurePlace =
  | 'before the downbeat'
  | 'before a strong beat'
  | 'before a weak beat'
  | 'on the downbeat'
  | 'on a strong beat'
  | 'on a weak beat'
  | 'before a turn'
  | 'before a change'
  | 'elsewhere';

interface Figures {
  /** Chances at density 1, by figure and place. */
  readonly chances: ReadonlyMap<string, number>;
  /** The density of figures that a feel has where nobody asks for any. */
  readonly own: Readonly<Record<string, number>>;
}

/** Sets of figures, some of which serve several feels. */
const sets: ReadonlyMap<string, Figures> = new Map(
  Object.entries(figureData.chances).map(([name, { rows, ...others }]) => [
    name,
    {
      chances: new Map(rows.map(([figure, place, chance]) => [`${figure} ${place}`, Number(chance)])),
      own: 'own' in others ? others.own : {},
    },
  ]),
);
const setOf: Readonly<Record<Feel, string>> = figureData.figuresOf;
const figuresOf = (feel: Feel): Figures => sets.get(setOf[feel])!;

/** The density that a feel has of a figure where nobody asks for any: a two-feel walks into its turns, a ballad holds notes. */
export const ownDensity = (feel: Feel, figure: Figure): number => figuresOf(feel).own[figure] ?? 0;

/** Whether a feel has figures of its own. */
export const hasOwnFigures = (feel: Feel): boolean => Object.keys(figuresOf(feel).own).length > 0;

/** Chance of a figure at one place at density 1; 0 where the feel does not use it. */
export const chanceOf = (feel: Feel, figure: Figure, place: FigurePlace): number =>
  figuresOf(feel).chances.get(`${figure} ${place}`) ?? 0;
