// The line: what the whole computation is for.
import type { Milli, Millimetres, Seconds, SpelledPitch, SoundingMidi, Ticks, BarNumber } from '../../music';
import type { ArmZone, HandPosition, Placement, Region } from '../../instrument';
import type { Slot, TimelineChord } from '../2-timeline';
import type { Degree, DeviceId, DeviceSpan, Role } from './devices';
import type { RuleHere } from './rules-here';

/** One named part of the cost of a note; the parts of all notes add up to the cost of the line. */
export interface CostItem {
  readonly feature: string;
  readonly amount: Milli;
}

export const moveKinds = ['start', 'stay', 'pivot', 'bare shift', 'covered shift'] as const;
export type MoveKind = (typeof moveKinds)[number];

/** How the hand came to this note from the one before. */
export interface Move {
  readonly kind: MoveKind;
  readonly from: HandPosition;
  readonly to: HandPosition;
  readonly distance: Millimetres;
  /** Time the hand has for it. */
  readonly time: Seconds;
  /** Movement time over the time there is (Fitts); 0 when the hand stays. */
  readonly pressure: number;
}

/** What open strings do for the hand: from the last stopped place to the next one. */
export interface Carry {
  readonly from: HandPosition;
  readonly to: HandPosition;
}

export interface LineNote {
  readonly index: number;
  readonly slot: Slot;
  /** Bar in playing order, from 1. */
  readonly bar: BarNumber;
  readonly beat: number;
  readonly tick: Ticks;
  readonly ticks: Ticks;
  readonly midi: SoundingMidi;
  /** Sounding octave. */
  readonly pitch: SpelledPitch;
  readonly harmony: TimelineChord;
  /** What it is in its chord. */
  readonly degree: Degree;
  /** The devices that it is part of, longest first. */
  readonly devices: readonly DeviceSpan[];
  /** The device that stands for it; null where its degree does. */
  readonly device: DeviceId | null;
  /** The name of that device, or the degree: what is shown of the note. */
  readonly label: string;
  /** One word made from degree and devices, as readers of our files know it. */
  readonly role: Role;
  /** A sentence that says why the note is there. */
  readonly reason: string;
  /** The rules of the line that have something to say of it, stretched ones first. */
  readonly rules: readonly RuleHere[];
  readonly placement: Placement;
  readonly move: Move;
  /**
   * What this open string does for the hand, alone or with those beside it: from the last stopped place to the next; null when
   * the hand stays, and for a stopped note. Its place and its move are the solver's, note by note.
   */
  readonly carry: Carry | null;
  readonly cost: Milli;
  readonly items: readonly CostItem[];
}

/** How far the hand went in the shifts of a kind. */
export interface Distances {
  readonly total: Millimetres;
  /** 0 when there is none. */
  readonly mean: Millimetres;
  readonly longest: Millimetres;
}

export const holdEases = ['relaxed', 'comfortable', 'practical'] as const;
/** What a hold takes of the flat span: up to the relaxed share of it, up to the comfortable one, or more. */
export type HoldEase = (typeof holdEases)[number];

export interface HandReport {
  readonly beats: number;
  /** Share of stopped time by region, and of open strings; sums to 1 when there is a note. */
  readonly byRegion: readonly {
    readonly region: Region | 'open';
    readonly beats: number;
    readonly share: number;
  }[];
  readonly byPosition: readonly {
    readonly position: HandPosition;
    readonly numeral: string;
    readonly beats: number;
  }[];
  /** Stopped beats by how the arm reaches them; only zones the line goes to. */
  readonly byArm: readonly { readonly zone: ArmZone; readonly beats: number; readonly share: number }[];
  readonly bareShifts: number;
  readonly coveredShifts: number;
  readonly bareDistance: Distances;
  readonly coveredDistance: Distances;
  readonly pivots: number;
  /** Holds wider than comfortable. */
  readonly stretches: number;
  /** Stopped notes by what they take of the span; the last is the stretches. */
  readonly holds: Readonly<Record<HoldEase, number>>;
  /** Changes of string from note to note. */
  readonly crossings: number;
  /** Shifts over the heel of the neck, bare or covered. */
  readonly heelJumps: number;
  /** Shifts on which the same finger slides along one string. */
  readonly sameFingerShifts: number;
  /** Longest run of stopped notes in one region. */
  readonly longestStay: {
    readonly region: Region;
    readonly beats: number;
    readonly fromBar: BarNumber;
  } | null;
  readonly hardestMove: {
    readonly bar: BarNumber;
    readonly beat: number;
    readonly semitones: number;
    /** Fitts' index of difficulty. */
    readonly bits: number;
    /** Movement time by Fitts' law, to be set against the time there is (see Move). */
    readonly needed: Seconds;
    readonly move: Move;
  } | null;
}

export interface Line {
  readonly notes: readonly LineNote[];
  /**
   * What its notes do together. `target` counts the notes; it is their number where a device leads round to the top, and
   * null where nothing follows.
   */
  readonly devices: readonly DeviceSpan[];
  /** Sum of the costs of the notes. */
  readonly cost: Milli;
  readonly report: HandReport;
}
