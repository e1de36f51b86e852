// One saved piece of work: what it holds, how far its values go, how a fresh one starts.
import { tempoRange, type Bpm, type Key, type Millimetres, type SoundingMidi } from '../music';
import {
  defaultHand,
  defaultInstrument,
  lengthRange,
  spanRange,
  type HandPosition,
  type StringNumber,
} from '../instrument';
import type { EndingWish, Feel, KeptBar, Pin, ShareLimit, StayPlace } from '../pipeline';
import type { StarredTake } from './keeping';
import { defaultSetup, type Setup } from './setup';

/** One saved piece of work. Everything else on the screen is computed from it. */
export interface Study {
  /** The chart as typed; its title line names the study. */
  readonly chartText: string;
  /** The key to play in; null for the chart's own. */
  readonly key: Key | null;
  /** Null for the chart's own. */
  readonly tempo: Bpm | null;
  readonly choruses: number;
  /** Id of the instrument. */
  readonly instrument: string;
  /** Vibrating length of the strings; null for the instrument's usual one. */
  readonly stringLength: Millimetres | null;
  /** Index to little finger, flat on a table. */
  readonly span: Millimetres;
  /** The rest about bass and hand. */
  readonly setup: Setup;
  /** Positions the hand must not use, ascending. */
  readonly barred: readonly HandPosition[];
  /** Beats the hand may stay in one region in one go; null for as long as it likes. */
  readonly lowStay: number | null;
  /** In which region, or in any one of them. */
  readonly stayIn: StayPlace;
  /** What must hold at single beats, at most one a beat. */
  readonly pins: readonly Pin[];
  /** Weighs the hand against the music: 1 as usual. */
  readonly comfort: number;
  /** Number of the take; it seeds the draw. */
  readonly seed: number;
  /** 0 is the best line there is, 1 varies as people do. */
  readonly temperature: number;
  /** Null for the chart's own. */
  readonly feel: Feel | null;
  /** Skips, drops, triplets, anticipations: 0 for none, 1 for the most. */
  readonly density: number;
  readonly ending: EndingWish;
  /** Strings the line does not use, ascending. */
  readonly barredStrings: readonly StringNumber[];
  readonly lowest: SoundingMidi | null;
  readonly highest: SoundingMidi | null;
  /** Semitones up a string; null for as far as walking lines go. */
  readonly highestStop: number | null;
  readonly relaxedOnly: boolean;
  /** The largest shares of all beats in regions of the neck, at most one a region. */
  readonly shares: readonly ShareLimit[];
  /** The notes last shown, bar by bar; none before the first line. */
  readonly kept: readonly KeptBar[];
  /** How often bars of this take were drawn anew. */
  readonly redraws: number;
  readonly stars: readonly StarredTake[];
}

/** Limits of what a study can hold; the restore gate and the controls share them. */
export const studyRange = {
  chartText: { most: 60_000 },
  choruses: { least: 1, most: 16 },
  span: spanRange,
  stringLength: lengthRange,
  seed: { least: 1, most: 999_999 },
  temperature: { least: 0, most: 1 },
  position: { least: 1, most: 24 },
  lowStay: { least: 1, most: 32 },
  comfort: { least: 0, most: 3 },
  density: { least: 0, most: 1 },
  midi: { least: 16, most: 84 },
  stop: { least: 1, most: 24 },
  share: { least: 0, most: 1 },
  pins: { most: 2_000 },
  tempo: tempoRange,
} as const;

/** How a fresh study starts, apart from its chart. */
export const studyDefaults: Omit<Study, 'chartText'> = {
  key: null,
  tempo: null,
  choruses: 1,
  instrument: defaultInstrument.id,
  stringLength: null,
  span: defaultHand.span,
  setup: defaultSetup,
  barred: [],
  lowStay: null,
  stayIn: 'low',
  pins: [],
  comfort: 1,
  seed: 1,
  temperature: 1,
  feel: null,
  density: 0,
  ending: 'round',
  barredStrings: [],
  lowest: null,
  highest: null,
  highestStop: null,
  relaxedOnly: false,
  shares: [],
  kept: [],
  redraws: 0,
  stars: [],
};

export const newStudy = (chartText: string, wishes: Partial<Study> = {}): Study => ({
  ...studyDefaults,
  ...wishes,
  chartText,
});
