// From the document to what the computation wants.
import { sameKey, type Key } from '../../music';
import type { NightRequest, NightTune } from '../../night';
import type { WalkRequest } from '../../pipeline';
import { requestOf } from '../request';
import { tuneTitle, type Night, type Tune } from './night';

const isSame = (a: Key | null, b: Key | null): boolean => (a && b ? sameKey(a, b) : a === b);

/** What `walk` is asked for a tune tonight. Pins of a note hold in the key they were set in, those of a part in any. */
export function tuneRequest({ study, key, tempo, choruses, feel }: Tune): WalkRequest {
  const pins = isSame(key, study.key) ? study.pins : study.pins.filter(({ role }) => role !== undefined);
  return { ...requestOf({ ...study, key, tempo, choruses, feel, pins }), kept: [] };
}

const nightTune = (tune: Tune): NightTune => ({
  title: tuneTitle(tune),
  request: tuneRequest(tune),
  walked: tune.walked,
});

/** @param takes how many takes of each tune to draw for their spread */
export const nightRequest = ({ sets, wishes }: Night, takes: number): NightRequest => ({
  sets: sets.map(({ tunes }) => tunes.map(nightTune)),
  wishes,
  takes,
});
