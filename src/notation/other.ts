// Where the head of a note would stand that is not part of the layout.
import type { SpelledPitch } from '../music';
import { ledgerSteps, staffStep } from './pitches';

/** Height of a head and of its ledger lines. @param top y of the top staff line @param sounding in the sounding octave */
export function otherHeadPlace(
  sounding: SpelledPitch,
  top: number,
  space: number,
): { readonly y: number; readonly ledgers: readonly number[] } {
  const yOf = (step: number): number => top + (8 - step) * (space / 2);
  const step = staffStep(sounding);
  return { y: yOf(step), ledgers: ledgerSteps(step).map(yOf) };
}
