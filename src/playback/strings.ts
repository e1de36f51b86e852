// The computed bass as playing finds it: sounds by event, the nearest where the right one is not there yet.
import { SoundShelf } from './string/shelf';
import type { StringAnswer } from './string/protocol';
import { Workshop, type StringWorker } from './string/workshop';
import {
  computeWish,
  gainOfNote,
  nameOf,
  noteWish,
  slideWish,
  thoseThatFit,
  stringWishes,
  type StringBass,
  type StringWish,
} from './string/wishes';
import { computedBassGain } from './mix';
import type { BassEvent, Schedule } from './types';

/** A sound and how it is to be played. */
export interface Strike<Sound> {
  readonly sound: Sound;
  /** Faster or slower than it was computed. */
  readonly rate: number;
  /** Factor on the amplitude. */
  readonly gain: number;
}

export interface Slide<Sound> {
  readonly sound: Sound;
  /** It ends where the note begins. */
  readonly seconds: number;
}

/** Where the band has its bass from. */
export interface StringSource<Sound> {
  note(event: BassEvent): Strike<Sound>;
  slide(event: BassEvent): Slide<Sound> | null;
}

/** Samples a second of what is computed; players of another rate convert it. */
export const stringRate = 44_100;
/** Bytes of computed sounds that are kept. */
export const mostBytes = 32 * 2 ** 20;
/** Sounds are begun with when those of so many quarter notes are there. */
const firstBeats = 8;
/** A sound in place of one that has not come is computed for so many seconds. */
const shortRing = 1;

/** Computes each sound when it is asked for and keeps it: for rendering and for tests. */
export function computedOnDemand<Sound>(
  bass: StringBass,
  secondsPerTick: number,
  make: (samples: Float32Array) => Sound,
  sampleRate = stringRate,
): StringSource<Sound> {
  const made = new Map<string, { readonly sound: Sound; readonly seconds: number }>();
  const soundOf = (wish: StringWish): Sound => {
    const name = nameOf(wish);
    const known = made.get(name);
    if (known && known.seconds >= wish.seconds) return known.sound;
    const sound = make(computeWish(wish, sampleRate));
    made.set(name, { sound, seconds: wish.seconds });
    return sound;
  };
  return {
    note: (event) => ({
      sound: soundOf(noteWish(event, bass, (event.damp - event.tick) * secondsPerTick)),
      rate: 1,
      gain: gainOfNote(event, bass) * computedBassGain,
    }),
    slide: (event) => {
      const wish = slideWish(event, bass);
      return wish && { sound: soundOf(wish), seconds: wish.seconds };
    },
  };
}

export interface StringsParts<Sound> {
  readonly startWorker: () => StringWorker;
  readonly make: (samples: Float32Array<ArrayBuffer>, sampleRate: number) => Sound;
  readonly limit?: number;
}

/** Computes ahead what a schedule needs. */
export class Strings<Sound> implements StringSource<Sound> {
  readonly #make: StringsParts<Sound>['make'];
  readonly #limit: number;
  readonly #shelf: SoundShelf<Sound>;
  readonly #workshop: Workshop;
  /** The wish of every sound that was ever asked for and may be on the shelf. */
  readonly #known = new Map<string, StringWish>();
  #bass: StringBass = { kind: 'upright', lengthMm: 1060 };
  /** What must be there before playing begins. */
  #first: readonly StringWish[] = [];
  #whenReady: (() => void)[] = [];

