// Plays a schedule against a clock: hands over each event once, a moment before it is due, and knows what is heard when.
// No audio here: the clock's seconds come in, strikes and damps go out.
import { ticksPerQuarter, type Bpm } from '../music';
import { TickClock } from './clock';
import { firstAtOrAfter, heldInto, isYourTurn, lastStartedAt, noteAt } from './lookup';
import type { Part, PlaybackEvent, Position, Schedule, SwapMoment } from './types';

/** What makes the sound. Times are seconds of the audio clock, in rising order for each part. */
export interface Sink {
  strike(event: PlaybackEvent, time: number): void;
  /** Ends what the part still sounds. */
  damp(part: Part, time: number): void;
}

/** A run of the form without a jump. */
interface Passage {
  /** Ticks played when it began. */
  readonly played: number;
  /** Tick of the form, or of the count-in, that it began with. */
  readonly from: number;
  readonly schedule: Schedule;
  readonly pass: number;
  readonly isCountIn: boolean;
}

interface Swap {
  readonly schedule: Schedule;
  /** Tick of the form at which it takes over. */
  readonly at: number;
}

/** How long what was played is remembered, in seconds: longer than any output delays the sound. */
const memory = 5;

const eventsOf = ({ schedule, isCountIn }: Passage): readonly PlaybackEvent[] =>
  isCountIn ? schedule.countIn.events : schedule.events;
const endOf = ({ schedule, isCountIn }: Passage): number =>
  isCountIn ? schedule.countIn.ticks : schedule.end;

/** A tick of the form at or after the given one where lines can be changed: no swung note straddles it. */
function boundaryAfter(schedule: Schedule, tick: number, moment: SwapMoment): number {
  const bar = schedule.bars[Math.max(0, lastStartedAt(schedule.bars, tick))];
  if (!bar || moment === 'next pass') return schedule.end;
  if (tick <= bar.start) return bar.start;
  const isWholeBeats = (bar.end - bar.start) % ticksPerQuarter === 0;
  if (moment === 'next bar' || !isWholeBeats) return Math.min(bar.end, schedule.end);
  const beats = Math.ceil((tick - bar.start) / ticksPerQuarter);
  return Math.min(bar.start + beats * ticksPerQuarter, schedule.end);
}

export class Conductor {
  readonly #clock: TickClock;
  readonly #sink: Sink;
  readonly #onPass: (pass: number, isQueued: boolean) => void;
  #passages: Passage[];
  /** Index of the event to hand over next. */
  #next = 0;
  /** Ticks played up to which everything was handed over. */
  #horizon = 0;
  #swap: Swap | null = null;
  /** What the next pass plays. */
  #queued: Schedule | null = null;
  /** Ticks played at which a part's sound ends. */
  readonly #ringing = new Map<Part, number>();
  /** Ticks played when the music ended. */
  #ended: number | null = null;

  /**
   * The count-in, or without one the first note, falls on `startTime`.
   * @param onPass see PlayerOptions
   * @param pass how often the music had come round before
   */
  constructor(
    schedule: Schedule,
    tempo: Bpm,
    startTime: number,
    sink: Sink,
    onPass: (pass: number, isQueued: boolean) => void = () => undefined,
    pass = 0,
  ) {
    this.#clock = new TickClock(startTime, tempo);
    this.#sink = sink;
    this.#onPass = onPass;
    this.#passages = [{ played: 0, from: 0, schedule, pass, isCountIn: true }];
  }

  /** Hands over everything due before a time; call it often, with a time a little ahead. */
  advance(until: number): void {
    while (this.#step(until));
    this.#horizon = Math.max(this.#horizon, this.#clock.tickAt(until));
    this.#forget(until - memory);
  }

  /** A tempo from the first event that was not handed over yet. */
  setTempo(tempo: Bpm): void {
    this.#clock.setTempo(tempo, this.#horizon);
  }

  /** Goes on with another schedule from a moment where no note is lost and none is doubled. */
  replace(schedule: Schedule, moment: SwapMoment): void {
    const passage = this.#passage;
    if (passage.isCountIn) {
      // The count goes on; what follows it is new. Its length stays, so that the beat does.
      this.#passages[this.#passages.length - 1] = {
        ...passage,
        schedule: { ...schedule, countIn: passage.schedule.countIn },
      };
      return;
    }
    const tick = passage.from + this.#horizon - passage.played;
    this.#swap = { schedule, at: boundaryAfter(passage.schedule, tick, moment) };
  }

  /** The schedule for the next pass, in place of any queued before; null calls it off. */
  queue(schedule: Schedule | null): void {
    this.#queued = schedule;
  }

