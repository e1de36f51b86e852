// What may be played at each slot: pitches by harmony, and every way the hand can hold them.
//
// Pre: a timeline with at least one slot; placements of one instrument and hand.
// Post: one candidate set a slot, pitches rising, placements grouped by pitch in table order, every one allowed by every
// wish. A set may be empty: then no line exists, and the caller says why.
import { getOrMake, makeCache, Numbers, type Cache } from '../../cache';
import { pitchClass, pitchClassOf, type Chord, type Scale, type SoundingMidi } from '../../music';
import { isOpenString, type Placement } from '../../instrument';
import type { Slot, TimelineChord } from '../2-timeline';
import { isPinnedAt, type Wish } from './wishes';

export interface SlotCandidates {
  readonly slot: Slot;
  /** Rising. */
  readonly pitches: readonly SoundingMidi[];
  /** Grouped by pitch, in the order of `pitches`. */
  readonly placements: readonly Placement[];
  /** Placements of pitch p: from groupStart[p] to groupStart[p + 1]. */
  readonly groupStart: readonly number[];
}

/** Lowest and highest sounding pitch a line may use. */
export interface PitchRange {
  readonly lowest: SoundingMidi;
  readonly highest: SoundingMidi;
}

export function chordPitchClasses(chord: Chord): ReadonlySet<number> {
  const result = new Set<number>(chord.tones.map((tone) => tone.pitchClass));
  if (chord.bass !== null) result.add(pitchClassOf(chord.bass));
  return result;
}

export const scalePitchClasses = (scale: Scale): ReadonlySet<number> =>
  new Set<number>(scale.notes.map((note) => pitchClassOf(note)));

/** Chord and scale tones of a harmony. */
export function insidePitchClasses(harmony: TimelineChord): ReadonlySet<number> {
  const inside = new Set<number>();
  if (harmony.chord) for (const one of chordPitchClasses(harmony.chord)) inside.add(one);
  if (harmony.scale) for (const one of scalePitchClasses(harmony.scale)) inside.add(one);
  return inside;
}

/** The bass asked for, the root, and where it may be the fifth as the chord alters it. */
function confinedPitchClasses({ harmony, confinedTo }: Slot): ReadonlySet<number> {
  const { chord } = harmony;
  if (chord === null) return new Set();
  const bass = pitchClassOf(chord.bass ?? chord.root);
  if (confinedTo === 'root') return new Set([bass]);
  const fifths = chord.tones.filter(({ degree }) => degree === 5).map((tone) => tone.pitchClass);
  return new Set([bass, pitchClassOf(chord.root), ...fifths]);
}

/** How far from the bass of the target its chromatic approaches may begin, in semitones, and how many notes before it. */
const chromaticReach = 3;

/** Falls from a beat, and belongs to its chord. */
const fallsFromBeat = ({ articulation }: Slot): boolean =>
  articulation === 'drop' || articulation === 'triplet';

/** A slot on which notes outside chord and scale may pass: no new chord, no downbeat. */
const letsPass = (slot: Slot): boolean => !slot.isChange && slot.strength < 3 && !fallsFromBeat(slot);

const bassOf = ({ chord }: TimelineChord): number | null => chord && pitchClassOf(chord.bass ?? chord.root);

/**
 * Pitch classes on offer at a slot: chord and scale, where a slash names the bass of a new chord that bass alone; where
 * notes may pass, those within three semitones of the bass of the target, when it is at most three notes ahead, and on weak
 * beats the semitone neighbours of what may come next.
 */
