// A chart that can be played: repeats followed, choruses laid end to end, time in integer ticks.
import type { Bpm, Chord, Key, Meter, Scale, ScaleName, ScaleReason, Ticks, BarIndex } from '../../music';
import type { Feel } from '../1-chart';

/** Why a chord is walked through its scale. */
export interface WhyScale {
  readonly name: ScaleName;
  readonly reason: ScaleReason;
  /** What the program takes where nobody chooses. */
  readonly usual: ScaleName;
  /** The chord that follows, in our spelling; null without one. */
  readonly next: string | null;
}

/** A chord while it sounds. A chord held over the bar line is one TimelineChord in each bar. */
export interface TimelineChord {
  /** Null for N.C.: the bass rests. */
  readonly chord: Chord | null;
  /** The scale to walk through; null for N.C. */
  readonly scale: Scale | null;
  /** Left out for N.C. and where no chart was read. */
  readonly whyScale?: WhyScale;
  /** The key around the chord: that of the bar, or the one a ii-V inside it leads to. */
  readonly key: Key;
  readonly tick: Ticks;
  readonly ticks: Ticks;
  /** Beat of the bar, counting from 1; 2.5 is halfway between 2 and 3. In a pickup, as in the whole bar. */
  readonly beat: number;
  /** False when the same chord has gone on from the bar or place before. */
  readonly isChange: boolean;
}

export interface TimelineBar {
  /** Place in playing order, from 0, through all choruses. */
  readonly index: BarIndex;
  /** Index of the bar as written. */
  readonly chartBar: number;
  /** From 0; the introduction belongs to the first, tag and coda to the last. */
  readonly chorus: number;
  /** Section label that starts here, null on its other bars. */
  readonly section: string | null;
  readonly meter: Meter;
  /** The key in force, for the signature. */
  readonly key: Key;
  readonly tick: Ticks;
  readonly ticks: Ticks;
  readonly chords: readonly TimelineChord[];
}

/**
 * How a note belongs to the rhythm. Plain: a note of its own. Ghost: a dead eighth before a beat, time and hardly pitch.
 * Drop: the eighth after a beat that falls below it. Triplet: one of two notes pulled off within a beat divided in three.
 * Anticipation: a downbeat played an eighth early and held over the bar line.
 */
export type Articulation = 'plain' | 'ghost' | 'drop' | 'triplet' | 'anticipation';

export const phrasePlaces = ['top', 'section', 'four bars', 'inside'] as const;
/** Opens the form; opens a section in it; opens other four bars counted from there; anywhere else. */
export type PhrasePlace = (typeof phrasePlaces)[number];

/** Chord tones that a slot is confined to: a bossa alternates root and fifth, an ending rests on the root. */
export type Confinement = 'root' | 'root and fifth';

/** How a moment leans where the player wishes for more than the rules: see LineWishes. */
export interface Lean {
  readonly bold: number;
  readonly leaps: number;
  readonly outside: number;
  /** The sounding pitch (MIDI) that the line is drawn to; null for none. */
  readonly goal: number | null;
}

/** A moment at which the bass plays one note. */
export interface Slot {
  readonly index: number;
  /** Index into `bars`. */
  readonly bar: BarIndex;
  /** Beat of the bar, counting from 1. */
  readonly beat: number;
  readonly tick: Ticks;
  readonly ticks: Ticks;
  /** Never N.C.: those moments have no slot. */
  readonly harmony: TimelineChord;
  /**
   * The harmony of the next slot that is a note of its own: ghosts, drops and triplets are passed over. The last slot
   * looks ahead to the first (the form goes round).
   */
  readonly nextHarmony: TimelineChord;
  /** The chord is new on this slot. */
  readonly isChange: boolean;
  /** The chord of that next slot is new there. */
  readonly nextIsChange: boolean;
  /** That next slot opens a bar, or anticipates its opening. */
  readonly nextIsDownbeat: boolean;
  /** 3 downbeat, 2 secondary strong beat, 1 weak beat, 0 off the beat. */
  readonly strength: 0 | 1 | 2 | 3;
  /** A note of its own that opens a bar or a chord: what a line aims at. */
  readonly isTarget: boolean;
  /** How many notes of their own since the last target: 0 on one, and 3 where none came before. */
  readonly sinceTarget: number;
  /** How many notes of their own from here to the next target, 1 where the next one is it; 0 where none follows. */
  readonly untilTarget: number;
  /** The harmony at that target; that of the slot itself where none follows. */
  readonly target: TimelineChord;
  /** What the bar that this slot opens is in its section; `inside` for slots that open no bar. */
  readonly phrase: PhrasePlace;
  /** Ticks of silence between the end of this slot and the next one (N.C., rests). */
  readonly restAfter: Ticks;
  /** Left out for a plain note. */
  readonly articulation?: Articulation;
  /** That of the slot that follows at once; left out for a plain one. */
  readonly nextArticulation?: Articulation;
  /** Set where the note, with the ornament cut from it, lasts two beats or more: it is heard as harmony. */
  readonly isSustained?: true;
  /** Set where the bass asked for stays while chords change above it, and a slash asked for it. */
  readonly isPedal?: true;
  /** Set where only these chord tones are on offer; left out where the line walks. */
  readonly confinedTo?: Confinement;
  /** Left out where the player wishes for nothing. */
  readonly lean?: Lean;
}

export interface Timeline {
  readonly title: string;
  /** The key of the first bar. */
  readonly key: Key;
  readonly tempo: Bpm;
  readonly feel: Feel;
  readonly choruses: number;
  readonly bars: readonly TimelineBar[];
  readonly slots: readonly Slot[];
  /** Length of the whole in ticks. */
  readonly ticks: Ticks;
}
