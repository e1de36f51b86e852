// Places in a bar as they are typed: `F7@2.75`, `F7@2+1/3` begin a chord there, beats counted from 1.
import type { Meter } from '../../music';
import { beatTicks } from './meter';

const amountPattern = /^(\d{1,2}(?:\.\d{1,4})?)(?:\+(\d{1,4})\/(\d{1,4}))?$/u;

/** A number of beats: "2", "2.75", "2+1/3"; undefined when the text is none. */
export function readBeats(text: string): number | undefined {
  const match = amountPattern.exec(text);
  if (match === null) return undefined;
  const [, whole, over = '0', under = '1'] = match;
  const beats = Number(whole) + Number(over) / Number(under);
  return Number.isFinite(beats) ? beats : undefined;
}

/** Beats from the beginning of the bar to the place that a text names; undefined when it names none. */
export function readPlace(text: string): number | undefined {
  const beats = readBeats(text);
  return beats === undefined || beats < 1 ? undefined : beats - 1;
}

const divisor = (a: number, b: number): number => (b === 0 ? a : divisor(b, a % b));

/** A number of beats given in ticks, exactly: "2.75" where three decimals are enough, "2+1/3" where they are not. */
export function beatsText(ticks: number, meter: Meter): string {
  const beat = beatTicks(meter);
  if ((ticks * 1000) % beat === 0) return String(ticks / beat);
  const over = ticks % beat;
  const common = divisor(over, beat);
  return `${Math.floor(ticks / beat)}+${over / common}/${beat / common}`;
}

/** The place so many ticks after the beginning of a bar, counted from 1. */
export const placeText = (ticks: number, meter: Meter): string => beatsText(ticks + beatTicks(meter), meter);
