// What stays of the line when the study changes.
import type { Study } from './document';
import { letGo, withMarks } from './keeping';

/** Kept notes and pins, numbered as the bars were when both were held. */
export type HeldBefore = Pick<Study, 'kept' | 'pins'>;

export interface CarryOver {
  /** The study before the change. */
  readonly before: Study;
  /** What the bars of the line shown for it were made for; null when none is shown for it yet. */
  readonly marks: readonly string[] | null;
  /** What was held before the run of typing that this change belongs to; null outside such a run. */
  readonly beforeTyping: HeldBefore | null;
}

/**
 * The notes of the line go on over a change that says nothing of them, each bar with what it was made for. At no variety
 * that only tells where locked bars and pins went; the rest of the line is asked for anew (`placedBars`).
 */
export function carryOver(next: Study, { before, marks, beforeTyping }: CarryOver): Study {
  if (next.kept !== before.kept || next.stars !== before.stars) return next;
  const redraws = next.temperature === 0 ? 0 : next.redraws;
  if (beforeTyping) return { ...next, ...beforeTyping, redraws };
  if (marks) return { ...next, kept: withMarks(before.kept, marks), redraws };
  return before.kept.every(({ mark }) => mark !== undefined) ? { ...next, redraws } : letGo(next);
}
