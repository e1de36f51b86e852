// The one note the screen speaks about: what sounds, else what was chosen, else a note worth looking at.
import type { Line } from '../pipeline';
import type { Playing } from './playing.svelte';
import type { Studio } from './studio.svelte';

/** The first note that shows what the line is about: an open string that carries the hand. */
const worthALook = (line: Line): number | null => {
  const carrying = line.notes.find(({ carry }) => carry !== null && carry.from !== carry.to);
  return carrying?.index ?? line.notes[0]?.index ?? null;
};

export class Focus {
  readonly #studio: Studio;
  readonly #playing: Pick<Playing, 'sounding' | 'isPlaying' | 'session'>;
  /** The playing during which a note was chosen: until it ends, the choice stands. */
  #held = $state<number | null>(null);
  readonly #suggestion: number | null = $derived.by(() => {
    const { shown } = this.#studio;
    return shown && worthALook(shown.line);
  });

  constructor(studio: Studio, playing: Pick<Playing, 'sounding' | 'isPlaying' | 'session'>) {
    this.#studio = studio;
    this.#playing = playing;
  }

  /** Index of the note, null when there is no line. */
  get index(): number | null {
    const { selected } = this.#studio;
    const { sounding, isPlaying, session } = this.#playing;
    if (isPlaying && sounding !== null && this.#held !== session) return sounding;
    return selected ?? this.#suggestion;
  }

  /** Chooses a note; while playing, the choice stands until the music stops. */
  choose(index: number): void {
    this.#studio.select(index);
    if (this.#playing.isPlaying) this.#held = this.#playing.session;
  }

  /** Goes some notes on or back. */
  step(by: number): void {
    const { index } = this;
    if (index !== null) this.choose(index + by);
  }
}
