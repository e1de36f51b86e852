// The band as audio nodes: voices for each part, their level, and the bass's presence. Loaded only when sound is wanted.
import { Filter, Gain, WaveShaper, type BaseContext } from './tone-library';
import type { Bank } from './bank';
import type { Sink } from './conductor';
import { gainOf, masterGain, presence } from './mix';
import { Voices } from './tone-voices';
import { drumSounds, parts, type DrumSound, type Mix, type Part, type PlaybackEvent } from './types';

/** Seconds in which a level or a mute takes hold, and a stopped band falls silent. */
const fade = { level: 0.02, stop: 0.02 };
/** How all but the bass come in, and die away when they are damped. */
const usualFade = { attack: 0, release: 0.15 };
/** Seconds after which a bass that was changed for another has surely died away. */
const lastRing = 5;
/** A sound later than this, in seconds, is left out: after a stall the band comes in on the beat, not all at once. */
const tooLate = 0.03;
/** Drum sounds lie on keys of their own, far enough apart not to stand in for each other. */
const drumKey = (sound: DrumSound): number => 24 + 4 * drumSounds.indexOf(sound);

const clamped = (value: number): number => Math.min(1, Math.max(-1, value));

/** What the bass goes through on its way to the level: some lift in the middle, and overtones of what is too low to hear. */
function presenceStage(context: BaseContext, to: Gain): { readonly input: Gain; dispose(): void } {
  const input = new Gain({ context, gain: 1 });
  const lift = new Filter({
    context,
    type: 'peaking',
    frequency: presence.peakHertz,
    gain: presence.peakDecibels,
    Q: presence.peakQ,
  });
  const drive = new WaveShaper({
    context,
    mapping: (value: number) => Math.tanh(presence.drive * clamped(value)) / presence.drive,
    length: 2048,
  });
  const above = new Filter({ context, type: 'highpass', frequency: presence.overtonesAboveHertz });
  const share = new Gain({ context, gain: presence.overtonesShare });
  input.chain(lift, to);
  input.chain(drive, above, share, to);
  const nodes = [input, lift, drive, above, share];
  return {
    input,
    dispose: () => {
      for (const node of nodes) node.dispose();
    },
  };
}

/** Levels of the parts; lasts as long as the context. */
export class Desk {
  readonly context: BaseContext;
  readonly #master: Gain;
  readonly #levels: ReadonlyMap<Part, Gain>;
  readonly #presence: ReturnType<typeof presenceStage>;

  constructor(context: BaseContext, mix: Mix) {
    this.context = context;
    this.#master = new Gain({ context, gain: masterGain }).toDestination();
    this.#levels = new Map(
      parts.map((part) => [part, new Gain({ context, gain: gainOf(part, mix[part]) }).connect(this.#master)]),
    );
    this.#presence = presenceStage(context, this.#levels.get('bass')!);
  }

  /** Where a part's sound goes in. */
  input(part: Part): Gain {
    return part === 'bass' ? this.#presence.input : this.#levels.get(part)!;
  }

  /** Heard at once, also in what rings already. */
  setMix(mix: Mix): void {
    const now = this.context.currentTime;
    for (const [part, level] of this.#levels) {
      level.gain.linearRampTo(gainOf(part, mix[part]), fade.level, now);
    }
  }

  dispose(): void {
    this.#presence.dispose();
    for (const level of this.#levels.values()) level.dispose();
    this.#master.dispose();
  }
}

interface Player {
  readonly voices: Voices;
  readonly gate: Gain;
}

function letGo({ voices, gate }: Player): void {
  voices.dispose();
  gate.dispose();
}

/** The band for one run from play to stop. Ending it silences everything it sounds or was about to sound. */
export class Band implements Sink {
  readonly #desk: Desk;
  readonly #players: Map<Part, Player>;
  /** Basses that were changed for another and may still ring. */
  readonly #former = new Set<Player>();

  constructor(desk: Desk, bank: Bank) {
    this.#desk = desk;
    const drums = new Map([...bank.drums].map(([sound, buffer]) => [drumKey(sound), buffer]));
    const sounds: Readonly<Record<Part, ReadonlyMap<number, AudioBuffer>>> = {
      bass: bank.bass,
      chords: bank.chords,
      cymbal: drums,
      'hi-hat': drums,
      click: drums,
    };
    this.#players = new Map(parts.map((part) => [part, this.#player(part, sounds[part])]));
  }

  #player(part: Part, sounds: ReadonlyMap<number, AudioBuffer>): Player {
    const { context } = this.#desk;
    const gate = new Gain({ context, gain: 1 }).connect(this.#desk.input(part));
    return { gate, voices: new Voices(context, sounds, gate) };
  }

  /** Changes the bass; what the one before it still sounds rings out. */
  setBass(bank: Bank): void {
    const former = this.#players.get('bass')!;
    this.#players.set('bass', this.#player('bass', bank.bass));
    this.#former.add(former);
    this.#desk.context.setTimeout(() => {
      if (this.#former.delete(former)) letGo(former);
    }, lastRing);
  }

  strike(event: PlaybackEvent, time: number): void {
    if (time < this.#desk.context.currentTime - tooLate) return;
    const { voices } = this.#players.get(event.part)!;
    const { velocity } = event;
    if (event.part === 'bass') voices.strike(event, time);
    else if (event.part === 'chords')
      for (const midi of event.midis) voices.strike({ midi, velocity, ...usualFade }, time);
    else voices.strike({ midi: drumKey(event.sound), velocity, ...usualFade }, time);
  }

  damp(part: Part, time: number): void {
    this.#players.get(part)!.voices.damp(time);
    if (part === 'bass') for (const { voices } of this.#former) voices.damp(time);
  }

  /** Fades out and lets go; nothing of this band is heard afterwards. */
  end(): void {
    const { context } = this.#desk;
    const now = context.currentTime;
    const all = [...this.#players.values(), ...this.#former];
    this.#former.clear();
    for (const { gate } of all) gate.gain.linearRampTo(0, fade.stop, now);
    // Offline, what is let go of now would be missing from the sound, which is computed afterwards.
    if (context.isOffline) return;
    context.setTimeout(() => {
      for (const player of all) letGo(player);
    }, fade.stop + 0.1);
  }
}
