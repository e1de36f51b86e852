// All features, weighed for one player at one tempo: the one place where lattice and itemised line take their costs from.
import { secondsOf, ticksPerQuarter, type Bpm, type SoundingMidi } from '../../music';
import type { Placement } from '../../instrument';
import type { Slot } from '../2-timeline';
import {
  approachFeature,
  degreeFeature,
  denialFeature,
  fingeringFeatures,
  grammarFeatures,
  holdFeatures,
  intervalFeature,
  makeMoveContext,
  openingFeature,
  openOutsideFeature,
  registerFeature,
  scaled,
  shiftFeatures,
  stretchFeature,
  stringFeatures,
  wishedPitchFeatures,
  wishedStepFeature,
  type Feature,
  type GrammarFeature,
  type MoveContext,
  type MoveFeature,
  type HandOnBass,
  type StepFeature,
} from './features';

export interface CostModel {
  readonly player: HandOnBass;
  readonly tempo: Bpm;
  /** A_t */
  readonly pitch: readonly Feature<[Slot, SoundingMidi]>[];
  /** The part of B_t that is the same at every slot. */
  readonly hold: readonly Feature<[HandOnBass, Placement]>[];
  /** The part of B_t that looks at the slot: its harmony and its length. */
  readonly place: readonly Feature<[Slot, Placement]>[];
  /** R_t */
  readonly step: readonly StepFeature[];
  /** S_t: rules and pairs of steps; without any the line is given, and its notes are not judged. */
  readonly grammar: readonly GrammarFeature[];
  /** True where what the rules never allow is left out; false where wishes or kept notes leave nothing else. */
  readonly isStrict: boolean;
  /** V_t */
  readonly move: readonly MoveFeature[];
}

/** @param comfort weighs the hand against the music; 1 is the weights as they stand, 0 plays anything that can be held */
export function makeCostModel(player: HandOnBass, tempo: Bpm, comfort = 1, isStrict = true): CostModel {
  return {
    player,
    tempo,
    pitch: [degreeFeature, denialFeature, openingFeature, registerFeature, ...wishedPitchFeatures],
    hold: scaled(holdFeatures, comfort),
    place: [openOutsideFeature, ...scaled([stretchFeature(player, tempo)], comfort)],
    step: [intervalFeature, approachFeature, wishedStepFeature],
    grammar: grammarFeatures,
    isStrict,
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
