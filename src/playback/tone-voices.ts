// The sounds of one part while they ring: a source and a level each, made from the browser's own nodes. A beat of the whole
// band is a dozen of them at once, so that a slow machine can make them between two pictures.
import type { BaseContext, Gain } from './tone-library';

/** One sound to begin. */
export interface Note {
  readonly midi: number;
  readonly velocity: number;
  /** Seconds in which it comes in, 0 for at once. */
  readonly attack: number;
  /** Seconds in which it dies away once it is damped. */
  readonly release: number;
}

interface Voice {
  readonly source: AudioBufferSourceNode;
  readonly level: GainNode;
  readonly release: number;
}

/** Time constant, in seconds, of a fade that is all but over (1 in 200) after a short time. */
const constantOf = (seconds: number): number => Math.log1p(seconds) / Math.log(200);
/** How many times its length a fade goes on before its source is ended: 80 dB down. */
const faded = 2;

/** The sound nearest to a pitch; of two equally near, the higher one. */
export function nearestKey(keys: readonly number[], midi: number): number | undefined {
  let nearest: number | undefined;
  for (const key of keys) {
    if (nearest === undefined) nearest = key;
    const nearer = Math.abs(key - midi) - Math.abs(nearest - midi);
    if (nearer < 0 || (nearer === 0 && key > nearest)) nearest = key;
  }
  return nearest;
}

export class Voices {
  readonly #context: BaseContext;
  readonly #sounds: ReadonlyMap<number, AudioBuffer>;
  readonly #keys: readonly number[];
  readonly #to: Gain;
  /** What rings undamped. */
  readonly #ringing = new Set<Voice>();
  /** All that has not ended. */
  readonly #alive = new Set<Voice>();

  constructor(context: BaseContext, sounds: ReadonlyMap<number, AudioBuffer>, to: Gain) {
    this.#context = context;
    this.#sounds = sounds;
    this.#keys = [...sounds.keys()];
    this.#to = to;
  }

  /** Begins a sound at a time of the context, in seconds. */
  strike({ midi, velocity, attack, release }: Note, time: number): void {
    const key = nearestKey(this.#keys, midi);
    const buffer = key === undefined ? undefined : this.#sounds.get(key);
    if (key === undefined || !buffer) return;
    const source = this.#context.createBufferSource();
    const level = this.#context.createGain();
    source.buffer = buffer;
    if (key !== midi) source.playbackRate.value = 2 ** ((midi - key) / 12);
    if (attack > 0) {
      level.gain.setValueAtTime(0, time);
      level.gain.setTargetAtTime(velocity, time, constantOf(attack));
    } else level.gain.setValueAtTime(velocity, time);
    source.connect(level);
    level.connect(this.#to.input);
    const voice: Voice = { source, level, release };
    source.onended = () => {
      this.#letGo(voice);
    };
    source.start(time);
    this.#ringing.add(voice);
    this.#alive.add(voice);
  }

  /** Damps all that rings, from a time on. */
  damp(time: number): void {
    for (const { source, level, release } of this.#ringing) {
      level.gain.setTargetAtTime(0, time, constantOf(release));
      source.stop(time + faded * release);
    }
    this.#ringing.clear();
  }

  /** Ends everything at once. */
  dispose(): void {
    for (const voice of this.#alive) {
      voice.source.onended = null;
      voice.source.stop();
      this.#letGo(voice);
    }
  }

  #letGo(voice: Voice): void {
    voice.source.disconnect();
    voice.level.disconnect();
    this.#ringing.delete(voice);
    this.#alive.delete(voice);
  }
}
