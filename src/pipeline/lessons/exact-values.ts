// What a lesson's paths are worth, one thing before the next, in one number: notes changed, cost, fingers changed.
import { barrier, moveIndex, pitchAt, type Lattice, type WideCosts } from '../4-solver';

/** What the line before has at a slot. */
export interface NoteBefore {
  readonly midi: number;
  /** Whether a placement of the slot, by index, is held as that note was. */
  readonly isHeldAlike: (placement: number) => boolean;
}

/** By slot; null where the line before has no note. */
export type Before = readonly (NoteBefore | null)[];

/** Whole numbers below 2^53. */
export interface Values extends WideCosts {
  /** A note other than before; more than any two lines can differ in cost and fingers. */
  readonly change: number;
  readonly worthOf: (path: ArrayLike<number>) => number;
}

/** Fingers that can be changed, at most, and thousandths that two lines can differ in. */
const unit = 2 ** 10;
const change = 2 ** 40;

/** @param before null for none: cost alone counts */
export function valuesOf(lattice: Lattice, before: Before | null): Values {
  const { slots } = lattice;
  const unary = slots.map((slot, t) => {
    const note = before?.[t];
    const result = new Float64Array(slot.placements.length);
    slot.pitches.forEach((midi, pitch) => {
      const ofPitch = slot.pitchCosts[pitch]!;
      const isOther = note !== undefined && note !== null && midi !== note.midi;
      for (let h = slot.groupStart[pitch]!; h < slot.groupStart[pitch + 1]!; h++) {
        const cost = slot.placementCosts[h]!;
        const isBlocked = ofPitch >= barrier || cost >= barrier;
        const isHeldOtherwise = note !== undefined && note !== null && !note.isHeldAlike(h);
        const worth = (ofPitch + cost) * unit + (isOther ? change : 0) + (isHeldOtherwise ? 1 : 0);
        result[h] = isBlocked ? Infinity : worth;
      }
    });
    return result;
  });
  const worthOf = (path: ArrayLike<number>): number => {
    let memory = lattice.startMemory;
    return slots.reduce((sum, slot, t) => {
      const own = sum + unary[t]![path[t]!]!;
      const next = slots[t + 1];
      if (!next) return own;
      const at = pitchAt(slot, path[t]!) * next.pitches.length + pitchAt(next, path[t + 1]!);
      const rule = slot.rules[slot.ruleOf[at]!]!;
      const cost = rule.costs[memory]!;
      memory = rule.next[memory]!;
      const move =
        slot.moves.costs[
          moveIndex(
            slot.moves,
            lattice.placementCount,
            slot.placements[path[t]!]!,
            next.placements[path[t + 1]!]!,
          )
        ]!;
      return own + (slot.stepCosts[at]! + cost + move) * unit;
    }, 0);
  };
  return { unary, unit, change, worthOf };
}
