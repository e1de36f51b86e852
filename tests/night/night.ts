// Nights for tests, of the charts that come with the program.
import {
  planNight,
  type NightCaches,
  type NightPlan,
  type NightRequest,
  type NightTune,
  type NightWish,
} from '../../src/night';
import { walk, type OwnNote, type WalkRequest } from '../../src/pipeline';
import { bpm } from '../../src/music';
import { chartText, requestFor } from '../pipeline/request';

export const tuneOf = (name: string, changes: Partial<WalkRequest> = {}, walked = 1): NightTune => ({
  title: name,
  request: requestFor(chartText(`${name}.txt`), changes),
  walked,
});

/** The same tune with the notes of its best line written out: a line of the player's own, whose fingers are ours to find. */
export function ownTuneOf(name: string): NightTune {
  const tune = tuneOf(name);
  const { line, timeline } = walk(tune.request);
  const { bars } = timeline!;
  const notes = line!.notes.flatMap(({ slot, ticks, midi }): OwnNote[] => {
    const { chartBar, tick } = bars[slot.bar]!;
    const isAgain = bars.findIndex((bar) => bar.chartBar === chartBar) < slot.bar;
    const held = { string: null, finger: null, otherFingers: [] };
    return isAgain ? [] : [{ bar: chartBar, at: slot.tick - tick, ticks, midi, ...held }];
  });
  return { ...tune, request: { ...tune.request, own: { notes, fingering: 'ours' } } };
}

/** Four short tunes in two sets, one of them walked only in part. */
export const shortNight = (...wishes: readonly NightWish[]): NightRequest => ({
  sets: [
    [tuneOf('wet-gravel-blues'), tuneOf('slow-tide', {}, 0.5)],
    [tuneOf('three-chairs', { tempo: bpm(190) }), tuneOf('five-steps-down', { choruses: 2 })],
  ],
  wishes,
  takes: 0,
});

const remembered: NightCaches = new Map();

/** The plan of a night whose tunes were planned before, as the page has it: the same as from nothing (plan.test.ts). */
export const planned = (request: NightRequest): NightPlan => planNight(request, undefined, remembered);