function allowedPitchClasses(slot: Slot): ReadonlySet<number> {
  if (slot.confinedTo) return confinedPitchClasses(slot);
  const { chord } = slot.harmony;
  if (slot.isChange && chord !== null && chord.bass !== null) return new Set([pitchClassOf(chord.bass)]);
  const allowed = new Set(insidePitchClasses(slot.harmony));
  const isEarly = slot.articulation === 'anticipation';
  if (fallsFromBeat(slot)) return allowed;
  if (letsPass(slot) && !isEarly) {
    const bass = bassOf(slot.target);
    const isNear = slot.untilTarget > 0 && slot.untilTarget <= chromaticReach;
    if (isNear && bass !== null) {
      for (let by = -chromaticReach; by <= chromaticReach; by++) allowed.add(pitchClass(bass + by + 12));
    }
  }
  const leadsOn = (slot.strength <= 1 && !slot.isChange && !isEarly) || (slot.nextIsChange && letsPass(slot));
  if (leadsOn) {
    for (const next of insidePitchClasses(slot.nextHarmony)) {
      allowed.add(pitchClass(next - 1));
      allowed.add(pitchClass(next + 1));
    }
  }
  return allowed;
}

const kindsOfHarmony = new WeakMap<TimelineChord, string>();

/** Everything about a harmony that notes are judged by, as text to compare: its chord and its scale, whatever key they are in. */
const kindOfHarmony = (harmony: TimelineChord): string =>
  getOrMake(kindsOfHarmony, harmony, () => {
    const { chord, scale } = harmony;
    const tones = chord?.tones.map(({ degree, pitchClass: one }) => `${degree}:${one}`) ?? [];
    const colours = chord ? JSON.stringify([chord.colours, chord.isAltered]) : '';
    return [chord?.symbol ?? '', colours, ...tones, scale?.name ?? '', ...(scale?.notes ?? [])].join(' ');
  });

const kindsOfSlot = new WeakMap<Slot, string>();

/** When a slot comes; its harmonies, which have kinds of their own. */
const notOfKind = {
  index: undefined,
  bar: undefined,
  tick: undefined,
  harmony: undefined,
  nextHarmony: undefined,
  target: undefined,
} as const;

/** Everything about a slot but when it comes, as text: slots of one kind have the same candidates and cost the same. */
export function kindOfSlot(slot: Slot): string {
  return getOrMake(kindsOfSlot, slot, () => {
    const own = JSON.stringify({ ...slot, ...notOfKind });
    const harmonies = [slot.harmony, slot.nextHarmony, slot.target].map(kindOfHarmony);
    return [own, ...harmonies].join();
  });
}

/** Everything that a step into a slot depends on, beside the kind of the slot that it leaves, as text. */
export const kindOfArrival = (slot: Slot): string => {
  const { articulation, confinedTo, isSustained, isTarget, untilTarget, nextIsChange } = slot;
  const own = { articulation, confinedTo, isSustained, isTarget, untilTarget, nextIsChange };
  return `${JSON.stringify(own)} ${kindOfHarmony(slot.harmony)}`;
};

/** Placements by pitch, in table order. */
export function placementsByPitch(
  placements: readonly Placement[],
): ReadonlyMap<SoundingMidi, readonly Placement[]> {
  const result = new Map<SoundingMidi, Placement[]>();
  for (const placement of placements) {
    const group = result.get(placement.midi);
    if (group) group.push(placement);
    else result.set(placement.midi, [placement]);
  }
  return result;
}

/** Pitches that pins and kept notes ask for by name: they are on offer whatever the harmony says. */
function pinnedPitches(
  slot: Slot,
  wishes: readonly Wish[],
  playable: readonly SoundingMidi[],
): SoundingMidi[] {
  return wishes.flatMap(({ source, offers }) => {
    const offered = offers?.(slot);
    if (offered !== undefined) return playable.filter((one) => offered.includes(one));
    if (source.kind !== 'pin' || !isPinnedAt(source.pin, slot)) return [];
    const { midi, pitchClass: wanted, string, stop } = source.pin;
    if (midi !== undefined) return playable.filter((one) => one === midi);
    if (wanted !== undefined) return playable.filter((one) => pitchClass(one) === wanted);
    // A place on the board names its pitch; the mask then keeps that place alone.
    return string !== undefined && stop !== undefined ? [...playable] : [];
  });
}

/** The notes on offer, whichever slot offers them. */
type CandidateSet = Omit<SlotCandidates, 'slot'>;

/**
 * Sets found before: those that the harmony offers by kind of slot, and those left by wishes by the placements in them.
 * Whoever keeps one starts a new one for other placements or another range.
 */
