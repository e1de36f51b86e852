// The note that something other than the light follows while the line plays. It comes some pictures after the light on the
// staff, so that a slow machine draws one thing a picture: the light, then the hand on the board, then words.

/** Pictures that the light is ahead. */
export const leads = { hand: 1, words: 3 } as const;

export class Told {
  #index = $state<number | null>(null);
  readonly #lead: number;
  /** Pictures since another note began to sound. */
  #late = 0;

  constructor(lead: number) {
    this.#lead = lead;
  }

  get index(): number | null {
    return this.#index;
  }

  /** Call once a picture with the note that sounds. Silence is followed at once. */
  follow(sounding: number | null): void {
    this.#late = this.#index === sounding ? 0 : this.#late + 1;
    if (sounding !== null && this.#late <= this.#lead) return;
    this.#index = sounding;
    this.#late = 0;
  }
}
