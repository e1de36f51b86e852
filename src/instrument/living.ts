// Places to live on the neck: starting limits for where stopped notes may lie.
import table from '../../shared/hand/places.json' with { type: 'json' };
import { isOpenString } from './placements';
import { handPosition } from './positions';
import { wayIds, type HandPosition, type Placement, type WayId } from './types';

/** A part of the board: some strings from the top (null: all), between two positions. */
interface Area {
  readonly strings: number | null;
  readonly from: number;
  readonly to: number;
}

/** A place to live, as data. */
export interface LivingPlace {
  readonly id: string;
  readonly name: string;
  readonly words: string;
  readonly areas: readonly Area[];
  /** The way of fingering to begin with there; the player's own when left out. */
  readonly way?: WayId;
}

const wayOf = (row: { readonly way?: string }): WayId | undefined => wayIds.find((id) => id === row.way);

export const livingPlaces: readonly LivingPlace[] = table.rows.map(({ id, name, words, areas, ...row }) => ({
  id,
  name,
  words,
  ...(wayOf(row) ? { way: wayOf(row)! } : {}),
  areas: areas.map(({ strings, from, to }) => ({ strings, from, to })),
}));

/** Undefined when no place has that id. */
export const findLivingPlace = (id: string): LivingPlace | undefined =>
  livingPlaces.find((place) => place.id === id);

const holds = (area: Area, position: number): boolean => position >= area.from && position <= area.to;

/** True when a placement lies in a place to live; under an open string of any pitch the hand stays in it, too. */
export const liesIn = (
  place: LivingPlace,
  placement: Pick<Placement, 'finger' | 'position' | 'string'>,
): boolean =>
  place.areas.some(
    (area) =>
      (area.strings === null || isOpenString(placement) || placement.string <= area.strings) &&
      holds(area, placement.position),
  );

/** Positions up to a highest one that no string of a place has: what to bar for it. */
export const barredFor = (place: LivingPlace, highest: number): readonly HandPosition[] =>
  Array.from({ length: highest }, (_, index) => handPosition(index + 1)).filter(
    (position) => !place.areas.some((area) => holds(area, position)),
  );
