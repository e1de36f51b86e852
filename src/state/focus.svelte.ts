// The one note the screen speaks about: what sounds, else what was chosen, else a note worth looking at.
import type { Line } from '../pipeline';
import type { Playing } from './playing.svelte';
import type { Studio } from './studio.svelte';

/** The first note that shows what the line is about: an open string that carries the hand. */
const worthALook = (line: Line): number | null => {
  const carrying = line.notes.find(({ carry }) => carry !== null);
  return carrying?.index ?? line.notes[0]?.index ?? null;
};

type Played = Pick<Playing, 'sounding' | 'held' | 'told' | 'isPlaying' | 'session'>;

export class Focus {
  readonly #studio: Studio;
  readonly #playing: Played;
  /** The playing during which a note was chosen: until it ends, the choice stands. */
  #chosenIn = $state<number | null>(null);
  readonly #suggestion: number | null = $derived.by(() => {
    const { shown } = this.#studio;
    return shown && worthALook(shown.line);
  });

  /** What words and lists still say: what was chosen is painted first. */
  #before = $state<number | null>(null);
  #listedBefore = $state<number | null>(null);
  readonly #onpainted: (then: () => void) => void;

  /** @param onpainted calls back once the page as it is now has been painted; left out, words follow at once */
  constructor(studio: Studio, playing: Played, onpainted: (then: () => void) => void = (then) => then()) {
    this.#studio = studio;
    this.#playing = playing;
    this.#onpainted = onpainted;
  }

  /** Index of the note, null when there is no line. */
  get index(): number | null {
    return this.#isFollowing ? this.#playing.sounding : (this.#studio.selected ?? this.#suggestion);
  }

  /** The same for the hand on the board and for words, which may come some pictures after the light. */
  get held(): number | null {
    return this.#isFollowing ? (this.#playing.held ?? this.#playing.sounding) : this.index;
  }
  get told(): number | null {
    return this.#isFollowing ? (this.#playing.told ?? this.#playing.sounding) : (this.#before ?? this.index);
  }
  /** The note whose ways, prices and costs are listed: a picture after the words; null while the line plays. */
  get listed(): number | null {
    return this.#isLed ? null : (this.#listedBefore ?? this.index);
  }

  /** The line plays, and nothing has been chosen since it began. */
  get #isLed(): boolean {
    return this.#playing.isPlaying && this.#chosenIn !== this.#playing.session;
  }
  get #isFollowing(): boolean {
    return this.#isLed && this.#playing.sounding !== null;
  }

  /** Chooses a note; while playing, the choice stands until the music stops. */
  choose(index: number): void {
    this.#before = this.told;
    this.#listedBefore = this.listed ?? index;
    this.#studio.select(index);
    if (this.#playing.isPlaying) this.#chosenIn = this.#playing.session;
    this.#onpainted(() => {
      this.#before = null;
      this.#onpainted(() => {
        this.#listedBefore = null;
      });
    });
  }

  /** Goes some notes on or back. */
  step(by: number): void {
    const { index } = this;
    if (index !== null) this.choose(index + by);
  }
}
