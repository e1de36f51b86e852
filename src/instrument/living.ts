// Places to live on the neck: starting limits for where stopped notes may lie.
import table from '../../shared/hand/places.json' with { type: 'json' };
import { handPosition } from './positions';
import type { HandPosition, Placement } from './types';

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
}

export const livingPlaces: readonly LivingPlace[] = table.rows.map(({ id, name, words, areas }) => ({
  id,
  name,
  words,
  areas: areas.map(({ strings, from, to }) => ({ strings, from, to })),
}));

/** Undefined when no place has that id. */
export const findLivingPlace = (id: string): LivingPlace | undefined =>
  livingPlaces.find((place) => place.id === id);

const holds = (area: Area, position: number): boolean => position >= area.from && position <= area.to;

/** True when a placement lies in a place to live; open strings lie in all of them. */
export const liesIn = (
  place: LivingPlace,
  placement: Pick<Placement, 'finger' | 'position' | 'string'>,
): boolean =>
  placement.finger === '0' ||
  place.areas.some(
    (area) => (area.strings === null || placement.string <= area.strings) && holds(area, placement.position),
  );

/** Positions up to a highest one that no string of a place has: what to bar for it. */
export const barredFor = (place: LivingPlace, highest: number): readonly HandPosition[] =>
  Array.from({ length: highest }, (_, index) => handPosition(index + 1)).filter(
    (position) => !place.areas.some((area) => holds(area, position)),
  );
