// From the document to what the computation wants.
import type { Instrument } from '../instrument';
import type { WalkRequest } from '../pipeline';
import type { Study } from './document';
import { bassIn, handIn, setupLimits } from './setup';

/** The bass a study is for, with the player's own string length, heel and tuning. */
export const instrumentOf = (study: Study): Instrument => bassIn(study).instrument;

export const requestOf = (study: Study): WalkRequest => ({
  chartText: study.chartText,
  key: study.key,
  tempo: study.tempo,
  choruses: study.choruses,
  instrument: instrumentOf(study),
  hand: handIn(study),
  limits: {
    barredPositions: study.barred,
    ...setupLimits(study.setup),
    ...(study.barredStrings.length === 0 ? {} : { barredStrings: study.barredStrings }),
    ...(study.relaxedOnly ? { relaxedOnly: true } : {}),
    ...(study.shares.length === 0 ? {} : { shares: study.shares }),
    ...(study.lowest === null ? {} : { lowest: study.lowest }),
    ...(study.highest === null ? {} : { highest: study.highest }),
    ...(study.highestStop === null ? {} : { highestStop: study.highestStop }),
    ...(study.lowStay === null ? {} : { stay: { region: study.stayIn, beats: study.lowStay } }),
  },
  pins: study.pins,
  comfort: study.comfort,
  feel: study.feel,
  density: study.density,
  ending: study.ending,
  kept: study.kept,
  take: { seed: study.seed, temperature: study.temperature, redraws: study.redraws },
});
