// The sounds of one part while they ring: a source and a level each, made from the browser's own nodes. A beat of the whole
// band is a dozen of them at once, so that a slow machine can make them between two pictures.
import type { BaseContext } from './tone-library';
import { constantOf, faded } from './voice';

/** One sound to begin. */
export interface Note {
  readonly sound: AudioBuffer;
  /** Faster or slower than it was recorded. */
  readonly rate: number;
  /** Factor on the amplitude. */
  readonly gain: number;
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

export class Voices {
  readonly #context: BaseContext;
  readonly #to: AudioNode;
  /** What rings undamped. */
  readonly #ringing = new Set<Voice>();
  /** All that has not ended. */
  readonly #alive = new Set<Voice>();

  constructor(context: BaseContext, to: AudioNode) {
    this.#context = context;
    this.#to = to;
  }

  /** Begins a sound at a time of the context, in seconds. */
  strike({ sound, rate, gain, attack, release }: Note, time: number): void {
    const source = this.#context.createBufferSource();
    const level = this.#context.createGain();
    source.buffer = sound;
    if (rate !== 1) source.playbackRate.value = rate;
    if (attack > 0) {
      level.gain.setValueAtTime(0, time);
      level.gain.setTargetAtTime(gain, time, constantOf(attack));
    } else level.gain.setValueAtTime(gain, time);
    source.connect(level);
    level.connect(this.#to);
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
