// The line under the title: key, meter, feel, bass, hand and limits in a few words.
import { positionName, type HandPosition, type Instrument } from '../../instrument';
import type { Chart, Timeline } from '../../pipeline';
import type { Study } from '../../state';
import { feelWords, keyText, meterText, words } from '../words';

interface Summed {
  readonly study: Study;
  readonly chart: Chart | null;
  readonly shown: { readonly timeline: Timeline } | null;
  readonly instrument: Instrument;
}

/** Barred positions named one by one; more are counted. */
const mostNamed = 3;

const barredText = (barred: readonly HandPosition[]): string[] => {
  if (barred.length === 0) return [];
  if (barred.length > mostNamed) return [words.header.barredMany(barred.length)];
  return [words.header.barred(barred.map(positionName))];
};

/** "F · 4/4 · swing · 3/4 bass, span 150 mm · no half position". */
export function summaryOf({ study, chart, shown, instrument }: Summed): string {
  const key = study.key ?? chart?.header.key ?? shown?.timeline.key ?? null;
  const [bass = instrument.name] = instrument.name.split(',');
  return [
    ...(key ? [keyText(key)] : []),
    ...(chart ? [meterText(chart.header.meter), feelWords[chart.header.feel]] : []),
    words.header.bass(bass, study.span),
    ...barredText(study.barred),
  ].join(' · ');
}
