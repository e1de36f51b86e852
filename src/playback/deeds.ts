// Everything the band does in one time through, with its time: what a conductor hands over, written down.
import { Conductor } from './conductor';
import type { Bpm } from '../music';
import type { Part, PlaybackEvent, Schedule } from './types';

export type Deed =
  { readonly time: number; readonly event: PlaybackEvent } | { readonly time: number; readonly damps: Part };

/** In order, seconds from the first note. */
export function deedsOf(schedule: Schedule, tempo: Bpm, seconds: number): readonly Deed[] {
  const deeds: Deed[] = [];
  const sink = {
    strike: (event: PlaybackEvent, time: number): void => void deeds.push({ time, event }),
    damp: (part: Part, time: number): void => void deeds.push({ time, damps: part }),
  };
  new Conductor({ ...schedule, goesRound: false }, tempo, 0, sink).advance(seconds);
  return deeds;
}
