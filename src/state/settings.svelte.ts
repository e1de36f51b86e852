// The preferences of this device as the screen uses them: read once, written on every change. Of two tabs that change the
// same thing the last one wins; what only one of them changed stays.
import type { Part, PartMix } from '../playback';
import {
  isStored,
  loadPreferences,
  savePreferences,
  type Preferences,
  type TextStorage,
} from './preferences';

export class Settings {
  readonly #storage: TextStorage | null;
  readonly #onlost: () => void;
  #hasTold = false;
  #values: Preferences = $state.raw(loadPreferences(null));

  /** `onlost` is called once, when notes of the person's own are not kept: the rest can be set again. */
  constructor(storage: TextStorage | null, onlost: () => void = () => undefined) {
    this.#storage = storage;
    this.#onlost = onlost;
    this.#values = loadPreferences(storage);
  }

  get values(): Preferences {
    return this.#values;
  }

  change(change: Partial<Preferences>): void {
    this.#values = { ...this.#values, ...change };
    const isKept = savePreferences(this.#storage, { ...this.#stored(), ...change });
    if (isKept || change.bench === undefined || this.#hasTold) return;
    this.#hasTold = true;
    this.#onlost();
  }

  /** What lies in the storage now: another tab may have written, and this one changes nothing but what it changes. */
  #stored(): Preferences {
    return isStored(this.#storage) ? loadPreferences(this.#storage) : this.#values;
  }

  changePart(part: Part, change: Partial<PartMix>): void {
    const { mix } = this.#values;
    this.change({ mix: { ...mix, [part]: { ...mix[part], ...change } } });
  }
}
