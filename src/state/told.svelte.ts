// The note that words speak about while the line plays. It comes a moment after the light on staff and board, so that a slow
// machine draws the two in pictures of their own.

/** Pictures that the light is ahead of the words. */
const lead = 2;

export class Told {
  #index = $state<number | null>(null);
  /** Pictures since another note began to sound. */
  #late = 0;

  get index(): number | null {
    return this.#index;
  }

  /** Call once a picture with the note that sounds. Silence needs no words and is followed at once. */
  follow(sounding: number | null): void {
    this.#late = this.#index === sounding ? 0 : this.#late + 1;
    if (sounding !== null && this.#late <= lead) return;
    this.#index = sounding;
    this.#late = 0;
  }
}
