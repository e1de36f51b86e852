// What it takes to hold a note: place on the neck, weight of the string, spread of the hand, open strings.
import weights from '../../../../shared/weights/hand.json' with { type: 'json' };
import {
  isOnExtension,
  reachOf,
  regionOf,
  spanShare,
  spanShares,
  type Hand,
  type Instrument,
  type Placement,
} from '../../../instrument';
import type { Slot } from '../../2-timeline';
import { toneClass } from './degree';
import type { Feature } from './feature';

/** Whose hand on which bass. */
export interface Player {
  readonly instrument: Instrument;
  readonly hand: Hand;
}

export type HoldFeature = Feature<[Player, Placement]>;

const isOpen = (placement: Placement): boolean => placement.finger === '0';

/** Share of the flat span that the fingers are spread to; 0 for open strings and first fingers. */
export const stretchShare = ({ instrument, hand }: Player, placement: Placement): number =>
  isOpen(placement) || placement.frame === 'thumb'
    ? 0
    : spanShare(instrument, hand, placement.position, reachOf(placement));

export const holdFeatures: readonly HoldFeature[] = [
  {
    name: 'low position',
    amount: (_player, placement) => {
      if (isOpen(placement)) return 0;
      if (isOnExtension(placement.position)) return weights.position.extension;
      if (placement.position === 1) return weights.position.half;
      return placement.position === 2 ? weights.position.first : 0;
    },
  },
  {
    name: 'high position',
    amount: ({ instrument }, placement) => {
      if (isOpen(placement)) return 0;
      const above = Math.max(0, placement.position - instrument.heel);
      const octave = regionOf(placement.position) === 'octave' ? weights.position.octave : 0;
      return above * weights.position.perSemitoneAboveHeel + octave;
    },
  },
  {
    name: 'heavy string high up',
    amount: (_player, placement) => {
      if (isOpen(placement)) return 0;
      const { fromPosition, lightest, semitonesAString, perSemitoneAndString } = weights.heavyString;
      // By the pitch it is tuned to: the G string is as light with a C string above it.
      const heaviness = Math.max(0, lightest - (placement.midi - placement.stop)) / semitonesAString;
      return Math.max(0, placement.position - fromPosition) * heaviness * perSemitoneAndString;
    },
  },
  {
    name: 'stretch',
    amount: (player, placement) => {
      const share = stretchShare(player, placement);
      return (
        Math.max(0, share - spanShares.relaxed) * weights.stretch.overRelaxed +
        Math.max(0, share - spanShares.comfortable) * weights.stretch.overComfortable
      );
    },
  },
  { name: 'open string', amount: (_player, placement) => (isOpen(placement) ? weights.openString : 0) },
];

/** An open string outside chord and scale is forgiven part of what it costs: it frees the hand and passes quickly. */
export const openOutsideFeature: Feature<[Slot, Placement]> = {
  name: 'open string outside',
  amount: (slot, placement) =>
    isOpen(placement) && slot.strength < 3 && toneClass(slot.harmony, placement.midi) === 'chrom'
      ? weights.openStringOutside
      : 0,
};
