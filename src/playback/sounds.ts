// The samples that a player plays: fetched once, decoded for the bass that is wished for.
import { fetchGroup, groupsFor, makeBank, type Bank, type Group, type SampleFiles } from './bank';
import type { StringSource } from './strings';
import type { BassSound } from './types';

export class Sounds {
  readonly #folder: string;
  readonly #files = new Map<Group, Promise<SampleFiles>>();
  #bank: Bank | null = null;
  /** The bass that the bank holds. */
  #sound: BassSound | null = null;

  /** @param folder where the samples lie */
  constructor(folder: string) {
    this.#folder = folder;
  }

  /** What did not arrive in the bank in use. */
  get substitutes(): Bank['substitutes'] {
    return this.#bank?.substitutes ?? [];
  }

  async fetch(sound: BassSound): Promise<SampleFiles> {
    const groups = groupsFor(sound).map((group) => {
      const files = this.#files.get(group) ?? fetchGroup(this.#folder, group);
      this.#files.set(group, files);
      return files;
    });
    return new Map((await Promise.all(groups)).flatMap((files) => [...files]));
  }

  async bank(context: BaseAudioContext, sound: BassSound, strings: StringSource<AudioBuffer>): Promise<Bank> {
    if (this.#bank && this.#sound === sound) return this.#bank;
    const bank = await makeBank(context, await this.fetch(sound), sound, strings);
    this.#bank = bank;
    this.#sound = sound;
    return bank;
  }

  /** Lets go of what was decoded; the files stay. */
  forget(): void {
    this.#bank = null;
    this.#sound = null;
  }
}
