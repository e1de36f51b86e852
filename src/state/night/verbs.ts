// The verbs that make the next version of a night. Each gives the night itself where nothing would change.
import type { Region } from '../../instrument';
import type { NightWish } from '../../night';
import { emptySet, nightRange, type Night, type NightSet, type Tune } from './night';

interface Range {
  readonly least: number;
  readonly most: number;
}
const within = (value: number, { least, most }: Range): number => Math.min(most, Math.max(least, value));

/** A place in a night: set and tune, from 0. */
export interface NightPlace {
  readonly set: number;
  readonly tune: number;
}

export const countTunes = ({ sets }: Night): number => sets.reduce((sum, { tunes }) => sum + tunes.length, 0);

export const setTitle = (night: Night, title: string): Night => ({
  ...night,
  title: title.slice(0, nightRange.title.most),
});

export const setStart = (night: Night, start: number | null): Night => ({
  ...night,
  start: start === null || !Number.isFinite(start) ? null : Math.round(within(start, nightRange.start)),
});

/** @param minutes from tune to tune, to the half minute */
export const setBetween = (night: Night, minutes: number): Night =>
  Number.isFinite(minutes)
    ? { ...night, between: Math.round(2 * within(minutes, nightRange.between)) / 2 }
    : night;

const changeSet = (night: Night, set: number, change: (set: NightSet) => NightSet): Night =>
  night.sets[set] ? { ...night, sets: night.sets.map((one, at) => (at === set ? change(one) : one)) } : night;

export const addSet = (night: Night): Night =>
  night.sets.length >= nightRange.sets.most ? night : { ...night, sets: [...night.sets, emptySet] };

/** The last set stays. */
export const removeSet = (night: Night, set: number): Night =>
  night.sets.length <= nightRange.sets.least || !night.sets[set]
    ? night
    : { ...night, sets: night.sets.filter((_, at) => at !== set) };

export const setBreak = (night: Night, set: number, minutes: number): Night =>
  Number.isFinite(minutes)
    ? changeSet(night, set, (one) => ({
        ...one,
        breakAfter: Math.round(within(minutes, nightRange.breakAfter)),
      }))
    : night;

export const addTune = (night: Night, set: number, tune: Tune): Night =>
  countTunes(night) >= nightRange.tunes.most
    ? night
    : changeSet(night, set, (one) => ({ ...one, tunes: [...one.tunes, tune] }));

export const removeTune = (night: Night, { set, tune }: NightPlace): Night =>
  changeSet(night, set, (one) => ({ ...one, tunes: one.tunes.filter((_, at) => at !== tune) }));

export const tuneAt = (night: Night, { set, tune }: NightPlace): Tune | undefined =>
  night.sets[set]?.tunes[tune];

export const changeTune = (night: Night, place: NightPlace, change: (tune: Tune) => Tune): Night =>
  tuneAt(night, place)
    ? changeSet(night, place.set, (one) => ({
        ...one,
        tunes: one.tunes.map((tune, at) => (at === place.tune ? change(tune) : tune)),
      }))
    : night;

/** What of a tune is said in numbers. */
export type TuneNumber = 'tempo' | 'choruses' | 'walked';

export function setTuneNumber(
  night: Night,
  place: NightPlace,
  name: TuneNumber,
  value: number | null,
): Night {
  if (value === null || !Number.isFinite(value))
    return name === 'tempo' ? changeTune(night, place, (tune) => ({ ...tune, tempo: null })) : night;
  const kept = within(value, nightRange[name]);
  return changeTune(night, place, (tune) => ({
    ...tune,
    [name]: name === 'walked' ? kept : Math.round(kept),
  }));
}

/** One tune at each end: another that was pinned there is let go. */
export function pinTune(night: Night, place: NightPlace, pinned: Tune['pinned']): Night {
  return changeSet(night, place.set, (one) => ({
    ...one,
    tunes: one.tunes.map((tune, at) => {
      if (at === place.tune) return { ...tune, pinned };
      return pinned !== null && tune.pinned === pinned ? { ...tune, pinned: null } : tune;
    }),
  }));
}

