// The player: when sound may start, whether it really does, and what is played. The audio library is fetched on demand.
import { bufferOf, toneOfSound, type Bank } from './bank';
import {
  hasGesture,
  makeContext,
  resume,
  running,
  waking,
  watchContext,
  watchHidden,
  type ClockTrouble,
  type Waking,
} from './context';
import { playerError } from './errors';
import { ticksPerQuarter, type BarIndex } from '../music';
import { changedParts } from './mix';
import { makeSchedule } from './schedule';
import { changeSettings, defaultSettings, momentOf } from './settings';
import { Sounds } from './sounds';
import { startStringWorker } from './string-worker';
import { Strings } from './strings';
import { playTestTone } from './test-tone';
import type { makeStage, Stage } from './tone-engine';
import type {
  Music,
  Playback,
  PlaybackSettings,
  PlayerError,
  PlayerOptions,
  PlayerStatus,
  Position,
  Schedule,
  SwapMoment,
} from './types';

/** Vibrating length of a usual bass, mm. */
const usualLength = 1060;
/** Milliseconds that a start waits for the first bars of a computed bass; what is missing then is filled in. */
const stringPatience = 400;
/** Milliseconds that a sentence about what is over stays. */
const readingTime = 8_000;

const wait = (milliseconds: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, milliseconds));

/** All that playing needs. */
interface Ready {
  readonly context: AudioContext;
  readonly stage: Stage;
  readonly bank: Bank;
}

/** The code that is fetched on demand. */
interface Library {
  readonly makeStage: typeof makeStage;
}

export class Player implements Playback {
  readonly #options: PlayerOptions;
  #status: PlayerStatus = { state: 'idle', substitutes: [] };
  #settings = defaultSettings;
  #music: Music | null = null;
  #queued: Music | null = null;
  #fromBar: BarIndex | undefined;
  #library: Promise<Library> | null = null;
  readonly #sounds: Sounds;
  readonly #strings = new Strings<AudioBuffer>({ startWorker: startStringWorker, make: bufferOf });
  #context: AudioContext | null = null;
  #stage: Stage | null = null;
  #stopWatching: (() => void) | null = null;
  /** Sounds were asked for. */
  #isPrepared = false;
  /** Counts starts and stops, so that a start knows when it is no longer wanted. */
  #attempt = 0;
  /** What the clock of the context showed when playing ended. */
  #clockSeen = Infinity;

  constructor(options: PlayerOptions) {
    this.#options = options;
    this.#sounds = new Sounds(options.samples);
  }

  get status(): PlayerStatus {
    return this.#status;
  }

  get settings(): PlaybackSettings {
    return this.#settings;
  }

  /** How much is held for what plays: events, remembered passages and tempi. Stays level however often lines change. */
  get size(): number {
    return this.#stage?.engine.size ?? 0;
  }

  load(music: Music | null, moment: SwapMoment = 'next beat'): void {
    this.#music = music;
    if (music) this.#reschedule(moment);
    else this.stop();
    this.#wantStrings();
  }

  queue(music: Music | null): void {
    this.#queued = music;
    this.#stage?.engine.queue(music && this.#schedule(music));
    this.#wantStrings();
  }

  set(change: Partial<PlaybackSettings>): void {
    const before = this.#settings;
    const after = changeSettings(before, change);
    this.#settings = after;
    const engine = this.#stage?.engine;
    if (changedParts(before.mix, after.mix).length > 0) engine?.setMix(after.mix);
    if (before.isWide !== after.isWide || before.hasRoom !== after.hasRoom) engine?.setSpace(after);
    if (before.tempo !== after.tempo) engine?.setTempo(after.tempo);
    const moment = momentOf(before, after);
    if (moment) this.#reschedule(moment);
    if (before.bassSound !== after.bassSound) void this.#changeBass();
    if (moment ?? (before.bassSound !== after.bassSound || before.tempo !== after.tempo)) this.#wantStrings();
  }