  constructor({ startWorker, make, limit = mostBytes }: StringsParts<Sound>) {
    this.#make = make;
    this.#limit = limit;
    this.#shelf = new SoundShelf(limit);
    this.#workshop = new Workshop({
      startWorker,
      onsound: (answer) => {
        this.#receive(answer);
      },
    });
  }

  /** Bytes of sound that are held. */
  get bytes(): number {
    return this.#shelf.bytes;
  }

  /**
   * Has what the schedules need computed, those of the first first.
   * @param secondsPerTick of the tempo
   */
  want(schedules: readonly Schedule[], bass: StringBass, secondsPerTick: number): void {
    this.#bass = bass;
    const all = schedules.map((schedule) => stringWishes(schedule, bass, secondsPerTick));
    const fitting = thoseThatFit(
      [...new Map(all.flat().map((wish) => [nameOf(wish), wish])).values()],
      stringRate,
      this.#limit,
    );
    for (const wish of fitting) this.#known.set(nameOf(wish), wish);
    const [first] = schedules;
    const beginning = first && {
      ...first,
      end: Math.min(first.end, first.start + firstBeats * 480) as Schedule['end'],
      loopStart: first.start,
    };
    this.#first = beginning
      ? stringWishes(
          { ...beginning, events: beginning.events.filter(({ tick }) => tick >= beginning.start) },
          bass,
          secondsPerTick,
        )
      : [];
    this.#workshop.want(
      fitting.filter((wish) => !this.#shelf.has(nameOf(wish), wish.seconds)),
      stringRate,
    );
    this.#tell();
  }

  /** Resolves when the first bars can be played. */
  ready(): Promise<void> {
    return new Promise((resolve) => {
      this.#whenReady.push(resolve);
      this.#tell();
    });
  }

  note(event: BassEvent): Strike<Sound> {
    const wish = noteWish(event, this.#bass, shortRing);
    const gain = gainOfNote(event, this.#bass) * computedBassGain;
    const exact = this.#shelf.get(nameOf(wish));
    return exact === undefined ? { gain, ...this.#standIn(wish) } : { sound: exact, rate: 1, gain };
  }

  slide(event: BassEvent): Slide<Sound> | null {
    const wish = slideWish(event, this.#bass);
    const sound = wish && this.#shelf.get(nameOf(wish));
    return wish && sound ? { sound, seconds: wish.seconds } : null;
  }

  dispose(): void {
    this.#workshop.dispose();
    this.#shelf.clear();
    this.#known.clear();
    for (const resolve of this.#whenReady.splice(0)) resolve();
  }

  /** The sound nearest to one that has not come; computed here and now where there is none. */
  #standIn(wish: StringWish): { readonly sound: Sound; readonly rate: number } {
    const midi = wish.stroke.open + wish.stroke.stop;
    const distance = (name: string): number => {
      const other = this.#known.get(name);
      if (other?.what !== wish.what) return Infinity;
      const { open, stop, loudness, touch } = other.stroke;
      const apart = Math.abs(open + stop - midi);
      // Two semitones away it would sound of another note.
      if (apart > 1) return Infinity;
      return (
        apart * 10 +
        Math.abs(open - wish.stroke.open) +
        Math.abs(loudness - wish.stroke.loudness) +
        (touch === wish.stroke.touch ? 0 : 1)
      );
    };
    const [nearest] = [...this.#shelf.names].sort((a, b) => distance(a) - distance(b));
    const sound =
      nearest !== undefined && distance(nearest) < Infinity ? this.#shelf.get(nearest) : undefined;
    if (sound !== undefined) {
      const { open, stop } = this.#known.get(nearest!)!.stroke;
      return { sound, rate: 2 ** ((midi - open - stop) / 12) };
    }
    const samples = computeWish(wish, stringRate) as Float32Array<ArrayBuffer>;
    this.#known.set(nameOf(wish), wish);
    return { sound: this.#keep(nameOf(wish), wish.seconds, samples), rate: 1 };
  }

  #keep(name: string, seconds: number, samples: Float32Array<ArrayBuffer>): Sound {
    const sound = this.#make(samples, stringRate);
    this.#shelf.put(name, { sound, seconds, bytes: samples.byteLength });
    return sound;
  }

  #receive({ name, seconds, samples }: StringAnswer): void {
    this.#keep(name, seconds, samples);
    for (const known of this.#known.keys())
      if (this.#known.size > 2000 && !this.#shelf.has(known, 0)) this.#known.delete(known);
    this.#tell();
  }

  #tell(): void {
    if (this.#whenReady.length === 0) return;
    const isReady = this.#first.every((wish) => this.#shelf.has(nameOf(wish), 0));
    if (isReady) for (const resolve of this.#whenReady.splice(0)) resolve();
  }
}
