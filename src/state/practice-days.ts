// Seconds played by day, for this week beside the usual one. Kept on this device and nowhere else.
import * as v from 'valibot';
import type { TextStorage } from './preferences';

export const daysKey = 'ramble.practice.days';
/** Days remembered: nine weeks, this one among them. */
const mostDays = 63;
const week = 7;

/** Seconds by day, "2030-02-28". */
export type Days = Readonly<Record<string, number>>;

const daysSchema = v.record(
  v.pipe(v.string(), v.regex(/^\d{4}-\d{2}-\d{2}$/)),
  v.pipe(v.number(), v.minValue(0), v.maxValue(24 * 3600)),
);

/** Days since 1970; whole, as both ends are midnight by universal time. */
const dayNumber = (day: string): number => Date.parse(`${day}T00:00:00Z`) / 86_400_000;

export function readDays(storage: TextStorage | null): Days {
  try {
    const result = v.safeParse(daysSchema, JSON.parse(storage?.getItem(daysKey) ?? '{}'));
    return result.success ? result.output : {};
  } catch {
    return {};
  }
}

/** With more seconds on a day; what is too long ago is forgotten. */
export function addToDays(days: Days, day: string, seconds: number): Days {
  const last = dayNumber(day);
  const kept = Object.entries(days).filter(([one]) => last - dayNumber(one) < mostDays);
  const sum = Object.fromEntries(kept);
  return { ...sum, [day]: Math.min(24 * 3600, (sum[day] ?? 0) + seconds) };
}

/** Minutes of the seven days up to today, and of a usual week before them. */
export interface WeekBeside {
  readonly minutes: number;
  /** Mean of the weeks before, from the first in which anything was played; null when there is none. */
  readonly usual: number | null;
  readonly weeks: number;
}

export function weekBeside(days: Days, today: string): WeekBeside {
  const last = dayNumber(today);
  const weeks: number[] = [];
  for (const [day, seconds] of Object.entries(days)) {
    const ago = last - dayNumber(day);
    if (ago < 0 || ago >= mostDays) continue;
    const at = Math.floor(ago / week);
    while (weeks.length <= at) weeks.push(0);
    weeks[at]! += seconds / 60;
  }
  const [minutes = 0, ...before] = weeks;
  const usual = before.length === 0 ? null : before.reduce((sum, one) => sum + one, 0) / before.length;
  return { minutes, usual, weeks: before.length };
}

export function writeDays(storage: TextStorage | null, days: Days): void {
  try {
    storage?.setItem(daysKey, JSON.stringify(days));
  } catch {
    // A browser without room forgets the minutes; playing goes on.
  }
}
