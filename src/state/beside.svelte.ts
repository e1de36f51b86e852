// A second line beside the one that is shown: a way that is tried at a beat, the line without an open string, a starred
// take. It is worked out on its own and never touches the document until it is taken over.
import type { Placement } from '../instrument';
import type { Spot } from '../pipeline';
import * as verbs from './document';
import type { Study } from './document';
import { requestOf } from './request';
import type { ShownLine } from './edits';
import type { Asker, Connect } from './asking';
import type { Studio } from './studio.svelte';

/** What is laid beside the shown line. */
export type BesideWhat =
  | { readonly kind: 'way'; readonly index: number; readonly place: number; readonly placement: Placement }
  | { readonly kind: 'stopped'; readonly index: number }
  | { readonly kind: 'star'; readonly star: number }
  /** A take drawn beside the study, by its number. */
  | { readonly kind: 'drawn'; readonly seed: number };

/** An answered question, and the line it was asked about. */
interface Found {
  readonly what: BesideWhat;
  readonly about: ShownLine;
  readonly line: ShownLine | null;
}

const samePlacement = (one: Placement, other: Placement): boolean =>
  one.string === other.string &&
  one.stop === other.stop &&
  one.finger === other.finger &&
  one.position === other.position;

export class Beside {
  readonly #studio: Studio;
  readonly #asker: Asker<'walk'>;
  #what = $state.raw<BesideWhat | null>(null);
  /** The line that was shown when it was asked. */
  #about = $state.raw<ShownLine | null>(null);
  #found = $state.raw<Found | null>(null);

  constructor(studio: Studio, connect: Connect<'walk'>) {
    this.#studio = studio;
    this.#asker = connect(
      ({ answer: { line, timeline }, isLatest }) => {
        const [what, about] = [this.#what, this.#about];
        if (!isLatest || !what || !about) return;
        this.#found = { what, about, line: line && timeline && { line, timeline } };
      },
      () => this.close(),
    );
  }

  /** Null when nothing is laid beside, or the line it was laid beside is gone. */
  get what(): BesideWhat | null {
    return this.#about === this.#studio.shown ? this.#what : null;
  }
  /** The second line; null while it is worked out, and where there is none. */
  get line(): ShownLine | null {
    const { what } = this;
    return what && this.#found?.what === what ? this.#found.line : null;
  }
  /** True when it is known that there is no such line. */
  get isImpossible(): boolean {
    const { what } = this;
    return what !== null && this.#found?.what === what && this.#found.line === null;
  }

  /** The way at a place of the ranked list that is being tried at a note, null when none is. */
  placeAt(index: number): number | null {
    const { what } = this;
    return what?.kind === 'way' && what.index === index ? what.place : null;
  }

  /** Goes up or down the ways to play a note, cheapest first; false when they are not known. */
  step(index: number, by: 1 | -1): boolean {
    const spots = this.#studio.explanation?.slots[index]?.spots ?? [];
    if (spots.length === 0) return false;
    const at = this.placeAt(index);
    const first = by > 0 ? 0 : spots.length - 1;
    const place = at === null ? first : Math.min(spots.length - 1, Math.max(0, at + by));
    this.try(index, place, spots);
    return true;
  }

  /** Tries one way of the ranked list: the best that the bars around it allow. */
  try(index: number, place: number, spots: readonly Spot[]): void {
    const { shown, study } = this.#studio;
    const note = shown?.line.notes[index];
    const spot = spots[place];
    if (!note || !spot) return;
    const { placement } = spot;
    this.#lay({ kind: 'way', index, place, placement }, verbs.pinPlacement(study, note, placement));
  }

  /** The line as it would be with no open string at a note. */
  withoutOpen(index: number): void {
    const { shown, study } = this.#studio;
    const note = shown?.line.notes[index];
    if (note) this.#lay({ kind: 'stopped', index }, verbs.pinRole(study, note, 'stopped'));
  }

  compare(star: number): void {
    const { study } = this.#studio;
    const { kept, own = null } = study.stars[star] ?? {};
    if (kept) this.#lay({ kind: 'star', star }, { ...study, kept: own ? [] : kept, own, pins: [] });
  }

  /** Lays a take beside what is on show, which is known already. */
  layDrawn(seed: number, line: ShownLine): void {
    const what = { kind: 'drawn', seed } as const;
    const about = this.#studio.shown;
    if (!about) return;
    this.#what = what;
    this.#about = about;
    this.#found = { what, about, line };
  }

  /** Pins the way that is tried; false when none is. */
  take(): boolean {
    const { what, line } = this;
    const { shown } = this.#studio;
    if (what?.kind !== 'way') return false;
    const taken = shown?.line.notes[what.index]?.placement;
    this.close();
    if (line && !(taken && samePlacement(taken, what.placement)))
      this.#studio.pinWay(what.index, what.placement, line);
    else this.#studio.pin(what.index, what.placement);
    return true;
  }

  /** False when nothing was laid beside. */
  close(): boolean {
    const was = this.what !== null;
    this.#what = null;
    this.#about = null;
    this.#found = null;
    return was;
  }

  /** Asks for the best line of a study given the notes it keeps. */
  #lay(what: BesideWhat, study: Study): void {
    // A line practised in another key is not the study's.
    if (this.#studio.isAway) return;
    this.#what = what;
    this.#about = this.#studio.shown;
    const request = requestOf(study);
    this.#asker.request({ ...request, take: { ...request.take, temperature: 0 } });
  }
}
