// Where the music is, as views are told: it is asked for once a frame, and changes only when the note, bar or pass does.
import type { BarIndex } from '../music';
import type { Position } from '../playback';
import { leads, Told } from './told.svelte';

export class PlayedPlace {
  #sounding = $state<number | null>(null);
  readonly #held = new Told(leads.hand);
  readonly #told = new Told(leads.words);
  #bar = $state<BarIndex | null>(null);
  #chorus = $state<number | null>(null);
  #countIn = $state<number | null>(null);
  #isYourTurn = $state(false);
  #pass = $state(0);

  /** Index of the note that sounds, null when none does. */
  get sounding(): number | null {
    return this.#sounding;
  }
  /** The same for the hand on the board and for words, which come some pictures later. */
  get held(): number | null {
    return this.#held.index;
  }
  get told(): number | null {
    return this.#told.index;
  }
  /** The bar that sounds. */
  get bar(): BarIndex | null {
    return this.#bar;
  }
  get chorus(): number | null {
    return this.#chorus;
  }
  /** Quarter notes left before the music starts, null when it plays or rests. */
  get countIn(): number | null {
    return this.#countIn;
  }
  /** The bass rests for the person to play it. */
  get isYourTurn(): boolean {
    return this.#isYourTurn;
  }
  /** How often the music has come round, from 0. */
  get pass(): number {
    return this.#pass;
  }

  /** Null where nothing plays. */
  protected moveTo(position: Position | null): void {
    this.#sounding = position?.countIn === null ? position.noteIndex : null;
    this.#held.follow(this.#sounding);
    this.#told.follow(this.#sounding);
    this.#bar = position?.bar ?? null;
    this.#chorus = position?.chorus ?? null;
    this.#countIn = position?.countIn ?? null;
    this.#isYourTurn = position?.isYourTurn ?? false;
    this.#pass = position?.pass ?? 0;
  }
}
