// A chart in another key.
import {
  inferKey,
  keyNotes,
  makeKey,
  transposeChord,
  transposeKey,
  transpositionTo,
  type Chord,
  type IntervalName,
  type Key,
  type NoteName,
} from '../../music';
import type { Chart, ChartBar, ChartChord } from './types';

/** The key of the heading, or else the one its chords are most likely in. */
export function keyOfChart(chart: Chart): Key {
  if (chart.header.key !== null) return chart.header.key;
  return inferKey(
    chart.bars.flatMap((bar) => bar.chords.flatMap(({ chord }) => (chord === null ? [] : [chord]))),
  );
}

function movedPlace(place: ChartChord, interval: IntervalName, inKey: readonly NoteName[]): ChartChord {
  const moved = (chord: Chord): Chord => transposeChord(chord, interval, inKey);
  return {
    ...place,
    chord: place.chord === null ? null : moved(place.chord),
    alternates: place.alternates.map(moved),
  };
}

/**
 * The chart with its tonic moved to that of `to`; a major chart stays major and a minor one minor, whatever mode `to`
 * has. Key changes move along, each to a key of at most seven accidentals, and every root is spelled for its key.
 */
export function transposeChart(chart: Chart, to: Key): Chart {
  const from = keyOfChart(chart);
  const arrival = makeKey(to.tonic, from.mode, from.church);
  const { interval } = transpositionTo(from, arrival);
  let key = arrival;
  const bars = chart.bars.map((bar): ChartBar => {
    const keyChange = bar.keyChange === null ? null : transposeKey(bar.keyChange, interval);
    key = keyChange ?? key;
    const inKey = keyNotes(key);
    return { ...bar, keyChange, chords: bar.chords.map((place) => movedPlace(place, interval, inKey)) };
  });
  return { header: { ...chart.header, key: arrival }, bars };
}
