// The music as samples, computed faster than it sounds: stretch by stretch, so that it can tell how far it is, be stopped,
// and never holds more of the sound graph than a few seconds need.
import { OfflineContext } from './tone-library';
import { fetchSamples, makeBank, type Bank } from './bank';
import { Conductor, type Sink } from './conductor';
import { makeSchedule } from './schedule';
import { ticksPerQuarter } from '../music';
import { Band, Desk } from './tone-band';
import { renderRate as sampleRate, ringOut, type RenderWishes } from './render-wishes';
import type { Part, PlaybackEvent } from './types';

/** Seconds of music worked out in one go. */
const stretch = 8;
/** Seconds that what began in a stretch rings on after it: no sound of the band is longer. */
const tail = 4;
/** Seconds before a stretch, so that nothing is cut off that begins with it. */
const lead = 0.05;

type Deed =
  { readonly time: number; readonly event: PlaybackEvent } | { readonly time: number; readonly damps: Part };

/** Everything the band does, in order, with its time in seconds from the first note. */
function deedsOf({ music, settings }: RenderWishes, seconds: number): readonly Deed[] {
  const deeds: Deed[] = [];
  const sink: Sink = {
    strike: (event, time) => deeds.push({ time, event }),
    damp: (part, time) => deeds.push({ time, damps: part }),
  };
  const schedule = makeSchedule(music, { ...settings, countInBars: 0 });
  // Once through, whatever goes round.
  const once = { ...schedule, goesRound: false };
  new Conductor(once, settings.tempo, 0, sink).advance(seconds + tail);
  return deeds;
}

/** What begins within a stretch, and every damping from its start on. */
async function renderStretch(
  deeds: readonly Deed[],
  from: number,
  bank: Bank,
  { settings }: RenderWishes,
): Promise<Float32Array> {
  const context = new OfflineContext(1, lead + stretch + tail, sampleRate);
  const desk = new Desk(context, settings.mix);
  const band = new Band(desk, bank);
  for (const deed of deeds) {
    const at = lead + deed.time - from;
    if (deed.time < from) continue;
    if ('damps' in deed) {
      if (at < lead + stretch + tail) band.damp(deed.damps, at);
    } else if (deed.time < from + stretch) band.strike(deed.event, at);
  }
  const buffer = await context.render(false);
  const samples = buffer.getChannelData(0).slice();
  desk.dispose();
  buffer.dispose();
  context.dispose();
  return samples;
}

/** See `renderMusic`. */
export async function renderSamples(wishes: RenderWishes): Promise<Float32Array> {
  const { music, settings, samples: folder, onProgress, signal } = wishes;
  signal?.throwIfAborted();
  const files = await fetchSamples(folder, settings.bassSound);
  const bank = await makeBank(new OfflineAudioContext(1, 1, sampleRate), files, settings.bassSound);
  const { start, end } = makeSchedule(music, { ...settings, countInBars: 0 });
  const seconds = ((end - start) / ticksPerQuarter) * (60 / settings.tempo);
  const whole = new Float32Array(Math.round((seconds + ringOut) * sampleRate));
  const deeds = deedsOf(wishes, seconds);
  for (let from = 0; from < seconds; from += stretch) {
    signal?.throwIfAborted();
    const part = await renderStretch(deeds, from, bank, wishes);
    const offset = Math.round((from - lead) * sampleRate);
    for (let i = Math.max(0, -offset); i < part.length && i + offset < whole.length; i++) {
      whole[i + offset]! += part[i]!;
    }
    onProgress?.(Math.min(1, (from + stretch) / seconds));
    // The page may draw and answer between two stretches.
    await new Promise((resolve) => setTimeout(resolve));
  }
  signal?.throwIfAborted();
  return whole;
}
