// What it takes to hold a note: place on the neck, weight of the string, spread of the hand, open strings.
import { getOrMake } from '../../../cache';
import weights from '../../../../shared/weights/hand.json' with { type: 'json' };
import {
  isOpenString,
  reachOf,
  regionOf,
  spanShare,
  spanShares,
  thumbOf,
  type Hand,
  type Instrument,
  type Placement,
} from '../../../instrument';
import { secondsOf, type Bpm } from '../../../music';
import type { Slot } from '../../2-timeline';
import { toneClass } from './degree';
import type { Feature } from './feature';

/** Whose hand on which bass. */
export interface HandOnBass {
  readonly instrument: Instrument;
  readonly hand: Hand;
  /** Who lives at the octave pays nothing for being up there, only for going on beyond it. */
  readonly livesAtOctave?: boolean;
}

export type HoldFeature = Feature<[HandOnBass, Placement]>;

/** Share of the flat span that the fingers are spread to; 0 for open strings and first fingers. */
export const stretchShare = ({ instrument, hand }: HandOnBass, placement: Placement): number =>
  isOpenString(placement) || placement.frame === 'thumb'
    ? 0
    : spanShare(instrument, hand, placement.position, reachOf(placement));

const octave = 12;
const aboveOctave = ({ position }: Placement): number => Math.max(0, position - octave);

export const holdFeatures: readonly HoldFeature[] = [
  {
    name: 'high position',
    amount: ({ instrument, livesAtOctave }, placement) => {
      if (isOpenString(placement)) return 0;
      if (livesAtOctave) return aboveOctave(placement) * weights.position.perSemitoneAboveHeel;
      const above = Math.max(0, placement.position - instrument.heel);
      const octave = regionOf(placement.position) === 'octave' ? weights.position.octave : 0;
      return above * weights.position.perSemitoneAboveHeel + octave;
    },
  },
  {
    name: 'heavy string high up',
    amount: ({ livesAtOctave }, placement) => {
      if (isOpenString(placement)) return 0;
      const { fromPosition, lightest, semitonesAString, perSemitoneAndString } = weights.heavyString;
      // By the pitch it is tuned to: the G string is as light with a C string above it.
      const heaviness = Math.max(0, lightest - (placement.midi - placement.stop)) / semitonesAString;
      const above = livesAtOctave ? aboveOctave(placement) : Math.max(0, placement.position - fromPosition);
      return above * heaviness * perSemitoneAndString;
    },
  },
  {
    name: 'thumb off its place',
    amount: (_player, placement) => (thumbOf(placement) === 0 ? 0 : weights.pivot.thumbOff),
  },
  { name: 'open string', amount: (_player, placement) => (isOpenString(placement) ? weights.openString : 0) },
];

/** What a spread of the hand costs for as long as it tires most. */
function stretchCost(share: number): number {
  const { overRelaxed, overComfortable } = weights.stretch;
  return (
    Math.max(0, share - spanShares.relaxed) * overRelaxed +
    Math.max(0, share - spanShares.comfortable) * overComfortable
  );
}

/** A spread hand tires by the time it holds: a short note pays in proportion to its length. */
export function stretchFeature(player: HandOnBass, tempo: Bpm): Feature<[Slot, Placement]> {
  const known = new WeakMap<Placement, number>();
  return {
    name: 'stretch',
    amount: (slot, placement) => {
      const cost = getOrMake(known, placement, () => stretchCost(stretchShare(player, placement)));
      return cost * Math.min(1, secondsOf(slot.ticks, tempo) / weights.stretch.fullAfter);
    },
  };
}

/** An open string outside chord and scale is forgiven part of what it costs: it frees the hand and passes quickly. */
export const openOutsideFeature: Feature<[Slot, Placement]> = {
  name: 'open string outside',
  amount: (slot, placement) =>
    isOpenString(placement) && slot.strength < 3 && toneClass(slot.harmony, placement.midi) === 'chrom'
      ? weights.openStringOutside
      : 0,
};
