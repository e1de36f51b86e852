// Nights for tests, of the charts that come with the program.
import {
  planNight,
  type NightMemory,
  type NightPlan,
  type NightRequest,
  type NightTune,
  type NightWish,
} from '../../src/night';
import type { WalkRequest } from '../../src/pipeline';
import { bpm } from '../../src/music';
import { chartText, requestFor } from '../pipeline/request';

export const tuneOf = (name: string, changes: Partial<WalkRequest> = {}, walked = 1): NightTune => ({
  title: name,
  request: requestFor(chartText(`${name}.txt`), changes),
  walked,
});

/** Four short tunes in two sets, one of them walked only in part. */
export const shortNight = (...wishes: readonly NightWish[]): NightRequest => ({
  sets: [
    [tuneOf('wet-gravel-blues'), tuneOf('slow-tide', {}, 0.5)],
    [tuneOf('three-chairs', { tempo: bpm(190) }), tuneOf('five-steps-down', { choruses: 2 })],
  ],
  wishes,
  takes: 0,
});

const remembered: NightMemory = new Map();

/** The plan of a night whose tunes were planned before, as the page has it: the same as from nothing (plan.test.ts). */
export const planned = (request: NightRequest): NightPlan => planNight(request, undefined, remembered);
