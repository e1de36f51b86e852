// A night as it is saved: sets of tunes, breaks, wishes. A tune carries its study as it was when it was taken in, and where it
// came from, so that a change of the study is told and a study that is gone takes nothing with it.
import { tempoRange, type Bpm, type Key } from '../../music';
import type { Feel } from '../../pipeline';
import type { NightWish } from '../../night';
import { newStudy, type Study } from '../study';
import { envelop } from '../envelope';
import { checksum } from '../unpacked';
import { titleOf } from '../titles';

/** The saved study that a tune came from. */
export interface Source {
  readonly id: string;
  /** Of what it was; another mark now means that it has changed. */
  readonly mark: string;
}

export interface Tune {
  /** As it was, without the notes it showed. */
  readonly study: Study;
  /** Null for a bare chart. */
  readonly source: Source | null;
  /** Null for the study's own, then the chart's. */
  readonly key: Key | null;
  readonly tempo: Bpm | null;
  readonly choruses: number;
  /** The part of the tune's time that is walked, from 0 to 1. */
  readonly walked: number;
  readonly feel: Feel | null;
  /** Stays at this end of its set when the order is sought. */
  readonly pinned: 'first' | 'last' | null;
}

export interface NightSet {
  readonly tunes: readonly Tune[];
  /** Minutes between this set and the next. */
  readonly breakAfter: number;
}

export interface Night {
  readonly title: string;
  /** Minutes after midnight; null when it is not known yet. */
  readonly start: number | null;
  /** Minutes from the end of a tune to the next of its set. */
  readonly between: number;
  readonly sets: readonly NightSet[];
  /** At most one of a kind for a region, and one longest stay. */
  readonly wishes: readonly NightWish[];
}

/** Limits of what a night can hold; the restore gate and the controls share them. */
export const nightRange = {
  title: { most: 120 },
  start: { least: 0, most: 24 * 60 - 1 },
  sets: { least: 1, most: 8 },
  tunes: { most: 40 },
  choruses: { least: 1, most: 32 },
  walked: { least: 0, most: 1 },
  between: { least: 0, most: 15 },
  breakAfter: { least: 0, most: 180 },
  minutes: { least: 0, most: 600 },
  stay: { least: 1, most: 600 },
  tempo: tempoRange,
} as const;

export const usualBreak = 20;
/** Minutes to clap, to call the next tune and to count it in; common practice, no source. */
const usualBetween = 1;
const usualChoruses = 6;

export const emptySet: NightSet = { tunes: [], breakAfter: usualBreak };
export const newNight = (title: string): Night => ({
  title,
  start: null,
  between: usualBetween,
  sets: [emptySet],
  wishes: [],
});

/** What a study asks for, without the notes shown for it and its takes kept apart. */
export const bared = (study: Study): Study => ({ ...study, kept: [], stars: [], redraws: 0 });

/** Tells what a study is; the take and the notes it shows do not count. */
export const studyChecksum = (study: Study): string =>
  checksum(JSON.stringify(envelop({ ...bared(study), seed: 1 }).study));

/** @param id of the saved study; null for one that nobody saved */
export const tuneOf = (study: Study, id: string | null): Tune => ({
  study: bared(study),
  source: id === null ? null : { id, mark: studyChecksum(study) },
  key: study.key,
  tempo: study.tempo,
  choruses: Math.max(study.choruses, usualChoruses),
  walked: 1,
  feel: study.feel,
  pinned: null,
});

/** A bare chart, on the bass and for the hand of a study. */
export const chartTune = (
  chartText: string,
  { instrument, stringLength, span, setup, barred }: Study,
): Tune => tuneOf(newStudy(chartText, { instrument, stringLength, span, setup, barred }), null);

export const tuneTitle = ({ study }: Tune): string => titleOf(study.chartText) ?? '';

/** What became of the study that a tune came from. */
export type OriginState = 'same' | 'changed' | 'gone';

/** @param study as it is saved now; null when it is gone */
export function toldOf({ source }: Tune, study: Study | null): OriginState {
  if (source === null) return 'same';
  if (study === null) return 'gone';
  return studyChecksum(study) === source.mark ? 'same' : 'changed';
}

/** The tune with its study as it is now; key, tempo and the rest stay what the night says. */
export const renewed = (tune: Tune, study: Study): Tune => ({
  ...tune,
  study: bared(study),
  source: tune.source && { ...tune.source, mark: studyChecksum(study) },
});

/** The tune as a bare chart: nothing more is told of where it came from. */
export const detached = (tune: Tune): Tune => ({ ...tune, source: null });
