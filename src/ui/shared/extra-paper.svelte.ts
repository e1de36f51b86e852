// A sheet for paper that is not the line on show: ways into a note, the keys of a round. It lies ready for the browser's next
// print and is gone after it.
import type { ChordPart, Round, WaysIn } from '../../pipeline';

export type ExtraSheet =
  | { readonly kind: 'ways'; readonly found: WaysIn; readonly on: ChordPart }
  | { readonly kind: 'round'; readonly round: Round };

export class ExtraPaper {
  #sheet: ExtraSheet | null = $state.raw(null);

  /** Null where the line on show is what is printed. */
  get sheet(): ExtraSheet | null {
    return this.#sheet;
  }
  lay(sheet: ExtraSheet): void {
    this.#sheet = sheet;
  }
  clear(): void {
    this.#sheet = null;
  }
}
