// The preferences of this device as the screen uses them: read once, written on every change.
import type { Part, PartMix } from '../playback';
import { loadPreferences, savePreferences, type Preferences, type TextStorage } from './preferences';

export class Settings {
  readonly #storage: TextStorage | null;
  #values: Preferences = $state.raw(loadPreferences(null));

  constructor(storage: TextStorage | null) {
    this.#storage = storage;
    this.#values = loadPreferences(storage);
  }

  get values(): Preferences {
    return this.#values;
  }

  change(change: Partial<Preferences>): void {
    this.#values = { ...this.#values, ...change };
    savePreferences(this.#storage, this.#values);
  }

  changePart(part: Part, change: Partial<PartMix>): void {
    const { mix } = this.#values;
    this.change({ mix: { ...mix, [part]: { ...mix[part], ...change } } });
  }
}
