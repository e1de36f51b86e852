// Where the thumb is when a line begins: under the hand.
import { thumbOf } from '../../instrument';
import { emptySets, leftOf, type KnownSets, type SlotCandidates } from './candidates';

/** The candidates without placements at the first slot that only a pivot leads to. */
export function beginUnderHand(
  candidates: readonly SlotCandidates[],
  known: KnownSets = emptySets(),
): readonly SlotCandidates[] {
  const [first, ...rest] = candidates;
  if (!first) return candidates;
  return [{ ...leftOf(first, known, (one) => thumbOf(one) === 0), slot: first.slot }, ...rest];
}
