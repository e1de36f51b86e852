// Hearing the line: the edge between the studio and the player. The audio clock stays outside the state; once a frame the
// player is asked where it is, and state changes only when the note, bar or pass does.
import { untrack } from 'svelte';
import { barIndex, type BarIndex, type Bpm } from '../music';
import type { Line } from '../pipeline';
import type { BarRange, Playback, PlayerStatus, PlaybackSettings, Position } from '../playback';
import type { Study } from './document';
import { heardSettings, studyAfter } from './heard';
import { movedRange } from './loop';
import { PlayedPlace } from './played-place.svelte';
import type { PlayingParts } from './playing-parts';
import { climbTempo, type SoundWish } from './practice';
import type { WeekBeside } from './practice-days';
import type { Practised } from './practice-log.svelte';
import { NextPass, type Prepared } from './practice-next';
import { PlayedTime } from './practice-time';
import { soundFile } from './sound-file';

/** Quarter notes a minute before there is a chart. */
const usualTempo = 120;

/** How the music begins. */
interface Start {
  /** How often it is heard before it ends by itself. */
  readonly times?: number;
  readonly tried?: BarRange;
  /** The first tempo, where it rises. */
  readonly risen?: number | null;
  /** Without a count-in. */
  readonly isAtOnce?: boolean;
}

export class Playing extends PlayedPlace {
  readonly #parts: PlayingParts;
  readonly #playback: Playback;
  #status: PlayerStatus = $state.raw({ state: 'idle', substitutes: [] });
  #session = $state(0);
  /** The tempo of this pass while it rises from pass to pass. */
  #risen = $state<number | null>(null);
  #stopFrames: (() => void) | null = null;
  #release: (() => void) | null = null;
  readonly #time: PlayedTime;
  readonly #next: NextPass;
  #prepared: Prepared | null = $state.raw(null);
  /** The line the player has, whether or not it is on show yet. */
  #sounds: Line | null = null;
  /** What plays since the music came round, until it is on show: the player is told a moment before it is heard. */
  #turned: { readonly prepared: Prepared; readonly pass: number } | null = null;
  /** The study as this pass plays it, where that is in another key. */
  #away: Study | null = null;
  /** How many times the music is to be heard before it ends by itself; null where it goes on. */
  #times: number | null = $state(null);
  /** The last of them has begun. */
  #isLast = $state(false);
  /** Bars that are played once in place of the loop; null where nothing is tried. */
  #tried: BarRange | null = $state.raw(null);
  /** Times round since the tempo began to move. */
  #climbed = 0;
  readonly #tempo: number = $derived.by(() => this.#tempoNow());

