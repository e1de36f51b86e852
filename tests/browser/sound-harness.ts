// Runs the player's own code in a page for sound.spec.ts: renders it offline into numbers, or plays it as a person would.
import { OfflineContext } from 'tone/build/esm/core/context/OfflineContext.js';
import { setContext } from 'tone/build/esm/core/context/GlobalContext.js';
import type { Bpm } from '../../src/music';
import {
  makeSchedule,
  parts,
  type Mix,
  type Part,
  type PlaybackSettings,
  type Schedule,
} from '../../src/playback';
import { fetchSamples, makeBank, sampleFiles, type Bank } from '../../src/playback/bank';
import { onsetOf } from '../../src/playback/onset';
import { Player } from '../../src/playback/tone';
import { Engine } from '../../src/playback/tone-engine';
import { drumSounds, type SwapMoment } from '../../src/playback/types';
import { musicOf, settingsWith, type Moment } from '../playback/fixtures';

export interface Take {
  readonly chart: string;
  readonly moments?: readonly Moment[];
  readonly settings?: Partial<PlaybackSettings>;
}

/** Something done while playing, at a time of the audio clock. */
export interface Deed {
  readonly at: number;
  readonly tempo?: number;
  readonly mix?: Mix;
  readonly take?: Take;
  readonly moment?: SwapMoment;
  readonly stop?: boolean;
  /** Plays again from the start, so many seconds later. */
  readonly restartAt?: number;
}

export interface Wish extends Take {
  readonly sounds: 'clicks' | 'samples' | 'substitutes';
  /** Parts that are heard, at full level. */
  readonly only: readonly Part[];
  readonly startAt: number;
  readonly seconds: number;
  readonly deeds?: readonly Deed[];
}

const sampleRate = 44_100;

const mixOf = (only: readonly Part[]): Mix => {
  const entries = parts.map((part) => [part, { on: only.includes(part), level: 1 }] as const);
  return Object.fromEntries(entries) as unknown as Mix;
};

/** A click that starts at full height, so that an onset is a single number; wide enough not to fall between two samples. */
function clickBuffer(): AudioBuffer {
  const buffer = new AudioBuffer({ length: 64, numberOfChannels: 1, sampleRate });
  buffer.getChannelData(0).fill(0.5, 0, 16);
  return buffer;
}

function clickBank(): Bank {
  const click = clickBuffer();
  const notes = new Map(Array.from({ length: 100 }, (_, midi) => [midi, click] as const));
  return {
    bass: notes,
    chords: notes,
    drums: new Map(drumSounds.map((sound) => [sound, click])),
    substitutes: [],
  };
}

async function bankOf(sounds: Wish['sounds']): Promise<Bank> {
  if (sounds === 'clicks') return clickBank();
  const files = sounds === 'samples' ? await fetchSamples('/samples/') : new Map<string, ArrayBuffer>();
  return makeBank(new OfflineAudioContext(1, 1, sampleRate), files);
}

const scheduleOf = ({ chart, moments, settings }: Take): Schedule =>
  makeSchedule(musicOf(chart, moments), settingsWith(settings ?? {}));

let rendered = new Float32Array();

/** Renders what the person would hear. Returns how much the run held at its end. */
async function render(wish: Wish): Promise<number> {
  const bank = await bankOf(wish.sounds);
  const context = new OfflineContext(1, wish.seconds, sampleRate);
  setContext(context);
  const engine = new Engine(context, mixOf(wish.only));
  const tempo = settingsWith(wish.settings ?? {}).tempo;
  const start = (take: Take, at: number): void => {
    engine.start(
      bank,
      { schedule: scheduleOf(take), tempo, onPass: () => undefined, onEnd: () => undefined },
      at,
    );
  };
  start(wish, wish.startAt);
  const deeds = [...(wish.deeds ?? [])].sort((a, b) => a.at - b.at);
  let held = 0;
  context.on('tick', () => {
    while (deeds[0] && deeds[0].at <= context.currentTime) {
      const deed = deeds.shift()!;
      if (deed.tempo !== undefined) engine.setTempo(deed.tempo as Bpm);
      if (deed.mix) engine.setMix(deed.mix);
      if (deed.stop) engine.stop();
      if (deed.restartAt !== undefined) start(deed.take ?? wish, deed.restartAt);
      else if (deed.take) engine.replace(scheduleOf(deed.take), deed.moment ?? 'next beat');
    }
    held = engine.size;
  });
  const buffer = await context.render();
  rendered = buffer.getChannelData(0).slice();
  return held;
}

