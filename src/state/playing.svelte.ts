// Hearing the line: the edge between the studio and the player. The audio clock stays outside the state; once a frame the
// player is asked where it is, and state changes only when the note, bar or pass does.
import { tempoRange, type Bpm } from '../music';
import type { Playback, PlayerOptions, PlayerStatus, PlaybackSettings, Position } from '../playback';
import type { Notices } from './notices.svelte';
import type { Settings } from './settings.svelte';
import type { Studio } from './studio.svelte';

/** Calls back before the next picture; returns a way to call it off. */
export type EachFrame = (frame: () => void) => () => void;

export interface PlayingParts {
  readonly studio: Studio;
  readonly settings: Settings;
  readonly notices: Notices;
  readonly makePlayback: (options: Pick<PlayerOptions, 'onStatus' | 'onPass'>) => Playback;
  readonly nextFrame: EachFrame;
  /** Milliseconds. */
  readonly now: () => number;
  /** Keeps the screen awake until the returned function is called. */
  readonly keepAwake: () => () => void;
}

/** Quarter notes a minute before there is a chart. */
const usualTempo = 120;
/** Minutes of playing after which a break is suggested [expert opinion: 5 minutes after 25]. */
const breakAfterMinutes = 25;

export class Playing {
  readonly #parts: PlayingParts;
  readonly #playback: Playback;
  #status: PlayerStatus = $state.raw({ state: 'idle', substitutes: [] });
  #sounding = $state<number | null>(null);
  #bar = $state<number | null>(null);
  #chorus = $state<number | null>(null);
  #countIn = $state<number | null>(null);
  #session = $state(0);
  /** The tempo of this pass while it rises from pass to pass. */
  #risen = $state<number | null>(null);
  #stopFrames: (() => void) | null = null;
  #release: (() => void) | null = null;
  #startedAt = 0;
  #played = 0;

  readonly #tempo: number = $derived.by(() => this.#tempoNow());

  constructor(parts: PlayingParts) {
    this.#parts = parts;
    this.#playback = parts.makePlayback({
      onStatus: (status) => {
        this.#hear(status);
      },
      onPass: () => {
        this.#comeRound();
      },
    });
    this.#status = this.#playback.status;
  }

  get status(): PlayerStatus {
    return this.#status;
  }
  get isPlaying(): boolean {
    return this.#status.state === 'playing';
  }
  get isStarting(): boolean {
    return this.#status.state === 'loading';
  }
  /** Counts the starts. */
  get session(): number {
    return this.#session;
  }
  /** Index of the note that sounds, null when none does. */
  get sounding(): number | null {
    return this.#sounding;
  }
  /** Index of the bar that sounds. */
  get bar(): number | null {
    return this.#bar;
  }
  get chorus(): number | null {
    return this.#chorus;
  }
  /** Quarter notes left before the music starts, null when it plays or rests. */
  get countIn(): number | null {
    return this.#countIn;
  }
  /** Quarter notes a minute, as heard. */
  get tempo(): number {
    return this.#tempo;
  }

  /** Keeps the player in step with the studio and the settings; returns a way to end that. Call once. */
  connect(): () => void {
    const { studio, settings } = this.#parts;
    return $effect.root(() => {
      $effect(() => {
        const { shown } = studio;
        this.#playback.load(shown && { timeline: shown.timeline, notes: shown.line.notes }, 'next beat');
      });
      $effect(() => {
        const { mix, countInBars, swing } = settings.values;
        const change: Partial<PlaybackSettings> = {
          tempo: this.#tempo as Bpm,
          swing: swing ?? 'by tempo',
          countInBars,
          loop: studio.bars ?? 'form',
          mix,
          seed: studio.study.seed,
        };
        this.#playback.set(change);
      });
    });
  }

  /** Starts where the person is looking: the loop, else the bar of the selected note, else the top. */
  async play(): Promise<void> {
    const { studio } = this.#parts;
    const note = studio.selected === null ? undefined : studio.shown?.line.notes[studio.selected];
    await this.#playback.play(studio.bars ? studio.bars.from : note ? note.bar - 1 : undefined);
  }

  stop(): void {
    this.#playback.stop();
  }

  toggle(): void {
    if (this.isPlaying || this.isStarting) this.stop();
    else void this.play();
  }

  /** Fetches the sounds before they are needed. */
  prepare(): void {
    void this.#playback.prepare();
  }

  #tempoNow(): number {
    const { study, shown } = this.#parts.studio;
    return this.#risen ?? study.tempo ?? shown?.timeline.tempo ?? usualTempo;
  }

  #hear(status: PlayerStatus): void {
    const wasPlaying = this.isPlaying;
    this.#status = status;
    const { notices, keepAwake, now } = this.#parts;
    if (this.isPlaying && !wasPlaying) {
      this.#session++;
      this.#startedAt = now();
      this.#release = keepAwake();
      this.#watch();
      notices.say({ code: 'playing' });
    }
    if (!this.isPlaying && wasPlaying) {
      this.#rest();
      notices.say({ code: 'stopped' });
    }
  }

  #watch(): void {
    this.#stopFrames?.();
    this.#stopFrames = this.#parts.nextFrame(() => {
      this.#follow(this.#playback.position());
      if (this.isPlaying) this.#watch();
    });
  }

  #follow(position: Position | null): void {
    this.#sounding = position?.countIn === null ? position.noteIndex : null;
    this.#bar = position?.bar ?? null;
    this.#chorus = position?.chorus ?? null;
    this.#countIn = position?.countIn ?? null;
  }

  #rest(): void {
    this.#stopFrames?.();
    this.#stopFrames = null;
    this.#release?.();
    this.#release = null;
    this.#risen = null;
    this.#follow(null);
    this.#countPlayed();
  }

  #comeRound(): void {
    const { settings, studio } = this.#parts;
    const { speedUp, eachPass } = settings.values;
    if (speedUp > 0) {
      this.#risen = Math.min(tempoRange.most, this.#tempo + speedUp);
      this.#playback.set({ tempo: this.#risen as Bpm });
    }
    if (eachPass === 'new take') studio.passTake();
    this.#countPlayed();
    this.#startedAt = this.#parts.now();
  }

  #countPlayed(): void {
    const { now, settings, notices } = this.#parts;
    this.#played += now() - this.#startedAt;
    if (this.#played < breakAfterMinutes * 60_000) return;
    this.#played = 0;
    if (settings.values.breakReminder) notices.show({ code: 'break' });
  }
}
