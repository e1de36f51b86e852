// Runs the player's own code in a page for sound.spec.ts: renders it offline into numbers, or plays it as a person would.
import { OfflineContext } from 'tone/build/esm/core/context/OfflineContext.js';
import { setContext } from 'tone/build/esm/core/context/GlobalContext.js';
import type { Bpm } from '../../src/music';
import { wavFile } from '../../src/export/wav';
import {
  makeSchedule,
  parts,
  renderMusic,
  renderRate,
  type BassSound,
  type Mix,
  type Music,
  type Part,
  type PlaybackSettings,
  type Schedule,
} from '../../src/playback';
import {
  bufferOf,
  fetchSamples,
  makeBank,
  sampleFiles,
  toneOfSound,
  type Bank,
} from '../../src/playback/bank';
import type { Sides } from '../../src/playback/mixdown';
import { computedOnDemand } from '../../src/playback/strings';
import { onsetOf } from '../../src/playback/onset';
import { Player } from '../../src/playback/tone';
import { Engine } from '../../src/playback/tone-engine';
import { drumSounds, type SwapMoment } from '../../src/playback/types';
import { heardMix } from '../../src/state/practice';
import { defaultPreferences } from '../../src/state/preferences';
import { loudnessOver } from '../playback/balance';
import { loudnessOf } from './loudness';
import { renderArithmetic } from './sound-arithmetic';
import { musicOf, settingsWith, type Moment } from '../playback/fixtures';

export interface Take {
  readonly chart: string;
  readonly moments?: readonly Moment[];
  readonly settings?: Partial<PlaybackSettings>;
  /** A player has another line, of the same chart, queued each time the music comes round. */
  readonly renews?: boolean;
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
  /** Levels, where they are not full. */
  readonly mix?: Mix;
  readonly rate?: number;
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
    strings: null,
    substitutes: [],
  };
}

async function bankOf(sounds: Wish['sounds'], bassSound: BassSound = 'upright', tempo = 120): Promise<Bank> {
  if (sounds === 'clicks') return clickBank();
  const files =
    sounds === 'samples' ? await fetchSamples('/samples/', bassSound) : new Map<string, ArrayBuffer>();
  const kind = toneOfSound(bassSound) ?? 'upright';
  const strings = computedOnDemand({ kind, lengthMm: 1060 }, 60 / (tempo * 480), (samples) =>
    bufferOf(samples, sampleRate),
  );
  return makeBank(new OfflineAudioContext(1, 1, sampleRate), files, bassSound, strings);
}

const scheduleOf = ({ chart, moments, settings }: Take): Schedule =>
  makeSchedule(musicOf(chart, moments), settingsWith(settings ?? {}));

/** No places, no room, unless they are asked for. */
const nowhere = { isWide: false, hasRoom: false } as const;

let rendered: Float32Array = new Float32Array();

