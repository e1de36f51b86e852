// Grounds of a lesson: where on the neck the hand lives, read from shared/lessons/grounds.json.
import data from '../../../shared/lessons/grounds.json' with { type: 'json' };
import { regions, type LivingPlace, type Region } from '../../instrument';
import { groundIds, type GroundId } from './ids';
import { wordOf } from './words';

export interface Ground {
  readonly id: GroundId;
  readonly name: string;
  /** Where the hand is, as a sentence. */
  readonly says: string;
  /** Where stopped notes may lie; open strings are free. */
  readonly place: LivingPlace;
  /** The share of the stopped beats that each of some regions has at least; null for none. */
  readonly least: { readonly regions: readonly Region[]; readonly share: number } | null;
  /** Whether the hand may move along the neck between two stopped notes. */
  readonly bareShifts: boolean;
  /** One of those that a round through the keys uses. */
  readonly isOfRound: boolean;
}

export const grounds: readonly Ground[] = data.grounds.map((row) => ({
  id: wordOf(groundIds, row.id),
  name: row.name,
  says: row.says,
  place: {
    id: row.id,
    name: row.name,
    words: row.says,
    areas: [{ strings: row.strings, from: row.positions[0]!, to: row.positions[1]! }],
  },
  least: row.least && {
    regions: row.least.regions.map((region) => wordOf(regions, region)),
    share: row.least.share,
  },
  bareShifts: row.bareShifts,
  isOfRound: row.round,
}));

export const groundOf = (id: GroundId): Ground => grounds[groundIds.indexOf(id)]!;
