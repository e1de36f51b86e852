// What is played, how it is asked for, and what the player says of itself.
import type { Bpm, Millimetres, SoundingMidi, Ticks, BarIndex } from '../music';
import type { LineNote } from '../pipeline/5-line';
import type { Timeline } from '../pipeline/2-timeline';
import type { DrumSound } from './drum-sounds';
import type { Touch } from './string/stroke';

export * from './drum-sounds';

export const parts = ['bass', 'cymbal', 'hi-hat', 'drums', 'chords', 'click'] as const;
/** A voice of the rhythm section with a level and a mute of its own. */
export type Part = (typeof parts)[number];

export const bassSounds = ['upright', 'electric', 'sampled upright', 'sampled electric'] as const;
/**
 * What the bass is heard on: an upright plucked without the bow, or an electric one played with the fingers; computed from
 * the string, so that a note sounds of the place where it is played, or a few recorded notes.
 */
export type BassSound = (typeof bassSounds)[number];

export const clickPlaces = ['2 and 4', 'every beat'] as const;
/** Where the click falls; a bar of three has its first beat in place of 2 and 4. */
export type ClickPlace = (typeof clickPlaces)[number];

export const amounts = ['less', 'as usual', 'more'] as const;
/** How much drums and chords put in beside the time. */
export type Amount = (typeof amounts)[number];

/** Bars of the timeline, first and last included, counted from 0 in playing order. */
export interface BarRange {
  readonly from: BarIndex;
  readonly to: BarIndex;
}

/** Some bars, played once: the music ends after them. */
export interface BarsOnce extends BarRange {
  readonly isOnce: true;
}

/** What goes round: nothing (the music ends), the whole form, or some bars. */
export type Loop = 'none' | 'form' | BarRange | BarsOnce;

export interface PartMix {
  readonly on: boolean;
  /** 0 silent to 1 full; 0.8 is the usual setting. Heard as loudness, not as amplitude. */
  readonly level: number;
}
export type Mix = Readonly<Record<Part, PartMix>>;

/** The music: what the pipeline made. */
export interface Music {
  readonly timeline: Timeline;
  readonly notes: readonly LineNote[];
  /** Vibrating length of the strings; that of a usual bass where it is left out. */
  readonly stringLength?: Millimetres;
}

/** Where the band stands. */
export interface Space {
  /** Parts have places from left to right; else all of them are in the middle. */
  readonly isWide: boolean;
  /** A small room answers. */
  readonly hasRoom: boolean;
}

export interface PlaybackSettings extends Space {
  readonly tempo: Bpm;
  /** Length of the first of two eighths over the second, 1 (straight) to 4; or what bands play at this tempo. */
  readonly swing: number | 'by tempo';
  readonly countInBars: 0 | 1 | 2;
  readonly loop: Loop;
  readonly mix: Mix;
  /** Slight differences from note to note; the same seed gives the same ones. */
  readonly seed: number;
  /** Whether there are such differences at all; without them every hit is where and as loud as it is written. */
  readonly isLoose: boolean;
  /** Parts lean a little ahead of the beat or behind it, as people do; without it all are exactly on it. */
  readonly leans: boolean;
  readonly bassSound: BassSound;
  readonly click: ClickPlace;
  readonly amount: Amount;
  /** The bass rests every other time round (chorus, or pass of a loop), for the person to play it. */
  readonly yourTurn: boolean;
  /** Seconds that the sound takes to the ear beyond what the device tells, -1 to 1: moves what is shown, not what sounds. */
  readonly outputDelay: number;
}

interface TimedEvent {
  readonly tick: Ticks;
  /** 0 to 1. */
  readonly velocity: number;
}

export interface Shift {
  /** Stop on the same string, semitones, where the hand comes from. */
  readonly from: number;
  /** Seconds it has. */
  readonly seconds: number;
  /** The same finger stays on the string. */
  readonly isOnString: boolean;
}

export interface BassEvent extends TimedEvent {
  readonly part: 'bass';
  readonly midi: SoundingMidi;
  /** When the sound is damped: the finger comes off, or the next note begins. */
  readonly damp: Ticks;
  /** An open string: rings until the next note, and on under one on another string. */
  readonly isOpen: boolean;
  /** Seconds in which it comes in: 0 for a plucked note, more for one pulled off. */
  readonly attack: number;
  /** Seconds in which it dies away once damped. */
  readonly release: number;
  /** Semitones above the open string; below 0 on an extension. */
  readonly stop: number;
  readonly touch: Touch | 'dead';
  /** Which of a few strokes on this note it is: two in a row are never the same. */
  readonly take: number;
  /** The hand's way to this note where nothing covers it; null where it is not heard. */
  readonly shift: Shift | null;
  /** Index of the line's note. */
  readonly note: number;
}

export interface DrumEvent extends TimedEvent {
  readonly part: 'cymbal' | 'hi-hat' | 'drums' | 'click';
  readonly sound: DrumSound;
  /** When a hand stops it, with all that its part still sounds; left out for what rings out. */
  readonly damp?: Ticks;
}

