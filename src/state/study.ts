// One saved piece of work: what it holds, how far its values go, how a fresh one starts.
import type { Key } from '../music';
import { defaultInstrument, type HandPosition, type StringNumber } from '../instrument';
import type {
  GroundId,
  HeightWish,
  KeptBar,
  LayerId,
  OwnLine,
  Pin,
  ShapeWish,
  ShareLimit,
} from '../pipeline';
import type { StarredTake } from './keeping';
import { plainDefaults, type PlainSettings } from '../pipeline';
import { defaultSetup, type Setup } from './setup';

/** A lesson by its names: a layer on a ground, and the layer whose line it changes, null for none. */
export interface LessonNames {
  readonly layer: LayerId;
  readonly ground: GroundId;
  readonly from: LayerId | null;
}

/** One saved piece of work. Everything else on the screen is computed from it. Its plain values are rows of a table. */
export interface Study extends PlainSettings {
  /** The chart as typed; its title line names the study. */
  readonly chartText: string;
  /** The key to play in; null for the chart's own. */
  readonly key: Key | null;
  /** Id of the instrument. */
  readonly instrument: string;
  /** The rest about bass and hand. */
  readonly setup: Setup;
  /** Positions the hand must not use, ascending. */
  readonly barred: readonly HandPosition[];
  /** What must hold at single beats, at most one a beat. */
  readonly pins: readonly Pin[];
  /** Number of the take; it seeds the draw. */
  readonly seed: number;
  /** Strings the line does not use, ascending. */
  readonly barredStrings: readonly StringNumber[];
  /** The largest shares of all beats in regions of the neck, at most one a region. */
  readonly shares: readonly ShareLimit[];
  /** The way the line takes through its sections, at most one a section. */
  readonly shapes: readonly ShapeWish[];
  /** Heights drawn for bars of the form, at most one a bar; they go before shapes. */
  readonly heights: readonly HeightWish[];
  /** The notes last shown, bar by bar; none before the first line. */
  readonly kept: readonly KeptBar[];
  /** How often bars of this take were drawn anew. */
  readonly redraws: number;
  readonly stars: readonly StarredTake[];
  /** The lesson that lies on the sheet in place of the line; null when the line does. */
  readonly lesson: LessonNames | null;
  /** A line of the player's own over the changes, in place of a walked one; null for none. */
  readonly own: OwnLine | null;
}

/** Limits of what a study can hold; the restore gate and the controls share them. */
export const studyRange = {
  chartText: { most: 60_000 },
  seed: { least: 1, most: 999_999 },
  position: { least: 1, most: 24 },
  share: { least: 0, most: 1 },
  pins: { most: 2_000 },
  shapes: { most: 64, label: 80 },
  heights: { most: 1_000, height: { least: 0, most: 1 } },
} as const;

/** How a fresh study starts, apart from its chart. */
export const studyDefaults: Omit<Study, 'chartText'> = {
  ...plainDefaults,
  key: null,
  instrument: defaultInstrument.id,
  setup: defaultSetup,
  barred: [],
  pins: [],
  seed: 1,
  barredStrings: [],
  shares: [],
  shapes: [],
  heights: [],
  kept: [],
  redraws: 0,
  stars: [],
  lesson: null,
  own: null,
};

export const newStudy = (chartText: string, wishes: Partial<Study> = {}): Study => ({
  ...studyDefaults,
  ...wishes,
  chartText,
});
