// All features, weighed for one player at one tempo: the one place where lattice and itemised line take their costs from.
import { secondsOf, ticksPerQuarter, type Bpm, type SoundingMidi } from '../../music';
import type { Placement } from '../../instrument';
import type { Slot } from '../2-timeline';
import {
  approachFeature,
  degreeFeature,
  fingeringFeatures,
  holdFeatures,
  intervalFeature,
  leftHangingFeature,
  makeMoveContext,
  openOutsideFeature,
  registerFeature,
  scaled,
  shiftFeatures,
  stretchFeature,
  stringFeatures,
  turnFeatures,
  type Feature,
  type MoveContext,
  type MoveFeature,
  type Player,
  type StepFeature,
  type TurnFeature,
} from './features';

export interface CostModel {
  readonly player: Player;
  readonly tempo: Bpm;
  /** A_t */
  readonly pitch: readonly Feature<[Slot, SoundingMidi]>[];
  /** The part of B_t that is the same at every slot. */
  readonly hold: readonly Feature<[Player, Placement]>[];
  /** The part of B_t that looks at the slot: its harmony and its length. */
  readonly place: readonly Feature<[Slot, Placement]>[];
  /** R_t, paid by the note stepped to. */
  readonly step: readonly StepFeature[];
  /** R_t, paid by the note stepped from. */
  readonly leave: readonly StepFeature[];
  /** S */
  readonly turn: readonly TurnFeature[];
  /** V_t */
  readonly move: readonly MoveFeature[];
}

/** @param comfort weighs the hand against the music; 1 is the weights as they stand, 0 plays anything that can be held */
export function makeCostModel(player: Player, tempo: Bpm, comfort = 1): CostModel {
  return {
    player,
    tempo,
    pitch: [degreeFeature, registerFeature],
    hold: scaled(holdFeatures, comfort),
    place: [openOutsideFeature, ...scaled([stretchFeature(player, tempo)], comfort)],
    step: [intervalFeature, approachFeature],
    leave: [leftHangingFeature],
    turn: turnFeatures,
    move: scaled([...shiftFeatures, ...fingeringFeatures, ...stringFeatures], comfort),
  };
}

/** The time around the move from one slot to the next. */
export const moveContextOf = (model: CostModel, from: Slot, to: Slot): MoveContext =>
  makeMoveContext(
    model.player.instrument,
    secondsOf(from.ticks, model.tempo),
    secondsOf(to.ticks, model.tempo),
    secondsOf(from.restAfter, model.tempo),
    model.player.hand.mover,
    to.ticks / ticksPerQuarter,
  );