export interface ChordEvent extends TimedEvent {
  readonly part: 'chords';
  readonly midis: readonly SoundingMidi[];
  readonly damp: Ticks;
}

export type PlaybackEvent = BassEvent | DrumEvent | ChordEvent;

/** Where a line's note sounds, for looking up what is heard. */
export interface NoteSpan {
  readonly start: Ticks;
  readonly end: Ticks;
  /** Index of the line's note. */
  readonly note: number;
}

export interface BarSpan {
  readonly start: Ticks;
  readonly end: Ticks;
  readonly chorus: number;
}

/** Everything that sounds, in order, and the way round. Ticks count from the start of the form, swing included. */
export interface Schedule {
  /** Heard once, before the form; ticks count from the start of the count-in. */
  readonly countIn: { readonly ticks: Ticks; readonly events: readonly DrumEvent[] };
  /** Sorted by tick; every event is at or after 0 and before the end of the form. */
  readonly events: readonly PlaybackEvent[];
  /** Sorted, not overlapping. */
  readonly notes: readonly NoteSpan[];
  readonly bars: readonly BarSpan[];
  /** Where playing starts. */
  readonly start: Ticks;
  /** Where it ends or goes round, and the place it goes round to. */
  readonly end: Ticks;
  readonly loopStart: Ticks;
  readonly goesRound: boolean;
  /** Choruses in one pass where the whole form goes round; 1 where some bars do. */
  readonly roundsPerPass: number;
  /** The bass leaves every other round to the person. */
  readonly yourTurn: boolean;
}

/** When a new line or new settings take over while playing. */
export type SwapMoment = 'next beat' | 'next bar' | 'next pass';

/** What is heard at this moment. */
export interface Position {
  /** Ticks from the start of the form, with a fraction; during the count-in, the place where the music will start. */
  readonly tick: number;
  /** Index into the timeline's bars. */
  readonly bar: BarIndex;
  readonly chorus: number;
  /** Index of the line's note, null where the bass rests and during the count-in. */
  readonly noteIndex: number | null;
  /** How often the loop has come round, from 0. */
  readonly pass: number;
  /** Quarter notes left of the count-in, null once the music plays. */
  readonly countIn: number | null;
  /** The bass rests for the person to play it. */
  readonly isYourTurn: boolean;
}

export const playerErrorCodes = [
  'no audio',
  'not loaded',
  'blocked',
  'waiting',
  'stalled',
  'interrupted',
  'stuck',
  'lost',
  'restored',
  'nothing to play',
] as const;
export interface PlayerError {
  readonly code: (typeof playerErrorCodes)[number];
  /** A sentence for the person, with what to do. */
  readonly message: string;
}

/**
 * idle: nothing made yet. loading: Play was pressed, sounds are on their way. ready: could start at once.
 * playing: sound comes out, or will again as soon as the device goes on. refused: the browser or the device would not start. silent: it stopped by itself.
 */
export type PlayerStatus =
  | { readonly state: 'idle' | 'loading' | 'ready'; readonly substitutes: readonly Part[] }
  | {
      readonly state: 'playing';
      readonly substitutes: readonly Part[];
      /** Why nothing is heard for the moment, while the music waits to go on. */
      readonly trouble?: PlayerError;
    }
  | {
      readonly state: 'refused' | 'silent';
      readonly error: PlayerError;
      readonly substitutes: readonly Part[];
    };

export interface PlayerOptions {
  /** Folder of the samples, with a slash at its end: "./samples/". */
  readonly samples: string;
  /** Called on every change of the status. */
  readonly onStatus?: (status: PlayerStatus) => void;
  /**
   * Called a moment before the loop comes round, with the number of the pass about to start (1 for the second time).
   * A tempo set inside holds from the first note of that pass. `isQueued`: the queued music plays from it on.
   */
  readonly onPass?: (pass: number, isQueued: boolean) => void;
}

/** The player. Making one costs nothing: audio starts with `play`, which must be called in a click, tap or key press. */
export interface Playback {
  readonly status: PlayerStatus;
  /** The settings in force. */
  readonly settings: PlaybackSettings;
  /** The music to play from now on; while playing it takes over without a stop. Null clears it and stops. */
  load(music: Music | null, moment?: SwapMoment): void;
  /** The music for the next pass, in place of any queued before; it takes over with its first note. Null calls it off. */
  queue(music: Music | null): void;
  /** Changes some settings. Levels and mutes are heard at once, the tempo with the next note, the loop at the next bar. */
  set(change: Partial<PlaybackSettings>): void;
  /** Starts at a bar of the timeline, else at the loop's first. Resolves when it plays, or when the status says why not. */
  play(fromBar?: BarIndex): Promise<void>;
  stop(): void;
  /** What is heard now, by the audio clock; null when nothing plays. Cheap: call it once a frame. */
  position(): Position | null;
  /** A tone of a second, to find out whether anything is heard; call it in a click, tap or key press. */
  testTone(): Promise<void>;
  /** Fetches the code and the sounds before they are needed; needs no gesture. */
  prepare(): Promise<void>;
  /** Stops and lets go of everything. */
  dispose(): Promise<void>;
}
