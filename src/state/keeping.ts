// What of a line stays when the study changes: the notes that were shown, locked bars, bars drawn anew, starred takes.
//
// A study keeps every note it showed. Most changes leave them, and the computation lets go of those that no longer fit and
// of what leads into them. A new take, and whatever asks for another kind of line, lets go of all but locked bars.
import { indexOfBar, type BarNumber } from '../music';
import type { KeptBar, KeptNote, OwnLine } from '../pipeline';

/** A take laid aside with its notes. */
export interface StarredTake {
  readonly name: string;
  /** Number of the take it was drawn as. */
  readonly seed: number;
  readonly kept: readonly KeptBar[];
  /** The player's own line that it was, as it stood; left out for a walked one. */
  readonly own?: OwnLine | undefined;
}

/** The part of a study that this file is about. */
export interface Keeps {
  readonly own?: OwnLine | null;
  readonly seed: number;
  readonly kept: readonly KeptBar[];
  readonly redraws: number;
  readonly stars: readonly StarredTake[];
}

/** Limits of what is kept beside the line itself. */
export const keepingRange = {
  stars: { most: 24 },
  starName: { most: 80 },
  redraws: { least: 0, most: 999_999 },
} as const;

const isLocked = ({ hold }: KeptBar): boolean => hold === 'locked';

const released = ({ hold: _, ...bar }: KeptBar): KeptBar => bar;

/** Bars that are locked, in playing order from 1. */
export const lockedBars = ({ kept }: Pick<Keeps, 'kept'>): readonly BarNumber[] =>
  kept.filter(isLocked).map(({ bar }) => bar);

/** Lets go of all notes but those of locked bars; `redraws` are counted from the new take on. */
export function letGo<Whole extends Keeps>(study: Whole): Whole {
  const kept = study.kept.filter(isLocked);
  return kept.length === study.kept.length && study.redraws === 0 ? study : { ...study, kept, redraws: 0 };
}

const sameNote = (one: KeptNote, other: KeptNote): boolean =>
  one.at === other.at &&
  one.ticks === other.ticks &&
  one.midi === other.midi &&
  one.string === other.string &&
  one.finger === other.finger &&
  one.position === other.position &&
  one.articulation === other.articulation;

const sameBar = (one: KeptBar, other: KeptBar | undefined): boolean =>
  other !== undefined &&
  one.bar === other.bar &&
  one.hold === other.hold &&
  one.mark === other.mark &&
  one.notes.length === other.notes.length &&
  one.notes.every((note, index) => sameNote(note, other.notes[index]!));

/** The study with the notes that are shown for it; the same object when it has them. */
export function withKept<Whole extends Keeps>(study: Whole, kept: readonly KeptBar[]): Whole {
  const isSame =
    kept.length === study.kept.length && kept.every((bar, index) => sameBar(bar, study.kept[index]));
  return isSame ? study : { ...study, kept };
}

/** Locks bars of the shown line, or unlocks them when all of them are locked. */
export function toggleLocked<Whole extends Keeps>(study: Whole, from: BarNumber, to: BarNumber): Whole {
  const inside = ({ bar }: KeptBar): boolean => bar >= from && bar <= to;
  const chosen = study.kept.filter(inside);
  if (chosen.length === 0) return study;
  const isUnlocking = chosen.every(isLocked);
  const kept = study.kept.map((bar): KeptBar => {
    if (!inside(bar)) return bar;
    return isUnlocking ? released(bar) : { ...bar, hold: 'locked' };
  });
  return { ...study, kept };
}

export const unlock = <Whole extends Keeps>(study: Whole, bar: BarNumber): Whole => {
  const kept = study.kept.map((one) => (one.bar === bar && isLocked(one) ? released(one) : one));
  return withKept(study, kept);
};

/** Asks for other notes in some bars, given the rest; locked bars stay. The same study when all of them are locked. */
export function redrawBars<Whole extends Keeps>(study: Whole, from: BarNumber, to: BarNumber): Whole {
  const chosen = ({ bar, hold }: KeptBar): boolean => bar >= from && bar <= to && hold !== 'locked';
  if (!study.kept.some(chosen)) return study;
  const kept = study.kept.map((bar): KeptBar => (chosen(bar) ? { ...bar, hold: 'free' } : bar));
  const redraws = study.redraws >= keepingRange.redraws.most ? 1 : study.redraws + 1;
  return { ...study, kept, redraws };
}

/** Lays a take aside that was drawn beside the study. */
export function addStar<Whole extends Keeps>(study: Whole, { name, seed, kept, own }: StarredTake): Whole {
  if (kept.length === 0 || study.stars.length >= keepingRange.stars.most) return study;
  const called = name.trim().slice(0, keepingRange.starName.most);
  const star: StarredTake = { name: called, seed, kept, ...(own ? { own } : {}) };
  return { ...study, stars: [...study.stars, star] };
}

/** Lays the shown line aside under a name. */
export const starTake = <Whole extends Keeps>(study: Whole, name: string): Whole =>
  addStar(study, { name, seed: study.seed, kept: study.kept.map(released), own: study.own ?? undefined });

export const removeStar = <Whole extends Keeps>(study: Whole, index: number): Whole =>
  study.stars[index] ? { ...study, stars: study.stars.filter((_, at) => at !== index) } : study;

export function renameStar<Whole extends Keeps>(study: Whole, index: number, name: string): Whole {
  const star = study.stars[index];
  const wanted = name.trim().slice(0, keepingRange.starName.most);
  if (!star || wanted === '' || wanted === star.name) return study;
  return { ...study, stars: study.stars.map((one, at) => (at === index ? { ...one, name: wanted } : one)) };
}

/** Makes a take with its notes the study's own. Bars that are locked now stay as they are. */
export function useTake<Whole extends Keeps>(
  study: Whole,
  { seed, kept }: Pick<StarredTake, 'seed' | 'kept'>,
): Whole {
  const locked = new Map(study.kept.filter(isLocked).map((bar) => [bar.bar, bar]));
  return { ...study, seed, redraws: 0, kept: kept.map((bar) => locked.get(bar.bar) ?? bar) };
}

/** Plays a starred take again. */
export function openStar<Whole extends Keeps>(study: Whole, index: number): Whole {
  const star = study.stars[index];
  return star ? useTake(study, star) : study;
}

/** What the kept bars were made for, told of each, before the chart or feel under them changes. */
export const withMarks = (kept: readonly KeptBar[], marks: readonly string[]): readonly KeptBar[] =>
  kept.map((bar) => ({ ...bar, mark: bar.mark ?? marks[indexOfBar(bar.bar)] ?? '' }));
