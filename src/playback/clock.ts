// Musical time against clock time while playing: ticks played since the start, with every change of tempo.
import { ticksPerQuarter, type Bpm } from '../music';

interface Stretch {
  /** Ticks played, and the clock's seconds, at which this tempo began. */
  readonly tick: number;
  readonly time: number;
  readonly secondsPerTick: number;
}

const secondsPerTick = (tempo: Bpm): number => 60 / (tempo * ticksPerQuarter);

/** Exact in both directions: a tempo change starts a new stretch and leaves what came before as it was. */
export class TickClock {
  #stretches: Stretch[];

  /** Tick 0 falls on `startTime` (seconds of the audio clock). */
  constructor(startTime: number, tempo: Bpm) {
    this.#stretches = [{ tick: 0, time: startTime, secondsPerTick: secondsPerTick(tempo) }];
  }

  timeOf(tick: number): number {
    const stretch = this.#stretches.findLast((one) => one.tick <= tick) ?? this.#stretches[0]!;
    return stretch.time + (tick - stretch.tick) * stretch.secondsPerTick;
  }

  /** Ticks played at a time, with a fraction; negative before the start. */
  tickAt(time: number): number {
    const stretch = this.#stretches.findLast((one) => one.time <= time) ?? this.#stretches[0]!;
    return stretch.tick + (time - stretch.time) / stretch.secondsPerTick;
  }

  /** A tempo from this tick on, in place of any set for later. */
  setTempo(tempo: Bpm, tick: number): void {
    const time = this.timeOf(tick);
    const kept = this.#stretches.filter((one) => one.tick < tick);
    this.#stretches = [...kept, { tick, time, secondsPerTick: secondsPerTick(tempo) }];
  }

  /** Lets go of tempi that ended before a time. */
  forgetBefore(time: number): void {
    const current = this.#stretches.findLastIndex((one) => one.time <= time);
    if (current > 0) this.#stretches = this.#stretches.slice(current);
  }

  /** How many tempi are remembered. */
  get size(): number {
    return this.#stretches.length;
  }
}
