// One meaning for one file: what is played is the same on the screen, from the command line and through every round trip.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chartToAbc, chartToMusicXml } from '../../../src/export';
import { importText, printChart, readChart, readChartFile, type Chart } from '../../../src/pipeline';
import { unroll } from '../../../src/pipeline/2-timeline';
import { openedAs } from '../../../src/state/chart-file';
import { anyFineChart } from './any-chart';
import { anyAbcForm, anyScoreForm } from './any-form';

const seed = 20291;

/** Every chord in playing order at its tick, with what else is heard or seen of it; two choruses. */
function playedOf({ header, bars }: Chart): unknown {
  const played = unroll({ header, bars }, 2).bars.map(({ chartBar, chorus }) => {
    const { meter, section, pickup, chords } = bars[chartBar]!;
    const said = chords.map(({ chord, offset, length, optional, scale, alternates }) => [
      chord?.symbol ?? 'N.C.',
      chord?.tones.map(({ note }) => note).join(' ') ?? '',
      offset,
      length,
      optional,
      scale ?? '',
      alternates.map(({ symbol }) => symbol).join(' '),
    ]);
    return [chorus, `${meter.beats}/${meter.unit}`, section, pickup, said];
  });
  return { ...header, played };
}

/** As a file is opened on the screen: through the chart text that the person then sees. */
function onScreen(text: string): Chart {
  const opened = openedAs(readChartFile(text));
  if (opened.kind !== 'opened') throw new Error(opened.fault);
  return readChart(opened.text).chart;
}

describe('a chart is played the same', () => {
  const formats = {
    MusicXML: chartToMusicXml,
    ABC: chartToAbc,
    'chart text': printChart,
  };
  it.each(Object.entries(formats))(
    'as %s, on the screen and from the command line',
    (_, print) => {
      fc.assert(
        fc.property(anyFineChart, (chart) => {
          const text = print(chart);
          const expected = playedOf(chart);
          expect(playedOf(importText(text).chart)).toEqual(expected);
          expect(playedOf(onScreen(text))).toEqual(expected);
        }),
        { seed, numRuns: 400 },
      );
    },
    300_000,
  );
});

describe('whatever signs of the form stand in a file, it is played the same', () => {
  it.each([
    ['MusicXML', anyScoreForm],
    ['ABC', anyAbcForm],
  ] as const)(
    '%s',
    (_, anyText) => {
      fc.assert(
        fc.property(anyText, (text) => {
          expect(playedOf(onScreen(text))).toEqual(playedOf(importText(text).chart));
        }),
        { seed, numRuns: 1000 },
      );
    },
    300_000,
  );
});
