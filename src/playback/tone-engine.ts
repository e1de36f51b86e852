// Runs a conductor and a band by the audio clock. The only file beside the band that knows the audio library.
import { Context, setContext, type BaseContext } from './tone-library';
import type { Bpm } from '../music';
import type { Bank } from './bank';
import { Conductor } from './conductor';
import { Band, MixingDesk } from './tone-band';
import { lookAhead, reachAfter } from './reach';
import type { Mix, Position, Schedule, Space, SwapMoment } from './types';

/** The same while the page is hidden: browsers may then wake it only once a second. */
export const hiddenLookAhead = 1.5;
const pulseInterval = 0.025;
/** Seconds from play to the first sound, so that it is handed over in time. */
const startDelay = 0.03;
/** Seconds a last note may ring. */
const tail = 0.4;
/** Seconds within which the first pulse must come; else the page forbids the worker that gives it. */
const pulsePatience = 0.3;
/** Seconds between pulses of the page's own until then. */
const ownPulse = 0.05;

export interface RunWishes {
  readonly schedule: Schedule;
  readonly tempo: Bpm;
  /** How often the music had come round before, where it goes on after a break; 0 when left out. */
  readonly pass?: number;
  readonly onPass: (pass: number, isQueued: boolean) => void;
  /** The music has ended and died away. */
  readonly onEnd: () => void;
}

interface Run {
  readonly conductor: Conductor;
  readonly band: Band;
  readonly onEnd: () => void;
}

export class Engine {
  readonly #context: BaseContext;
  readonly #desk: MixingDesk;
  readonly #pulse = (): void => {
    this.advance();
  };
  #run: Run | null = null;
  #isHidden = false;
  #reach = lookAhead;
  #advancedAt: number | null = null;

  constructor(context: BaseContext, mix: Mix, space: Space) {
    this.#context = context;
    this.#desk = new MixingDesk(context, mix, space);
    context.on('tick', this.#pulse);
  }

  /** Starts playing; what played before is silenced. `at`: seconds of the audio clock, soon when left out. */
  start(bank: Bank, { schedule, tempo, pass, onPass, onEnd }: RunWishes, at?: number): void {
    this.stop();
    const band = new Band(this.#desk, bank);
    const startTime = at ?? this.#context.currentTime + startDelay;
    const conductor = new Conductor(schedule, tempo, startTime, band, onPass, pass);
    this.#run = { conductor, band, onEnd };
    this.#advancedAt = null;
    this.advance();
  }

  stop(): void {
    this.#run?.band.end();
    this.#run = null;
  }

  setMix(mix: Mix): void {
    this.#desk.setMix(mix);
  }

  setSpace(space: Space): void {
    this.#desk.setSpace(space);
  }

  setTempo(tempo: Bpm): void {
    this.#run?.conductor.setTempo(tempo);
  }

  replace(schedule: Schedule, moment: SwapMoment): void {
    this.#run?.conductor.replace(schedule, moment);
  }

  queue(schedule: Schedule | null): void {
    this.#run?.conductor.queue(schedule);
  }

  /** The bass on other strings from its next note on. */
  setBass(bank: Bank): void {
    this.#run?.band.setBass(bank);
  }

  /** Works further ahead while the page is hidden. */
  setHidden(isHidden: boolean): void {
    this.#isHidden = isHidden;
    this.advance();
  }

  /** What is heard now. `latency`: seconds from the audio clock to the ear. */
  position(latency: number): Position | null {
    return this.#run?.conductor.positionAt(this.#context.currentTime - latency) ?? null;
  }

  /** What is held for the run, counted; 0 when nothing plays. */
  get size(): number {
    return this.#run?.conductor.size ?? 0;
  }

  dispose(): void {
    this.stop();
    this.#context.off('tick', this.#pulse);
    this.#desk.dispose();
  }

  /** Hands over what is due; called with every pulse. */
  advance(): void {
    const run = this.#run;
    if (!run) return;
    const now = this.#context.currentTime;
    // The clock and not the page's: while it stands still nothing is late.
    if (this.#advancedAt !== null) this.#reach = reachAfter(this.#reach, now - this.#advancedAt);
    this.#advancedAt = now;
    run.conductor.advance(now + (this.#isHidden ? hiddenLookAhead : this.#reach));
    const { endTime } = run.conductor;
    if (endTime !== null && now > endTime + tail) run.onEnd();
  }
}

/** Everything that lasts as long as one audio context. */
export interface Stage {
  readonly engine: Engine;
  readonly dispose: () => void;
}

/**
 * Makes sure that something drives the playing, from now on: a timer of the page until the library's worker does, and for
 * good where the page may not start it. Returns a way to call that off.
 */
function findPulse(context: Context, engine: Engine): () => void {
  const own = setInterval(() => {
    engine.advance();
  }, ownPulse * 1000);
  const timer = setTimeout(() => {
    clearInterval(own);
    context.clockSource = 'timeout';
  }, pulsePatience * 1000);
  const found = (): void => {
    clearInterval(own);
    clearTimeout(timer);
  };
  context.once('tick', found);
  return found;
}

/** Sets up for playing on a running context. The library's look-ahead is set here and nowhere else. */
export function makeStage(audio: AudioContext, mix: Mix, space: Space): Stage {
  const context = new Context({ context: audio, lookAhead, updateInterval: pulseInterval });
  setContext(context);
  const engine = new Engine(context, mix, space);
  const endSearch = findPulse(context, engine);
  return {
    engine,
    dispose: () => {
      endSearch();
      engine.dispose();
      context.dispose();
    },
  };
}