/** Renders what the person would hear. Returns how much the run held at its end. */
async function render(wish: Wish): Promise<number> {
  const bank = await bankOf(wish.sounds, wish.settings?.bassSound, wish.settings?.tempo);
  const context = new OfflineContext(1, wish.seconds, wish.rate ?? sampleRate);
  setContext(context);
  const engine = new Engine(context, wish.mix ?? mixOf(wish.only), { ...nowhere, ...wish.settings });
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

/** Loudness of what was rendered at 48 kHz, LUFS. */
const loudness = (): number => loudnessOf(rendered);

/** A sound file of a take, through the program's own way to it; how far it was is written down. */
async function soundFile(
  take: Take,
  only: readonly Part[],
  stopAfter = Infinity,
): Promise<{ bytes: number; header: number[]; shares: number[]; ended: string }> {
  const shares: number[] = [];
  let sides: Sides;
  const work = new AbortController();
  try {
    sides = await renderMusic({
      music: musicOf(take.chart, take.moments),
      settings: { ...settingsWith({ ...nowhere, ...take.settings }), mix: mixOf(only) },
      samples: '/samples/',
      onProgress: (share) => {
        shares.push(share);
        if (shares.length >= stopAfter) work.abort();
      },
      signal: work.signal,
    });
  } catch (error) {
    return { bytes: 0, header: [], shares, ended: error instanceof Error ? error.name : String(error) };
  }
  const { left, right } = sides;
  rendered = left.map((value, i) => (value + right[i]!) / 2);
  const file = wavFile([left, right], renderRate);
  return { bytes: file.length, header: [...file.subarray(0, 44)], shares, ended: 'done' };
}

/**
 * LUFS of the bass and of the rest of the band, each on the full range and on what small speakers leave: the mix and the
 * sounds as they are before anyone has changed them.
 */
async function balance(
  music: Music,
  settings: Partial<PlaybackSettings>,
): Promise<readonly (readonly number[])[]> {
  const levels: (readonly number[])[] = [];
  for (const isBass of [true, false]) {
    const entries = parts.map((part) => {
      const usual = defaultPreferences.mix[part];
      return [part, { ...usual, on: usual.on && (part === 'bass') === isBass }] as const;
    });
    const mix = Object.fromEntries(entries) as Mix;
    const wishes = { ...settingsWith({ leans: true, ...settings }), mix };
    const sides = await renderMusic({ music, settings: wishes, samples: '/samples/' });
    levels.push(loudnessOver(sides, renderRate));
  }
  return levels;
}

/** The samples of `renderArithmetic`, left then right, as text. */
async function arithmetic(take: Take): Promise<string> {
  const { left, right } = await renderArithmetic(take);
  const bytes = [left, right].map((side) => new Uint8Array(side.buffer));
  let text = '';
  for (const part of bytes)
    for (let i = 0; i < part.length; i += 4096) text += String.fromCharCode(...part.subarray(i, i + 4096));
  return btoa(text);
}

/** For every sample file: seconds to its onset as this browser decodes it, and after the player's cut. */
async function decodedOnsets(): Promise<{ file: string; decoded: number; seconds: number }[]> {
  const fetched = await Promise.all([
    fetchSamples('/samples/', 'sampled upright'),
    fetchSamples('/samples/', 'sampled electric'),
  ]);
  const files = new Map(fetched.flatMap((group) => [...group]));
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
async function tuning(sounds: Wish['sounds'], bassSound?: BassSound): Promise<number[]> {
  const bank = await bankOf(sounds, bassSound);
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
    onPass: () => {
      if (take.renews) player.queue(musicOf(take.chart, take.moments));
    },
  });
  player.set(take.settings ?? {});
  player.load(musicOf(take.chart, take.moments));
}

/** Sources that were started and have not ended, and the latest time any was started for; counted from now on. */
function watchSources(): { readonly playing: number; readonly latest: number } {
  const seen = { playing: 0, latest: 0 };
  const start = Reflect.get<AudioBufferSourceNode, 'start'>(AudioBufferSourceNode.prototype, 'start');
  AudioBufferSourceNode.prototype.start = function (this: AudioBufferSourceNode, ...wish) {
    seen.playing++;
    seen.latest = Math.max(seen.latest, wish[0] ?? 0);
    this.addEventListener('ended', () => seen.playing--);
    start.apply(this, wish);
  };
  return seen;
}

/** The mix before anyone has changed it, with one part heard. */
function usualMix(only: Part): Mix {
  const entries = parts.map((part) => [
    part,
    { level: defaultPreferences.mix[part].level, on: part === only },
  ]);
  return Object.fromEntries(entries) as Mix;
}

/** All parts at full level, as heard while one plays alone. */
const alone = (part: Part): Mix => heardMix(mixOf(parts), part);

let kept: Float32Array = new Float32Array();
function keep(): void {
  kept = rendered;
}

/** How far what was rendered, from a lag in seconds on, is from what was kept: dB of the difference against the whole. */
function differenceToKept(lag: number): number {
  const offset = Math.round(lag * sampleRate);
  let [whole, fault] = [0, 0];
  kept.forEach((value, i) => {
    whole += value * value;
    fault += (value - (rendered[i + offset] ?? 0)) ** 2;
  });
  return 10 * Math.log10(fault / whole);
}

/** How loud the difference between what was rendered and what was kept is within a stretch. */
function rmsOfDifference(from: number, to: number): number {
  const [first, last] = [from, to].map((time) => Math.round(time * sampleRate)) as [number, number];
  let sum = 0;
  for (let i = first; i < last; i++) sum += (rendered[i]! - kept[i]!) ** 2;
  return Math.sqrt(sum / (last - first));
}

const harness = {
  rmsOfDifference,
  keep,
  differenceToKept,
  watchSources,
  usualMix,
  alone,
  render,
  onsets,
  rms,
  strength,
  peak,
  loudness,
  soundFile,
  balance,
  arithmetic,
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
