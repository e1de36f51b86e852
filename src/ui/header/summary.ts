// The line under the title: key, meter, feel, bass, hand and limits in a few words.
import type { Instrument } from '../../instrument';
import type { Chart, Timeline } from '../../pipeline';
import type { Study } from '../../state';
import { feelWords, keyText, meterText, words } from '../words';

interface Summed {
  readonly study: Study;
  readonly chart: Chart | null;
  readonly shown: { readonly timeline: Timeline } | null;
  readonly instrument: Instrument;
}

/** The first limit by name, the others by their number. */
function limitsText([first, ...others]: readonly string[]): string[] {
  if (first === undefined) return [];
  return [others.length === 0 ? first : words.header.andMore(first, others.length)];
}

/**
 * "F · 4/4 · swing · 3/4 bass, span 150 mm · half barred and 2 more limits".
 * @param limits those in force, each in words
 */
export function summaryOf({ study, chart, shown, instrument }: Summed, limits: readonly string[]): string {
  const key = study.key ?? chart?.header.key ?? shown?.timeline.key ?? null;
  const [bass = instrument.name] = instrument.name.split(',');
  const feel = study.feel ?? chart?.header.feel;
  return [
    ...(key ? [keyText(key)] : []),
    ...(chart ? [meterText(chart.header.meter)] : []),
    ...(feel ? [feelWords[feel]] : []),
    words.header.bass(bass, study.span),
    ...limitsText(limits),
  ].join(' · ');
}
