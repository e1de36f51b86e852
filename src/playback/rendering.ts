// The music as samples, computed faster than it sounds: the sounds are read or computed, then mixed by arithmetic alone.
import { fetchSamples, makeBank, toneOfSound } from './bank';
import { deedsOf } from './deeds';
import { mixdown, type SampleBank, type Sides } from './mixdown';
import { renderRate, ringOut, type RenderWishes } from './render-wishes';
import { makeSchedule } from './schedule';
import { computedOnDemand, type StringSource } from './strings';
import { ticksPerQuarter } from '../music';

/** Vibrating length of a usual bass, mm. */
const usualLength = 1060;

/** The computed bass for a rendering; null for a sampled one. */
export function stringsFor({
  music,
  settings,
}: Pick<RenderWishes, 'music' | 'settings'>): StringSource<Float32Array> | null {
  const kind = toneOfSound(settings.bassSound);
  if (!kind) return null;
  const bass = { kind, lengthMm: music.stringLength ?? usualLength };
  return computedOnDemand(bass, 60 / (settings.tempo * ticksPerQuarter), (samples) => samples, renderRate);
}

/** Samples of the band with given sounds: the same to the last bit wherever sines and powers are the same. */
export async function renderWith(
  bank: SampleBank,
  { music, settings, onProgress, signal }: Omit<RenderWishes, 'samples'>,
): Promise<Sides> {
  const schedule = makeSchedule(music, { ...settings, countInBars: 0 });
  const seconds = ((schedule.end - schedule.start) / ticksPerQuarter) * (60 / settings.tempo);
  const length = Math.round((seconds + ringOut) * renderRate);
  const deeds = deedsOf(schedule, settings.tempo, seconds + ringOut);
  return mixdown(deeds, bank, settings, length, renderRate, async (done) => {
    onProgress?.(done);
    // The page may draw and answer between two parts.
    await new Promise((resolve) => setTimeout(resolve));
    signal?.throwIfAborted();
  });
}

/** See `renderMusic`. */
export async function renderSamples(wishes: RenderWishes): Promise<Sides> {
  const { settings, samples: folder, signal } = wishes;
  signal?.throwIfAborted();
  const files = await fetchSamples(folder, settings.bassSound);
  const bank = await makeBank(new OfflineAudioContext(1, 1, renderRate), files, settings.bassSound, null);
  signal?.throwIfAborted();
  const samplesOf = <Name>(buffers: ReadonlyMap<Name, AudioBuffer>): ReadonlyMap<Name, Float32Array> =>
    new Map([...buffers].map(([name, buffer]) => [name, buffer.getChannelData(0)]));
  const { bass, chords, drums } = bank;
  return renderWith(
    {
      bass: samplesOf(bass),
      chords: samplesOf(chords),
      drums: samplesOf(drums),
      strings: stringsFor(wishes),
    },
    wishes,
  );
}