  /** What is heard at a time; null when the music has ended. */
  positionAt(time: number): Position | null {
    const played = Math.max(0, this.#clock.tickAt(time));
    if (this.#ended !== null && played >= this.#ended) return null;
    const passage = this.#passages.findLast((one) => one.played <= played) ?? this.#passages[0]!;
    const { schedule, pass, isCountIn } = passage;
    if (isCountIn) {
      const { bar, chorus } = noteAt(schedule, schedule.start);
      const left = Math.ceil((schedule.countIn.ticks - played) / ticksPerQuarter);
      return { tick: schedule.start, bar, chorus, noteIndex: null, pass, countIn: left, isYourTurn: false };
    }
    const tick = passage.from + played - passage.played;
    const turn = isYourTurn(schedule, pass, tick);
    return { tick, pass, countIn: null, isYourTurn: turn, ...noteAt(schedule, tick) };
  }

  /** When the music ended, seconds; null while there is more to come. */
  get endTime(): number | null {
    return this.#ended === null ? null : this.#clock.timeOf(this.#ended);
  }

  /** Everything held on to: what may grow must be counted. */
  get size(): number {
    const { schedule } = this.#passage;
    const waiting = (this.#swap?.schedule.events.length ?? 0) + (this.#queued?.events.length ?? 0);
    const remembered = this.#passages.length + this.#clock.size + this.#ringing.size;
    return schedule.events.length + waiting + remembered;
  }

  get #passage(): Passage {
    return this.#passages.at(-1)!;
  }

  /** Hands over one thing if it is due: a damp, an event, or the turn at the end of a passage. */
  #step(until: number): boolean {
    if (this.#ended !== null) return this.#dampDue(Infinity, until);
    const passage = this.#passage;
    const limit = this.#swap?.at ?? endOf(passage);
    const event = eventsOf(passage)[this.#next];
    const isEvent = event !== undefined && event.tick < limit;
    const played = passage.played + (isEvent ? event.tick : limit) - passage.from;
    if (this.#dampDue(played, until)) return true;
    const time = this.#clock.timeOf(played);
    if (time >= until) return false;
    if (isEvent) {
      this.#next++;
      this.#strike(event, played, time);
    } else this.#turn(passage, played, limit);
    return true;
  }

  #strike(event: PlaybackEvent, played: number, time: number): void {
    const { schedule, pass, isCountIn } = this.#passage;
    if (event.part === 'bass' && !isCountIn && isYourTurn(schedule, pass, event.tick)) return;
    if (event.part === 'bass' || event.part === 'chords') {
      if (this.#ringing.has(event.part)) this.#sink.damp(event.part, time);
      this.#ringing.set(event.part, played + event.damp - event.tick);
    } else if (event.damp !== undefined) {
      // What the hand stopped later has come again before.
      if (this.#ringing.has(event.part)) this.#sink.damp(event.part, time);
      this.#ringing.set(event.part, played + event.damp - event.tick);
    }
    this.#sink.strike(event, time);
  }

  /** Damps the first part whose sound ends at or before a tick, if that is due. */
  #dampDue(before: number, until: number): boolean {
    for (const [part, played] of this.#ringing) {
      const time = this.#clock.timeOf(played);
      if (played > before || time >= until) continue;
      this.#ringing.delete(part);
      this.#sink.damp(part, time);
      return true;
    }
    return false;
  }

  /** The end of a passage: into the form, over to another schedule, round again, or the end. */
  #turn(passage: Passage, played: number, tick: number): void {
    this.#horizon = played;
    if (passage.isCountIn) {
      const schedule = this.#swap?.schedule ?? passage.schedule;
      this.#swap = null;
      this.#begin(schedule, played, schedule.start, passage.pass);
      this.#strikeHeld(schedule, schedule.start, played);
      return;
    }
    const queued = tick >= passage.schedule.end ? this.#queued : null;
    const schedule = queued ?? this.#swap?.schedule ?? passage.schedule;
    this.#swap = null;
    const isRound = queued !== null || tick >= schedule.end;
    const goesOn = !isRound && tick >= schedule.loopStart;
    if (!goesOn) {
      for (const [part, end] of this.#ringing) this.#ringing.set(part, Math.min(end, played));
    }
    const isOver = isRound && !schedule.goesRound;
    if (isOver || schedule.end <= schedule.loopStart) {
      this.#ended = played;
      return;
    }
    const pass = passage.pass + (isRound ? 1 : 0);
    this.#begin(schedule, played, goesOn ? tick : schedule.loopStart, pass);
    if (!goesOn) this.#strikeHeld(schedule, schedule.loopStart, played);
    if (!isRound) return;
    if (queued) this.#queued = null;
    this.#onPass(pass, queued !== null);
  }

  #begin(schedule: Schedule, played: number, from: number, pass: number): void {
    this.#passages.push({ played, from, schedule, pass, isCountIn: false });
    this.#next = firstAtOrAfter(schedule.events, from);
  }

  /** After a jump into a note that is held over the bar line: it is struck there. */
  #strikeHeld(schedule: Schedule, tick: number, played: number): void {
    const held = heldInto(schedule, tick);
    if (held) this.#strike(held, played, this.#clock.timeOf(played));
  }

  #forget(time: number): void {
    const current = this.#passages.findLastIndex((one) => this.#clock.timeOf(one.played) <= time);
    if (current > 0) this.#passages = this.#passages.slice(current);
    this.#clock.forgetBefore(time);
  }
}