export interface KnownSets {
  /** Numbers of the kinds of slot. */
  readonly kinds: Numbers<string>;
  readonly offered: Cache<string, CandidateSet>;
  readonly left: Cache<string, CandidateSet>;
}

/** Sets of each sort that are kept. */
export const mostSets = 4096;

export const emptySets = (): KnownSets => ({
  kinds: new Numbers(mostSets),
  offered: makeCache({ most: mostSets }),
  left: makeCache({ most: mostSets }),
});

/**
 * @param range where lines go by themselves; pins may ask for more
 * @param wishes masks that every placement must pass
 * @param known kept from call to call: sets with the same placements then share their arrays
 */
export function findCandidates(
  slots: readonly Slot[],
  placements: readonly Placement[],
  range: PitchRange,
  wishes: readonly Wish[] = [],
  known: KnownSets = emptySets(),
): readonly SlotCandidates[] {
  const byPitch = placementsByPitch(placements);
  const playable = [...byPitch.keys()].sort((a, b) => a - b);
  const inRange = playable.filter((midi) => midi >= range.lowest && midi <= range.highest);
  const openByPitch = placementsByPitch(placements.filter(isOpenString));
  const limits = wishes.filter(isEverywhere);
  const local = wishes.filter((wish) => !isEverywhere(wish));
  const leftEverywhere = new Map<CandidateSet, CandidateSet>();
  return slots.map((slot) => {
    const asked = pinnedPitches(slot, wishes, playable);
    const kind = known.kinds.of(kindOfSlot(slot));
    const key = `${asked.join()} ${kind}`;
    const offered = getOrMake(known.offered, key, () => {
      const allowed = allowedPitchClasses(slot);
      const whole = new Set([...inRange.filter((midi) => allowed.has(pitchClass(midi))), ...asked]);
      // An open string outside the harmony may pass as itself; the same note stopped is not on offer for it.
      const passing = letsPass(slot) && !slot.confinedTo ? [...openByPitch.keys()] : [];
      return grouped(
        [...new Set([...whole, ...passing])].sort((a, b) => a - b),
        (midi) => (whole.has(midi) ? byPitch : openByPitch).get(midi) ?? [],
      );
    });
    const everywhere = getOrMake(leftEverywhere, offered, () =>
      leftOf(offered, known, (placement) => limits.every((wish) => wish.allows(placement, slot))),
    );
    const here = local.filter(({ source }) => source.kind === 'limit' || isPinnedAt(source.pin, slot));
    if (here.length === 0) return { ...everywhere, slot };
    const set = leftOf(everywhere, known, (placement) => here.every((wish) => wish.allows(placement, slot)));
    return { ...set, slot };
  });
}

/** True for limits that are the same at every slot. */
const isEverywhere = ({ source }: Wish): boolean =>
  source.kind === 'limit' && source.limit !== 'kept bar' && source.limit !== 'layer';

/** What is left of a set; the set itself where nothing is missing. */
export function leftOf(
  set: CandidateSet,
  { left: sets }: KnownSets,
  isLeft: (one: Placement) => boolean,
): CandidateSet {
  const left = set.placements.filter(isLeft);
  if (left.length === set.placements.length) return set;
  return getOrMake(sets, left.map((placement) => placement.id).join(), () => {
    const leftByPitch = placementsByPitch(left);
    return grouped([...leftByPitch.keys()], (midi) => leftByPitch.get(midi)!);
  });
}

/** The set of these pitches, those without placements left out. */
export function grouped(
  offered: readonly SoundingMidi[],
  groupOf: (midi: SoundingMidi, index: number) => readonly Placement[],
): CandidateSet {
  const pitches: SoundingMidi[] = [];
  const placements: Placement[] = [];
  const groupStart = [0];
  offered.forEach((midi, index) => {
    const group = groupOf(midi, index);
    if (group.length === 0) return;
    pitches.push(midi);
    placements.push(...group);
    groupStart.push(placements.length);
  });
  return { pitches, placements, groupStart };
}