/** A step up or down; past the end of a set it goes to the next, past the last nowhere. */
export function moveTune(
  night: Night,
  { set, tune: index }: NightPlace,
  step: -1 | 1,
): { night: Night; place: NightPlace } {
  const stays = { night, place: { set, tune: index } };
  const tune = tuneAt(night, { set, tune: index });
  if (!tune) return stays;
  const to = index + step;
  const own = night.sets[set]!.tunes;
  if (to >= 0 && to < own.length) {
    const moved = own.filter((_, at) => at !== index);
    moved.splice(to, 0, tune);
    return { night: changeSet(night, set, (one) => ({ ...one, tunes: moved })), place: { set, tune: to } };
  }
  const other = night.sets[set + step];
  if (!other) return stays;
  const free = { ...tune, pinned: null };
  const tunes = step > 0 ? [free, ...other.tunes] : [...other.tunes, free];
  const left = removeTune(night, { set, tune: index });
  return {
    night: changeSet(left, set + step, (one) => ({ ...one, tunes })),
    place: { set: set + step, tune: step > 0 ? 0 : tunes.length - 1 },
  };
}

/** @param order indices of the tunes of the set as they are; anything else changes nothing */
export function reorderSet(night: Night, set: number, order: readonly number[]): Night {
  const tunes = night.sets[set]?.tunes ?? [];
  const isWhole = order.length === tunes.length && tunes.every((_, at) => order.includes(at));
  if (!isWhole || order.every((from, at) => from === at)) return night;
  return changeSet(night, set, (one) => ({ ...one, tunes: order.map((from) => tunes[from]!) }));
}

const isSameWish = (a: NightWish, b: Pick<NightWish, 'kind'> & { readonly region?: Region }): boolean =>
  a.kind === b.kind && (a.kind === 'stay' || a.region === b.region);

/** Asks for it, in the place of another number for the same thing. */
export function setWish(night: Night, wish: NightWish): Night {
  const kept: NightWish =
    wish.kind === 'stay'
      ? { ...wish, seconds: within(wish.seconds, nightRange.stay) }
      : { ...wish, minutes: within(wish.minutes, nightRange.minutes) };
  const at = night.wishes.findIndex((one) => isSameWish(one, kept));
  return {
    ...night,
    wishes: at < 0 ? [...night.wishes, kept] : night.wishes.map((one, other) => (other === at ? kept : one)),
  };
}

/** The side of a region's minutes that a wish bounds. */
export type WishSide = 'most' | 'least';

/** Minutes that are asked for, null where nothing is. */
export function boundOf(night: Pick<Night, 'wishes'>, region: Region, side: WishSide): number | null {
  const wish = night.wishes.find((one) => isSameWish(one, { kind: side, region }));
  return wish && wish.kind !== 'stay' ? wish.minutes : null;
}

/** Asks for at most or at least so many minutes, or no longer; the other side gives way where the two would cross. */
export function setBound(night: Night, region: Region, side: WishSide, minutes: number | null): Night {
  const wish = (kind: WishSide, of: number): NightWish => ({ kind, region, minutes: of });
  if (minutes === null) return boundOf(night, region, side) === null ? night : liftWish(night, wish(side, 0));
  if (!Number.isFinite(minutes)) return night;
  const asked = setWish(night, wish(side, minutes));
  const other: WishSide = side === 'most' ? 'least' : 'most';
  const bound = boundOf(asked, region, other);
  const isCrossed = bound !== null && (side === 'most' ? bound > minutes : bound < minutes);
  return isCrossed ? setWish(asked, wish(other, minutes)) : asked;
}

export const liftWish = (night: Night, wish: NightWish): Night => ({
  ...night,
  wishes: night.wishes.filter((one) => !isSameWish(one, wish)),
});
