// The way through a night on a music stand: tune after tune, a break between the sets.
import type { NightPlan, TunePlan } from '../../night';
import { nightTimes, type Night } from '../../state/night';

export type StandStep =
  | { readonly kind: 'tune'; readonly set: number; readonly plan: TunePlan }
  | {
      readonly kind: 'break';
      /** The set that it comes after. */
      readonly set: number;
      readonly minutes: number;
      /** When the next set begins, in minutes after midnight; null when the night's start is not known. */
      readonly until: number | null;
    };

/** Sets without a tune have no break after them. */
export function standSteps(night: Night, plan: NightPlan): readonly StandStep[] {
  const times = nightTimes(night, plan);
  const lastSet = plan.sets.findLastIndex((tunes) => tunes.length > 0);
  return plan.sets.flatMap((tunes, set): StandStep[] => {
    const steps: StandStep[] = tunes.map((one) => ({ kind: 'tune', set, plan: one }));
    const minutes = night.sets[set]?.breakAfter ?? 0;
    if (tunes.length === 0 || set >= lastSet || minutes === 0) return steps;
    const next = times[set + 1];
    const until = night.start === null || !next ? null : night.start + next.from;
    return [...steps, { kind: 'break', set, minutes, until }];
  });
}

/** The tune after a step, null at the end. */
export const nextTune = (steps: readonly StandStep[], at: number): TunePlan | null =>
  steps.slice(at + 1).flatMap((step) => (step.kind === 'tune' ? [step.plan] : []))[0] ?? null;

/** "12:05": what is left of a break, nought once it is over. */
export function leftText(minutes: number, secondsGone: number): string {
  const left = Math.max(0, Math.round(minutes * 60 - secondsGone));
  return `${Math.floor(left / 60)}:${String(left % 60).padStart(2, '0')}`;
}
