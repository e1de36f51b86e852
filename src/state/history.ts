// Undo and redo over immutable versions. Pure: the clock is an argument.

/** Versions before and after the present one, oldest first and nearest first. */
export interface History<Version> {
  readonly past: readonly Version[];
  readonly present: Version;
  readonly future: readonly Version[];
  /** Name of the group the last change belongs to; null when the next change starts a step of its own. */
  readonly group: string | null;
  /** When the last change was made, in milliseconds. */
  readonly at: number;
}

/** Steps kept; older ones are forgotten. */
export const historyLength = 200;
/** Changes of one group that follow each other within this many milliseconds are one step. */
export const groupPause = 1_200;

export const historyOf = <Version>(present: Version): History<Version> => ({
  past: [],
  present,
  future: [],
  group: null,
  at: 0,
});

/**
 * Makes `next` the present. Changes of the same named group in quick succession (typing, dragging a slider) become one
 * step; a change without a group is always a step of its own. A version identical to the present is ignored.
 *
 * @param pause longest time between two changes of one step, in milliseconds
 */
export function record<Version>(
  history: History<Version>,
  next: Version,
  group: string | null,
  now: number,
  pause: number = groupPause,
): History<Version> {
  if (Object.is(next, history.present)) return history;
  const joins = group !== null && group === history.group && now - history.at <= pause;
  const past = joins ? history.past : [...history.past, history.present].slice(-historyLength);
  return { past, present: next, future: [], group, at: now };
}

/** The present version with something added that is no step of its own. */
export const amend = <Version>(history: History<Version>, present: Version): History<Version> =>
  Object.is(present, history.present) ? history : { ...history, present };

/** Ends the running group: the next change is a step of its own. */
export const closeGroup = <Version>(history: History<Version>): History<Version> =>
  history.group === null ? history : { ...history, group: null };

/** The version before, or the same history when there is none. */
export function undo<Version>(history: History<Version>): History<Version> {
  if (history.past.length === 0) return history;
  const present = history.past.at(-1)!;
  return {
    past: history.past.slice(0, -1),
    present,
    future: [history.present, ...history.future],
    group: null,
    at: history.at,
  };
}

/** The version after, or the same history when there is none. */
export function redo<Version>(history: History<Version>): History<Version> {
  if (history.future.length === 0) return history;
  const present = history.future[0]!;
  return {
    past: [...history.past, history.present],
    present,
    future: history.future.slice(1),
    group: null,
    at: history.at,
  };
}
