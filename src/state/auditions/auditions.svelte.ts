// Takes drawn beside the study, one after the other in a thread of their own, to be looked through and heard. The study
// stays as it is until one of them is taken for it.
import type { Asker, Connect } from '../asking';
import type { Playing } from '../playing.svelte';
import type { Studio } from '../studio.svelte';
import { newStudy, type Study } from '../study';
import {
  drawnAsOf,
  drawnTake,
  drawRequest,
  isSameGround,
  isSameNotes,
  mostTakes,
  seedAfter,
  takesARun,
  type DrawnAs,
  type DrawnTake,
} from './drawn';
import { sameWishes, wishesLike } from './like';
import { firstOrder, ordered, pressed, type Column, type Order } from './order';
import { openSieve, sifted, type Sieve } from './sift';

/** Makes an asker whose thread can be ended. */
export type ConnectDraw = (...told: Parameters<Connect<'walk'>>) => Asker<'walk'> & { dispose(): void };

export interface AuditionsParts {
  readonly studio: Pick<Studio, 'study' | 'stars' | 'showTake' | 'useTake' | 'addStar' | 'removeStar'>;
  readonly playing: Pick<Playing, 'isPlaying' | 'isStarting' | 'stop' | 'playFromTop'>;
  readonly connect: ConnectDraw;
}

/** Takes that are being drawn. */
interface Run {
  readonly drawnAs: DrawnAs;
  /** Number of the take under way. */
  readonly seed: number;
  readonly done: number;
  readonly of: number;
  /** How far the take under way has come, 0 to 1. */
  readonly share: number;
}

/** The take that the last run was to be like, and how that run was drawn. */
export interface AskedLike {
  readonly take: DrawnTake;
  readonly drawnAs: DrawnAs;
}

/** Why a run ended early: the study has no line, or the computation broke. */
export type DrawTrouble = 'no line' | 'broke';

export class Auditions {
  readonly #parts: AuditionsParts;
  readonly #asker: ReturnType<ConnectDraw>;
  /** The study that the takes were drawn for. */
  #study: Study = $state.raw(newStudy(''));
  #takes = $state.raw<readonly DrawnTake[]>([]);
  #run = $state.raw<Run | null>(null);
  #like = $state.raw<AskedLike | null>(null);
  #trouble = $state<DrawTrouble | null>(null);
  /** Number of the take drawn last. */
  #last: number;
  #lent = $state.raw<DrawnTake | null>(null);
  /** The player has begun to play the take that is lent. */
  #hasBegun = $state(false);
  #order: Order = $state.raw(firstOrder);
  #sieve: Sieve = $state.raw(openSieve);
  #chosen = $state.raw<readonly DrawnTake[]>([]);
  readonly #rows = $derived(ordered(sifted(this.#takes, this.#sieve), this.#order));

  constructor(parts: AuditionsParts) {
    this.#parts = parts;
    this.#study = parts.studio.study;
    this.#last = this.#study.seed;
    this.#asker = parts.connect(
      ({ answer }) => this.#receive(drawnTake(answer, this.#next())),
      () => this.#end('broke'),
      ({ done }) => {
        if (this.#run) this.#run = { ...this.#run, share: done };
      },
    );
  }

