// A chart without what a spelling or a place in the text adds to it, for comparing charts.
import type { Chord } from '../../../src/music';
import type { Chart } from '../../../src/pipeline/1-chart';

const plainChord = (chord: Chord | null): Chord | null => (chord === null ? null : { ...chord, typed: '' });

/** Leaves out spans and typed spellings. */
export const plainChart = (chart: Chart): unknown => ({
  header: chart.header,
  bars: chart.bars.map((bar) => ({
    ...bar,
    span: null,
    chords: bar.chords.map((place) => ({
      ...place,
      span: null,
      chord: plainChord(place.chord),
      alternates: place.alternates.map(plainChord),
    })),
  })),
});
