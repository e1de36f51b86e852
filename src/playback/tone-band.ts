// The band as audio nodes: voices for each part, their level, and the bass's presence. Loaded only when sound is wanted.
import { Gain, type BaseContext, type Filter } from './tone-library';
import type { Bank } from './bank';
import type { Sink } from './conductor';
import { gainOf, masterGain } from './mix';
import { liftStage, presenceStage } from './tone-presence';
import { roomResponse, roomShare, sidesOf } from './space';
import { Voices, type Note } from './tone-voices';
import { nearestKey, usualFade } from './voice';
import { parts, type BassEvent, type Mix, type Part, type PlaybackEvent, type Space } from './types';

/** Seconds in which a level or a mute takes hold, and a stopped band falls silent. */
const fade = { level: 0.02, stop: 0.02 };
/** Seconds after which a bass that was changed for another has surely died away. */
const lastRing = 5;
/** A sound later than this, in seconds, is left out: after a stall the band comes in on the beat, not all at once. */
const tooLate = 0.03;
/** Where the parts stand, and the room around them. */
interface Places {
  input(part: Part): AudioNode;
  set(space: Space, now: number): void;
  dispose(): void;
}

/** Each part goes to two sides and into the room; both sides join in the master. */
function placesOf(context: BaseContext, space: Space, to: AudioNode): Places {
  const merger = context.createChannelMerger(2);
  merger.connect(to);
  const convolver = context.createConvolver();
  convolver.normalize = false;
  const response = roomResponse(context.sampleRate);
  const buffer = context.createBuffer(2, response[0].length, context.sampleRate);
  response.forEach((side, i) => buffer.copyToChannel(side, i));
  convolver.buffer = buffer;
  convolver.connect(to);
  const wished = (part: Part, { isWide, hasRoom }: Space): readonly number[] => [
    ...sidesOf(part, isWide),
    hasRoom ? roomShare(part) : 0,
  ];
  const ways = new Map(
    parts.map((part) => {
      const input = context.createGain();
      const gains = wished(part, space).map((value) => {
        const gain = context.createGain();
        gain.gain.value = value;
        input.connect(gain);
        return gain;
      });
      gains[0]!.connect(merger, 0, 0);
      gains[1]!.connect(merger, 0, 1);
      gains[2]!.connect(convolver);
      return [part, { input, gains }] as const;
    }),
  );
  return {
    input: (part) => ways.get(part)!.input,
    set: (next, now) => {
      for (const [part, { gains }] of ways)
        wished(part, next).forEach((value, i) => gains[i]!.gain.setTargetAtTime(value, now, fade.level));
    },
    dispose: () => {
      for (const { input, gains } of ways.values()) for (const node of [input, ...gains]) node.disconnect();
      convolver.disconnect();
      merger.disconnect();
    },
  };
}

/** Levels and places of the parts; lasts as long as the context. */
export class MixingDesk {
  readonly context: BaseContext;
  readonly #master: Gain;
  readonly #places: Places;
  readonly #levels: ReadonlyMap<Part, Gain>;
  readonly #presence: ReturnType<typeof presenceStage>;
  /** What the computed bass goes through. */
  readonly #lift: Filter;

  constructor(context: BaseContext, mix: Mix, space: Space) {
    this.context = context;
    this.#master = new Gain({ context, gain: masterGain }).toDestination();
    this.#places = placesOf(context, space, this.#master.input);
    this.#levels = new Map(
      parts.map((part) => [
        part,
        new Gain({ context, gain: gainOf(part, mix[part]) }).connect(this.#places.input(part)),
      ]),
    );
    this.#presence = presenceStage(context, this.#levels.get('bass')!);
    this.#lift = liftStage(context, this.#levels.get('bass')!);
  }

  /** Where a part's sound goes in; the bass is lifted on its way, the sampled one more than the computed one. */
  input(part: Part, isSampled: boolean): Gain | Filter {
    if (part !== 'bass') return this.#levels.get(part)!;
    return isSampled ? this.#presence.input : this.#lift;
  }

  /** Heard at once, also in what rings already. */
  setMix(mix: Mix): void {
    const now = this.context.currentTime;
    for (const [part, level] of this.#levels) {
      level.gain.linearRampTo(gainOf(part, mix[part]), fade.level, now);
    }
  }

  setSpace(space: Space): void {
    this.#places.set(space, this.context.currentTime);
  }

  dispose(): void {
    this.#presence.dispose();
    this.#lift.dispose();
    for (const level of this.#levels.values()) level.dispose();
    this.#places.dispose();
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
  readonly #desk: MixingDesk;
  #bank: Bank;
  readonly #players: Map<Part, Player>;
  /** Basses that were changed for another and may still ring. */
  readonly #former = new Set<Player>();

  constructor(desk: MixingDesk, bank: Bank) {
    this.#desk = desk;
    this.#bank = bank;
    this.#players = new Map(parts.map((part) => [part, this.#player(part)]));
  }

  #player(part: Part): Player {
    const { context } = this.#desk;
    const gate = new Gain({ context, gain: 1 }).connect(this.#desk.input(part, this.#bank.strings === null));
    return { gate, voices: new Voices(context, gate.input) };
  }

  /** Changes the bass; what the one before it still sounds rings out. */
  setBass(bank: Bank): void {
    const former = this.#players.get('bass')!;
    this.#bank = bank;
    this.#players.set('bass', this.#player('bass'));
    this.#former.add(former);
    this.#desk.context.setTimeout(() => {
      if (this.#former.delete(former)) letGo(former);
    }, lastRing);
  }

  strike(event: PlaybackEvent, time: number): void {
    if (time < this.#desk.context.currentTime - tooLate) return;
    const { voices } = this.#players.get(event.part)!;
    const plain = { gain: event.velocity, ...usualFade };
    if (event.part === 'bass') this.#strikeBass(voices, event, time);
    else if (event.part === 'chords')
      for (const midi of event.midis) this.#strikeKey(voices, this.#bank.chords, midi, plain, time);
    else {
      const sound = this.#bank.drums.get(event.sound);
      if (sound) voices.strike({ sound, rate: 1, ...plain }, time);
    }
  }

  #strikeBass(voices: Voices, event: BassEvent, time: number): void {
    const { strings, bass } = this.#bank;
    const { velocity, attack, release, midi } = event;
    if (!strings) {
      this.#strikeKey(voices, bass, midi, { gain: velocity, attack, release }, time);
      return;
    }
    const slide = strings.slide(event);
    const from = slide ? time - slide.seconds : 0;
    // One that would have begun already is left out.
    if (slide && from >= this.#desk.context.currentTime)
      voices.strike({ sound: slide.sound, rate: 1, gain: 1, ...usualFade }, from);
    voices.strike({ ...strings.note(event), attack: 0, release }, time);
  }

  #strikeKey(
    voices: Voices,
    sounds: ReadonlyMap<number, AudioBuffer>,
    midi: number,
    way: Pick<Note, 'gain' | 'attack' | 'release'>,
    time: number,
  ): void {
    const key = nearestKey([...sounds.keys()], midi);
    const sound = key === undefined ? undefined : sounds.get(key);
    if (sound) voices.strike({ sound, rate: 2 ** ((midi - key!) / 12), ...way }, time);
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