  /** All that were drawn, in that order. */
  get takes(): readonly DrawnTake[] {
    return this.#takes;
  }
  /** Those that keep within the limits, in the order that was asked for. */
  get rows(): readonly DrawnTake[] {
    return this.#rows;
  }
  get order(): Order {
    return this.#order;
  }
  get sieve(): Sieve {
    return this.#sieve;
  }
  /** Takes to be compared, two at most, in the order they were chosen in. */
  get chosen(): readonly DrawnTake[] {
    return this.#chosen;
  }
  /** How many takes of the run under way are drawn, and how far it has come, 0 to 1; null when nothing is drawn. */
  get progress(): { readonly done: number; readonly of: number; readonly share: number } | null {
    const run = this.#run;
    return run && { done: run.done, of: run.of, share: (run.done + run.share) / run.of };
  }
  get like(): AskedLike | null {
    return this.#like;
  }
  get trouble(): DrawTrouble | null {
    return this.#trouble;
  }
  /** No more takes are held. */
  get isFull(): boolean {
    return this.#takes.length >= mostTakes;
  }
  /** The study has changed since, so that these takes are not for it. */
  get isStale(): boolean {
    return !isSameGround(this.#study, this.#parts.studio.study);
  }
  /** The take that is heard; null when none is. */
  get heard(): DrawnTake | null {
    return this.#lent;
  }

  /** Orders the rows by a column, or turns them round. */
  sortBy(column: Column): void {
    this.#order = pressed(this.#order, column);
  }
  sift(change: Partial<Sieve>): void {
    this.#sieve = { ...this.#sieve, ...change };
  }
  /** Chooses a take to be compared, or lets it go; a third one takes the place of the first. */
  toggleChosen(take: DrawnTake): void {
    this.#chosen = this.#chosen.includes(take)
      ? this.#chosen.filter((one) => one !== take)
      : [...this.#chosen, take].slice(-2);
  }

  /** Draws the first takes; those of before are kept where they are still for this study. */
  begin(): void {
    if (this.isStale || (this.#takes.length === 0 && !this.#run)) this.drawAnew();
  }

  /** Lets go of all takes and draws others, for the study as it is now. */
  drawAnew(): void {
    this.hush();
    this.stop();
    this.#study = this.#parts.studio.study;
    this.#last = this.#study.seed;
    this.#takes = [];
    this.#chosen = [];
    this.more();
  }

  /** Ten more as the study wishes. */
  more(): void {
    this.#like = null;
    this.#begin(drawnAsOf(this.#parts.studio.study));
  }

  /** Ten more that lean the way a take does. */
  moreLike(take: DrawnTake): void {
    const fellows = this.#takes.filter(({ drawnAs }) => sameWishes(drawnAs, take.drawnAs));
    const walks = fellows.map(({ figures }) => figures.walk);
    const drawnAs = { ...take.drawnAs, ...wishesLike(take.figures.walk, walks, take.drawnAs) };
    this.#like = { take, drawnAs };
    this.#begin(drawnAs);
  }

  /** Gives up what is being drawn; what was drawn stays. */
  stop(): void {
    if (!this.#run) return;
    this.#asker.cancel();
    this.#run = null;
  }

  /** Plays a take from its first bar; the one that is heard is hushed. */
  async hear(take: DrawnTake): Promise<void> {
    const { playing, studio } = this.#parts;
    const was = this.#lent;
    this.hush();
    playing.stop();
    if (was === take) return;
    studio.showTake(take.result, 'heard');
    this.#lent = take;
    await playing.playFromTop();
    if (this.#lent === take) this.#hasBegun = true;
  }

  /**
   * Gives the study's line back once the player has stopped, and draws no more for a study that has changed; to be called in
   * an effect, so that it follows both.
   */
  follow(): void {
    if (this.isStale) this.stop();
    const { isPlaying, isStarting } = this.#parts.playing;
    if (this.#hasBegun && !isPlaying && !isStarting) this.hush();
  }

  /** Stops a take that is heard and gives the study's line back. */
  hush(): void {
    if (!this.#lent) return;
    this.#lent = null;
    this.#hasBegun = false;
    this.#parts.playing.stop();
    this.#parts.studio.showTake(null, 'heard');
  }

  /** Makes a take the study's own, with what it was drawn with: one step of the history. */
  use(take: DrawnTake): void {
    this.hush();
    if (this.isUsed(take)) return;
    this.#parts.studio.useTake(take, take.drawnAs);
  }
  /** The study's line is this take, note for note as it was drawn. */
  isUsed({ seed, kept }: DrawnTake): boolean {
    const { study } = this.#parts.studio;
    return study.seed === seed && study.redraws === 0 && isSameNotes(study.kept, kept);
  }

  /** Keeps a take aside under a name, or lets it go when it is kept. */
  toggleKept(take: DrawnTake, name: string): void {
    const { studio } = this.#parts;
    const at = this.#starOf(take);
    if (at >= 0) studio.removeStar(at);
    else studio.addStar({ name, seed: take.seed, kept: take.kept });
  }
  isKept(take: DrawnTake): boolean {
    return this.#starOf(take) >= 0;
  }

  /** The page is left: nothing is drawn or heard any more, and the thread ends. Takes stay for the next visit. */
  leave(): void {
    this.hush();
    this.stop();
    this.#asker.dispose();
  }

  #starOf({ kept }: DrawnTake): number {
    return this.#parts.studio.stars.findIndex((star) => star.kept === kept);
  }

  #next(): Pick<DrawnTake, 'index' | 'seed' | 'drawnAs'> {
    const { seed, drawnAs } = this.#run!;
    return { index: this.#takes.length, seed, drawnAs };
  }

  #begin(drawnAs: DrawnAs): void {
    this.stop();
    this.#trouble = null;
    // Tempo and wishes may have changed since; what has changed otherwise calls for takes drawn anew.
    if (!this.isStale) this.#study = this.#parts.studio.study;
    const of = Math.min(takesARun, mostTakes - this.#takes.length);
    if (of > 0) this.#ask({ drawnAs, seed: seedAfter(this.#study, this.#last), done: 0, of, share: 0 });
  }

  #ask(run: Run): void {
    this.#run = run;
    this.#asker.request(drawRequest(this.#study, run.seed, run.drawnAs));
  }

  #receive(take: DrawnTake | null): void {
    const run = this.#run;
    if (!run) return;
    if (!take) {
      this.#end('no line');
      return;
    }
    this.#takes = [...this.#takes, take];
    this.#last = run.seed;
    const done = run.done + 1;
    if (done < run.of) this.#ask({ ...run, seed: seedAfter(this.#study, run.seed), done, share: 0 });
    else this.#run = null;
  }

  #end(trouble: DrawTrouble): void {
    this.#run = null;
    this.#trouble = trouble;
  }
}
