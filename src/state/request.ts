// From the document to what the computation wants.
import { defaultInstrument, findInstrument, withLength, type Instrument } from '../instrument';
import type { WalkRequest } from '../pipeline';
import type { Study } from './document';

/** The bass a study is for, with the player's own string length. */
export function instrumentOf(study: Study): Instrument {
  const instrument = findInstrument(study.instrument) ?? defaultInstrument;
  return study.stringLength === null ? instrument : withLength(instrument, study.stringLength);
}

export const requestOf = (study: Study): WalkRequest => ({
  chartText: study.chartText,
  key: study.key,
  tempo: study.tempo,
  choruses: study.choruses,
  instrument: instrumentOf(study),
  hand: { span: study.span },
  limits: {
    barredPositions: study.barred,
    ...(study.lowStay === null ? {} : { stay: { region: 'low', beats: study.lowStay } }),
  },
  pins: study.pins,
  comfort: study.comfort,
  take: { seed: study.seed, temperature: study.temperature },
});
