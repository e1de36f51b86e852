// From the document to what the computation wants.
import type { Instrument } from '../instrument';
import type { LineWishes, WalkRequest } from '../pipeline';
import type { Study } from './document';
import { plainPart } from '../pipeline';
import { bassIn, handIn, setupLimits } from './setup';

/** The bass a study is for, with the player's own string length, heel and tuning. */
export const instrumentOf = (study: Study): Instrument => bassIn(study).instrument;

/** What the study wishes of its line; nothing where it wishes for nothing. */
const wishesIn = (study: Study): LineWishes => ({
  ...plainPart(study, 'wishes'),
  ...(study.shapes.length === 0 ? {} : { shapes: study.shapes }),
  ...(study.heights.length === 0 ? {} : { heights: study.heights }),
});

export const requestOf = (study: Study): WalkRequest => ({
  ...plainPart(study, 'request'),
  chartText: study.chartText,
  key: study.key,
  tempo: study.tempo,
  instrument: instrumentOf(study),
  hand: handIn(study),
  limits: {
    barredPositions: study.barred,
    ...setupLimits(study.setup),
    ...(study.barredStrings.length === 0 ? {} : { barredStrings: study.barredStrings }),
    ...plainPart(study, 'limits'),
    ...(study.shares.length === 0 ? {} : { shares: study.shares }),
    ...(study.lowStay === null ? {} : { stay: { region: study.stayIn, beats: study.lowStay } }),
  },
  wishes: wishesIn(study),
  pins: study.pins,
  kept: study.kept,
  ...(study.own ? { own: study.own } : {}),
  take: { seed: study.seed, temperature: study.temperature, redraws: study.redraws },
});