/** Seconds of every rise over a level that follows at least `gap` seconds under it. */
function onsets(level: number, gap: number): number[] {
  const found: number[] = [];
  let last = -Infinity;
  rendered.forEach((value, i) => {
    if (Math.abs(value) < level) return;
    if (i - last > gap * sampleRate) found.push(i / sampleRate);
    last = i;
  });
  return found;
}

function rms(from: number, to: number): number {
  const part = rendered.subarray(Math.round(from * sampleRate), Math.round(to * sampleRate));
  return Math.sqrt(part.reduce((sum, value) => sum + value * value, 0) / part.length);
}

/** How strongly a frequency is in a stretch of the sound. */
function strength(hertz: number, from: number, to: number): number {
  const part = rendered.subarray(Math.round(from * sampleRate), Math.round(to * sampleRate));
  const step = (2 * Math.PI * hertz) / sampleRate;
  let [real, imaginary] = [0, 0];
  part.forEach((value, i) => {
    const windowed = value * (0.5 - 0.5 * Math.cos((2 * Math.PI * i) / part.length));
    real += windowed * Math.cos(step * i);
    imaginary += windowed * Math.sin(step * i);
  });
  return Math.hypot(real, imaginary) / part.length;
}

const peak = (): number => rendered.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

/** For every sample file: seconds to its onset as this browser decodes it, and after the player's cut. */
async function decodedOnsets(): Promise<{ file: string; decoded: number; seconds: number }[]> {
  const files = await fetchSamples('/samples/');
  const context = new OfflineAudioContext(1, 1, sampleRate);
  return Promise.all(
    sampleFiles.map(async (file) => {
      const bytes = files.get(file);
      if (!bytes) return { file, decoded: NaN, seconds: 0 };
      const buffer = await context.decodeAudioData(bytes.slice(0));
      return { file, decoded: onsetOf(buffer.getChannelData(0)) / sampleRate, seconds: buffer.duration };
    }),
  );
}

/** Strongest fault in cents of the bank's notes against equal temperament, by the best-matching lag of their waveform. */
async function tuning(sounds: Wish['sounds']): Promise<number[]> {
  const bank = await bankOf(sounds);
  return [...bank.bass].map(([midi, buffer]) => {
    const samples = buffer.getChannelData(0).subarray(Math.round(0.3 * buffer.sampleRate));
    const wanted = buffer.sampleRate / (440 * 2 ** ((midi - 69) / 12));
    return 1200 * Math.log2(wanted / periodNear(samples, wanted));
  });
}

/** The period close to a guess at which a sound is most like itself, over several periods, with a fraction of a sample. */
function periodNear(samples: Float32Array, guess: number): number {
  const periods = 8;
  const length = Math.round(guess * 12);
  const likeness = (lag: number): number => {
    let sum = 0;
    for (let i = 0; i < length; i++) sum += samples[i]! * samples[i + lag]!;
    return sum;
  };
  const centre = Math.round(guess * periods);
  const reach = Math.max(3, Math.round(centre * 0.02));
  let best = centre;
  for (let lag = centre - reach; lag <= centre + reach; lag++) if (likeness(lag) > likeness(best)) best = lag;
  const [before, at, after] = [likeness(best - 1), likeness(best), likeness(best + 1)];
  return (best + (before - after) / (2 * (before - 2 * at + after))) / periods;
}

/** A player with the fixture's music, kept as `player`; its statuses are written down in `statuses`. */
function makePlayer(take: Take): void {
  globalThis.statuses = [];
  globalThis.player = new Player({
    samples: '/samples/',
    onStatus: (status) => {
      const said = 'error' in status ? `${status.state}: ${status.error.code}` : status.state;
      statuses.push(said);
      dispatchEvent(new CustomEvent('said', { detail: said }));
    },
  });
  player.set(take.settings ?? {});
  player.load(musicOf(take.chart, take.moments));
}

const harness = {
  render,
  onsets,
  rms,
  strength,
  peak,
  decodedOnsets,
  tuning,
  scheduleOf,
  musicOf,
  mixOf,
  makePlayer,
};
export type Harness = typeof harness;
declare global {
  var harness: Harness;
  var player: Player;
  var statuses: string[];
}
globalThis.harness = harness;
document.querySelector('button')?.addEventListener('click', () => void player.play());
// A page that plays on its own, as from a link: no gesture came before. What it says is told without being asked.
if (location.hash === '#play') {
  addEventListener('said', (event) => {
    void fetch(`/said/${(event as CustomEvent<string>).detail}`);
  });
  makePlayer({ chart: 'Key: F\nMeter: 4/4\n\n| F7 | C7 |]' });
  void player.play();
}
document.body.dataset['ready'] = 'yes';