  async play(fromBar?: BarIndex): Promise<void> {
    const attempt = ++this.#attempt;
    this.#leave();
    this.#fromBar = fromBar;
    this.#wantStrings();
    if (!this.#music) {
      this.#fail('refused', 'nothing to play');
      return;
    }
    this.#say('loading');
    // Both in the gesture, before anything is awaited: some browsers count no later moment as one.
    if (this.#context?.state === 'closed') void this.#dropContext();
    this.#context ??= makeContext();
    const resumed = this.#context && resume(this.#context);
    const start = await this.#getReady(resumed, () => {
      this.#fail('refused', hasGesture() ? 'waiting' : 'blocked');
    });
    if (attempt !== this.#attempt) return;
    if (typeof start === 'string') this.#fail(start === 'stuck' ? 'silent' : 'refused', start);
    else this.#start(start, this.#settings);
  }

  stop(): void {
    this.#attempt++;
    this.#leave();
    if (this.#status.state === 'playing' || this.#status.state === 'loading') {
      this.#say(this.#stage ? 'ready' : 'idle');
    }
  }

  position(): Position | null {
    if (!this.#context || this.#status.state !== 'playing') return null;
    const { outputLatency, baseLatency } = this.#context;
    const latency = (outputLatency || baseLatency || 0) + this.#settings.outputDelay;
    return this.#stage?.engine.position(latency) ?? null;
  }

  async testTone(): Promise<void> {
    this.#context ??= makeContext();
    if (this.#context) await playTestTone(this.#context);
  }

  async prepare(): Promise<void> {
    this.#isPrepared = true;
    this.#wantStrings();
    await Promise.allSettled([this.#loadLibrary(), this.#sounds.fetch(this.#settings.bassSound)]);
  }

  async dispose(): Promise<void> {
    this.stop();
    await this.#dropContext();
    this.#sounds.forget();
    this.#strings.dispose();
    this.#isPrepared = false;
    this.#say('idle');
  }

  #loadLibrary(): Promise<Library> {
    this.#library ??= import('./tone-engine').catch((error: unknown) => {
      // A failed fetch is tried again next time.
      this.#library = null;
      throw error;
    });
    return this.#library;
  }

  /** Has the computed bass work out what the music needs, once sound is wanted at all. */
  #wantStrings(): void {
    const { tempo, bassSound } = this.#settings;
    const kind = toneOfSound(bassSound);
    if (!this.#music || !kind || !this.#isPrepared) return;
    const { stringLength } = this.#music;
    const bass = { kind, lengthMm: stringLength ?? usualLength };
    const musics = this.#queued ? [this.#music, this.#queued] : [this.#music];
    this.#strings.want(
      musics.map((music) => this.#schedule(music)),
      bass,
      60 / (tempo * ticksPerQuarter),
    );
  }

  /** Another bass takes over while playing; when nothing plays it is read with the next start. */
  async #changeBass(): Promise<void> {
    const { bassSound } = this.#settings;
    if (this.#status.state !== 'playing' || !this.#context) return;
    const bank = await this.#sounds.bank(this.#context, bassSound, this.#strings);
    if (bassSound !== this.#settings.bassSound || this.#status.state !== 'playing') return;
    this.#stage?.engine.setBass(bank);
    this.#say('playing');
  }

  /** All that playing needs, or the reason why there is none. */
  async #getReady(
    resumed: Promise<void> | null,
    onBlocked: () => void,
  ): Promise<Ready | PlayerError['code']> {
    if (!this.#context || !resumed) return 'no audio';
    const preparing = this.prepare();
    const attempt = this.#attempt;
    const waked = await this.#wake(this.#context, resumed);
    if (waked === 'stuck') return waked;
    if (waked === 'blocked') {
      // The answer may still come, and then it plays; nobody who has pressed Play is told to do so again.
      if (attempt === this.#attempt) onBlocked();
      await running(this.#context);
    }
    if (attempt !== this.#attempt) return 'blocked';
    await preparing;
    const context = this.#context;
    try {
      const library = await this.#loadLibrary();
      this.#stage ??= library.makeStage(context, this.#settings.mix, this.#settings);
      const bank = await this.#sounds.bank(context, this.#settings.bassSound, this.#strings);
      // The first bars are worked out while they are counted in.
      if (bank.strings && this.#settings.countInBars === 0)
        await Promise.race([this.#strings.ready(), wait(stringPatience)]);
      return { context, stage: this.#stage, bank };
    } catch {
      return 'not loaded';
    }
  }

  /** A context whose clock stands still is given up once for a new one. */
  async #wake(context: AudioContext, resumed: Promise<void>): Promise<Waking> {
    const first = await waking(context, resumed, this.#clockSeen);
    if (first !== 'stuck') return first;
    void this.#dropContext();
    this.#context = makeContext();
    return this.#context ? waking(this.#context, resume(this.#context)) : 'stuck';
  }

  /** @param pass how often the music had come round before */
  #start({ context, stage, bank }: Ready, settings: PlaybackSettings, pass = 0): void {
    if (!this.#music) return;
    stage.engine.setMix(settings.mix);
    stage.engine.start(bank, {
      schedule: makeSchedule(this.#music, settings, this.#fromBar),
      tempo: settings.tempo,
      pass,
      onPass: (pass, isQueued) => {
        if (isQueued) this.#music = this.#queued;
        if (isQueued) this.#queued = null;
        this.#options.onPass?.(pass, isQueued);
      },
      onEnd: () => {
        this.stop();
      },
    });
    if (this.#queued) stage.engine.queue(this.#schedule(this.#queued));
    const stopWatching = watchContext(context, {
      onTrouble: (trouble) => {
        if (trouble) this.#sayTrouble(trouble);
        else this.#say('playing');
      },
      onDead: (trouble) => {
        void this.#goOn(trouble);
      },
    });
    const stopHiding = watchHidden((isHidden) => {
      stage.engine.setHidden(isHidden);
    });
    this.#stopWatching = () => {
      stopWatching();
      stopHiding();
    };
    this.#say('playing');
  }

  #schedule(music: Music): Schedule {
    return makeSchedule(music, this.#settings, this.#fromBar);
  }

  #reschedule(moment: SwapMoment): void {
    const engine = this.#stage?.engine;
    if (this.#status.state !== 'playing' || !engine || !this.#music) return;
    engine.replace(this.#schedule(this.#music), moment);
    if (this.#queued) engine.queue(this.#schedule(this.#queued));
  }

  /** Silence, whatever was going on; says nothing. */
  #leave(): void {
    if (this.#stopWatching) this.#clockSeen = this.#context?.currentTime ?? Infinity;
    this.#stopWatching?.();
    this.#stopWatching = null;
    this.#stage?.engine.stop();
  }

  /** The sound ended by itself: with another context the music goes on from the bar where it was. */
  async #goOn(trouble: ClockTrouble): Promise<void> {
    const place = this.position();
    const attempt = ++this.#attempt;
    this.#leave();
    this.#sayTrouble('lost');
    if (place) this.#fromBar = place.bar;
    void this.#dropContext();
    this.#context = makeContext();
    const resumed = this.#context && resume(this.#context);
    const why = trouble === 'stalled' ? 'stuck' : trouble;
    const start = await this.#getReady(resumed, () => {
      this.#fail('silent', why);
    });
    if (attempt !== this.#attempt) return;
    if (typeof start === 'string') {
      this.#fail('silent', start === 'stuck' ? why : start);
      return;
    }
    this.#start(start, { ...this.#settings, countInBars: 0 }, place?.pass);
    this.#sayTrouble('restored');
    await wait(readingTime);
    if (attempt === this.#attempt && this.#isTold('restored')) this.#say('playing');
  }

  #isTold(code: PlayerError['code']): boolean {
    return this.#status.state === 'playing' && this.#status.trouble?.code === code;
  }

  /** Lets go of the context, which may never answer again. */
  async #dropContext(): Promise<void> {
    this.#stage?.dispose();
    this.#stage = null;
    const context = this.#context;
    this.#context = null;
    this.#clockSeen = Infinity;
    if (context && context.state !== 'closed') await context.close().catch(() => undefined);
  }

  #say(state: 'idle' | 'loading' | 'ready' | 'playing'): void {
    this.#tell({ state, substitutes: this.#sounds.substitutes });
  }

  #sayTrouble(code: PlayerError['code']): void {
    this.#tell({ state: 'playing', substitutes: this.#sounds.substitutes, trouble: playerError(code) });
  }

  #fail(state: 'refused' | 'silent', code: PlayerError['code']): void {
    this.#tell({ state, error: playerError(code), substitutes: this.#sounds.substitutes });
  }

  #tell(status: PlayerStatus): void {
    this.#status = status;
    this.#options.onStatus?.(status);
  }
}

/** A player; see Playback. */
export const makePlayer = (options: PlayerOptions): Playback => new Player(options);