  constructor(parts: PlayingParts) {
    super();
    this.#parts = parts;
    this.#playback = parts.makePlayback({
      onStatus: (status) => {
        this.#hear(status);
      },
      onPass: (pass, isQueued) => {
        this.#comeRound(pass, isQueued);
      },
    });
    this.#next = new NextPass(parts.connectNext, (prepared) => {
      this.#prepared = prepared;
      const { timeline, line } = prepared ?? {};
      const stringLength = parts.studio.instrument.length;
      this.#playback.queue(timeline && line ? { timeline, notes: line.notes, stringLength } : null);
    });
    this.#time = new PlayedTime((seconds, isBreakDue) => {
      parts.log.add(parts.studyId(), seconds);
      if (isBreakDue && parts.settings.values.breakReminder) parts.notices.show({ code: 'break' });
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
  /** What the next time round plays; null while that is not known. */
  get upcoming(): Pick<Prepared, 'line' | 'timeline'> | null {
    const { studio, settings } = this.#parts;
    return studio.isFixed || settings.values.eachPass === 'same take' ? studio.shown : this.#prepared;
  }
  /** Which time the music is heard of how many, from 1; null where it goes on until it is stopped. */
  get hearing(): { readonly time: number; readonly of: number } | null {
    return this.#times === null ? null : { time: this.pass + 1, of: this.#times };
  }
  /** Quarter notes a minute, as heard. */
  get tempo(): number {
    return this.#tempo;
  }
  /** How long the study on the desk was played. */
  get practised(): Practised {
    return this.practisedOf(this.#parts.studyId());
  }

  /** This week's playing beside the usual week's. */
  week(): WeekBeside {
    return this.#parts.log.week();
  }
  /** How long a saved study was played, by its id. */
  practisedOf(id: string): Practised {
    return this.#parts.log.of(id);
  }

  /** A tempo set by hand; one that moves by itself stops moving until the next start. */
  setTempo(tempo: number | null): void {
    this.#risen = null;
    this.#parts.studio.set('tempo', tempo);
  }

  /** Keeps the player in step with the studio and the settings; returns a way to end that. Call once. */
  connect(): () => void {
    const { studio, settings } = this.#parts;
    return $effect.root(() => {
      $effect(() => {
        this.#load();
      });
      $effect(() => {
        this.#playback.set({
          ...heardSettings(settings.values),
          ...this.#round(),
          tempo: this.#tempo as Bpm,
          seed: studio.study.seed,
        });
      });
      // Asks for the next pass whenever what it depends on changes.
      $effect(() => {
        // A lesson, and a take that is tried, go round as they are.
        const isWanted = this.isPlaying && !studio.isFixed && settings.values.eachPass !== 'same take';
        void studio.study;
        void studio.shown;
        untrack(() => {
          this.#next.want(isWanted ? this.#nextStudy() : null);
        });
      });
      $effect(() => {
        void studio.study.key;
        void settings.values.eachPass;
        untrack(() => {
          this.#comeHome();
        });
      });
    });
  }

  /** Starts where the person is looking: the loop, else the bar of the selected note, else the top. */
  play(): Promise<void> {
    const { studio, settings } = this.#parts;
    const { climb } = settings.values;
    const note = studio.selected === null ? undefined : studio.shown?.line.notes[studio.selected];
    const from = studio.bars ? studio.bars.from : note?.slot.bar;
    return this.#start(from, { risen: climb.isOn ? climbTempo(climb, 0) : null });
  }

  /** Plays what is on show from its first bar, or the loop's, at once: without a count-in, at the tempo of the study. */
  playFromTop(): Promise<void> {
    return this.#start(this.#parts.studio.bars?.from, { isAtOnce: true });
  }

  /** Plays some bars of what is on show once, at once, at the tempo of the study; then the music ends. */
  hearBars(bars: BarRange): Promise<void> {
    return this.#start(bars.from, { tried: bars, isAtOnce: true });
  }

  /** Plays the whole form some times, from the top and in one tempo, with the bass each time; then the music ends. */
  hear(times: number): Promise<void> {
    this.#isLast = times <= 1;
    return this.#start(barIndex(0), { times });
  }

  async #start(from: BarIndex | undefined, how: Start): Promise<void> {
    const { times = null, tried = null, risen = null, isAtOnce = false } = how;
    this.#times = times;
    this.#tried = tried;
    this.#climbed = 0;
    this.#risen = risen;
    // What is on show may have changed a moment ago.
    if (isAtOnce) this.#load();
    const countInBars = isAtOnce ? 0 : this.#parts.settings.values.countInBars;
    this.#playback.set({ tempo: this.#tempoNow() as Bpm, countInBars, ...this.#round() });
    await this.#playback.play(from);
  }

  /** What goes round, and whether the bass leaves every other time to the person. */
  #round(): Pick<PlaybackSettings, 'loop' | 'yourTurn'> & Partial<Pick<PlaybackSettings, 'countInBars'>> {
    const { studio, settings } = this.#parts;
    if (this.#tried) return { loop: { ...this.#tried, isOnce: true }, yourTurn: false, countInBars: 0 };
    if (this.#times === null) return { loop: studio.bars ?? 'form', yourTurn: settings.values.yourTurn };
    return { loop: this.#isLast ? 'none' : 'form', yourTurn: false };
  }

  stop(): void {
    this.#playback.stop();
  }

  /** Gives the player what is on show. What came round with its own line is not put in its place once more. */
  #load(): void {
    const { shown, instrument } = this.#parts.studio;
    if (shown !== null && shown.line === this.#sounds) return;
    this.#sounds = shown?.line ?? null;
    const stringLength = instrument.length;
    const music = shown && { timeline: shown.timeline, notes: shown.line.notes, stringLength };
    this.#playback.load(music, 'next beat');
  }

  /** Keeps the minutes played so far: the page may be about to close. */
  keepTime(): void {
    if (this.isPlaying) this.#time.add(this.#parts.now());
  }

  toggle(): void {
    if (this.isPlaying || this.isStarting) this.stop();
    else void this.play();
  }

  /** Forward, as a pedal asks: starts; while playing the loop moves on by its length, or without one a new take comes. */
  goOn(): void {
    const { studio } = this.#parts;
    if (!this.isPlaying) void this.play();
    else if (studio.bars) this.#moveLoop(1);
    else studio.newTake();
  }

  /** Back: stops; when nothing plays the loop moves back by its length. */
  goBack(): void {
    if (this.isPlaying || this.isStarting) this.stop();
    else this.#moveLoop(-1);
  }

  #moveLoop(by: 1 | -1): void {
    const { studio } = this.#parts;
    const bars = studio.shown?.timeline.bars.length ?? 0;
    if (studio.bars) studio.setBars(movedRange(studio.bars, by, bars));
  }

  /**
   * A sound file of what is chosen to go round, once through, as it is heard: with the levels of the parts, but for those
   * that are wished away. Rejects when it is called off or cannot be made.
   */
  async soundFile(
    what: SoundWish,
    onProgress: (share: number) => void,
    signal: AbortSignal,
  ): Promise<Uint8Array> {
    const { studio, settings } = this.#parts;
    const { shown } = studio;
    if (!shown) throw new Error('there is no line');
    return soundFile({
      music: { ...shown, notes: shown.line.notes, stringLength: studio.instrument.length },
      settings: { ...this.#playback.settings, tempo: this.#tempo as Bpm, loop: studio.bars ?? 'form' },
      mix: settings.values.mix,
      what,
      samples: this.#parts.samples,
      onProgress,
      signal,
    });
  }

  /** A tone to find out whether anything is heard. */
  testTone(): void {
    void this.#playback.testTone();
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
    if (!this.isPlaying && !this.isStarting) {
      this.#times = null;
      this.#tried = null;
    }
    const { notices, keepAwake, now } = this.#parts;
    if (this.isPlaying && !wasPlaying) {
      this.#session++;
      this.#time.start(now());
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
      this.#stopFrames = null;
      this.#follow(this.#playback.position());
      this.#time.look(this.#parts.now());
      if (this.isPlaying) this.#watch();
    });
  }

  #follow(position: Position | null): void {
    if (position && this.#turned && position.pass >= this.#turned.pass) this.#showTurned();
    this.moveTo(position);
  }

  #rest(): void {
    this.#stopFrames?.();
    this.#stopFrames = null;
    this.#release?.();
    this.#release = null;
    this.#risen = null;
    this.#next.want(null);
    this.#showTurned();
    this.#comeHome();
    this.#follow(null);
    this.#time.stop(this.#parts.now());
  }

  #comeRound(pass: number, isQueued: boolean): void {
    if (this.#times !== null && pass + 1 >= this.#times) this.#isLast = true;
    const { climb } = this.#parts.settings.values;
    if (climb.isOn && this.#risen !== null) {
      this.#risen = climbTempo(climb, ++this.#climbed);
      this.#playback.set({ tempo: this.#risen as Bpm });
    }
    const prepared = isQueued ? this.#next.take() : null;
    this.#prepared = null;
    if (prepared) {
      this.#sounds = prepared.line;
      this.#turned = { prepared, pass };
    }
    // While the page is hidden no picture asks for it.
    const isSame = this.#parts.studio.isFixed || this.#parts.settings.values.eachPass === 'same take';
    this.#next.want(isSame ? null : this.#nextStudy());
    this.#time.add(this.#parts.now());
  }

  /** The study as the pass after this one is to play it; null when nothing is to change. */
  #nextStudy(): Study | null {
    const { studio, settings } = this.#parts;
    const now = this.#turned?.prepared.study ?? this.#away ?? studio.study;
    return studyAfter(studio.study, now, settings.values.eachPass, studio.shown?.timeline.key);
  }

  /** Puts on show what plays since the music came round. */
  #showTurned(): void {
    const { studio, settings } = this.#parts;
    const prepared = this.#turned?.prepared;
    this.#turned = null;
    if (!prepared) return;
    if (settings.values.eachPass === 'new take') studio.passTake(prepared.study.seed, prepared.result);
    else {
      this.#away = prepared.study;
      studio.showAway(prepared.result);
    }
  }

  /** Back to the study's own key. */
  #comeHome(): void {
    if (!this.#away) return;
    this.#away = null;
    this.#parts.studio.showAway(null);
  }
}
