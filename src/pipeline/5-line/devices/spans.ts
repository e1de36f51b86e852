// Devices found in a line: spans of notes into the note that they lead to.
//
// Pre: notes in playing order. Post: every span that a row of the table describes, the rows in the table's order for each
// target; what a row's shapes would mask is always found. Ornaments (ghosts, drops, triplets) are passed over: they adorn
// the line and lead nowhere; each is a device of the rhythm by itself.
import type { SoundingMidi } from '../../../music';
import { isOpenString, type Placement } from '../../../instrument';
import { isOrnament, type Slot } from '../../2-timeline';
import { opensNext } from './targets';
import { degreeIn, isBassNote, isChordNote, type Degree } from './degree';
import { devices, type DeviceId, type DevicePattern } from './rows';

/** What has to be known of a note. */
export interface PlayedNote {
  readonly slot: Slot;
  readonly midi: SoundingMidi;
  readonly placement: Pick<Placement, 'finger'>;
  /** What the open string does for the hand; null when nothing. */
  readonly carry: unknown;
}

/** Indices count the notes that were given. */
export interface DeviceSpan {
  readonly device: DeviceId;
  /** Its notes, first to last, ornaments between them left out. */
  readonly notes: readonly number[];
  /** The note it leads to; null where no note of its own follows. */
  readonly target: number | null;
}

/** A note of its own, with what the rows ask about. */
interface Own {
  readonly index: number;
  readonly midi: SoundingMidi;
  readonly degree: Degree;
  readonly note: PlayedNote;
  /** It opens a bar or a chord. */
  readonly isTarget: boolean;
  readonly isChange: boolean;
}

/** The notes that are no ornaments. The first of them is a target: nothing is known of what came before. */
function ownNotes(notes: readonly PlayedNote[]): readonly Own[] {
  const own: Own[] = [];
  notes.forEach((note, index) => {
    const { slot, midi } = note;
    if (isOrnament(slot.articulation)) return;
    const before = own.at(-1)?.note.slot;
    own.push({
      index,
      midi,
      note,
      degree: degreeIn(slot.harmony, midi),
      isTarget: !before || opensNext(before),
      isChange: !before || before.nextIsChange,
    });
  });
  return own;
}

function isAllowed(condition: DevicePattern['notes'], one: Own, target: Own): boolean {
  const { place } = one.degree;
  switch (condition) {
    case 'any':
      return true;
    case 'inside':
      return place !== 'outside';
    case 'chord':
      return isChordNote(one.degree);
    case 'scale':
      return place === 'scale';
    case 'outside':
      return place === 'outside';
    case 'either':
      return place !== 'outside' || degreeIn(target.note.slot.harmony, one.midi).place !== 'outside';
  }
}

function isTargetAllowed({ at, target }: DevicePattern, one: Own): boolean {
  if (at === 'change' ? !one.isChange : at === 'target' && !one.isTarget) return false;
  const { slot, midi } = one.note;
  return target === 'any' || (target === 'chord' ? isChordNote(one.degree) : isBassNote(slot.harmony, midi));
}

/** A row with its sets of steps as sets. */
interface Sought {
  readonly id: DeviceId;
  readonly pattern: DevicePattern;
  readonly shapes: readonly (readonly ReadonlySet<number>[])[];
}

const sought: readonly Sought[] = devices.flatMap(({ id, pattern }) =>
  pattern
    ? [{ id, pattern, shapes: pattern.shapes.map((shape) => shape.map((steps) => new Set(steps))) }]
    : [],
);

/** The note at `at` steps on as one of `steps` says, and may be part of the device into `to`. */
function goesOn(
  own: readonly Own[],
  at: number,
  steps: ReadonlySet<number>,
  to: number,
  { crosses, notes }: DevicePattern,
  isLeadIn: boolean,
): boolean {
  const one = own[at];
  if (!one || !steps.has(own[at + 1]!.midi - one.midi)) return false;
  if (at + 1 < to && !crosses && own[at + 1]!.isTarget) return false;
  return isLeadIn || isAllowed(notes, one, own[to]!);
}

/** Place of the first note of the device that comes by this shape into the note at `to`, or -1. */
function startOf(
  own: readonly Own[],
  to: number,
  shape: readonly ReadonlySet<number>[],
  pattern: DevicePattern,
): number {
  const { leadIn, longer } = pattern;
  let first = to;
  for (let step = shape.length - 1; step >= 0; step--) {
    if (!goesOn(own, first - 1, shape[step]!, to, pattern, leadIn && step === 0)) return -1;
    first--;
  }
  while (longer && goesOn(own, first - 1, shape[0]!, to, pattern, false)) first--;
  return leadIn ? first + 1 : first;
}

/** The spans into the note of its own at `to`, in the table's order. */
function spansInto(own: readonly Own[], to: number): readonly DeviceSpan[] {
  const spans: DeviceSpan[] = [];
  for (const { id, pattern, shapes } of sought) {
    if (!isTargetAllowed(pattern, own[to]!)) continue;
    let first = to;
    for (const shape of shapes) {
      const start = startOf(own, to, shape, pattern);
      if (start >= 0 && start < first) first = start;
    }
    if (first === to) continue;
    spans.push({
      device: id,
      notes: own.slice(first, to).map(({ index }) => index),
      target: own[to]!.index,
    });
  }
  return spans;
}

/** Rows of devices of one note. */
const loneRows = devices.filter(({ open, articulation }) => open !== null || articulation !== null);

/** Devices of one note that its figure of the rhythm, or its open string, is. */
function loneDevices(note: PlayedNote, index: number, target: number | null): readonly DeviceSpan[] {
  const isOpen = isOpenString(note.placement);
  const isOutside = degreeIn(note.slot.harmony, note.midi).place === 'outside';
  return loneRows.flatMap(({ id, open, articulation }) => {
    const isIt =
      articulation !== null
        ? note.slot.articulation === articulation
        : open === 'carries'
          ? note.carry !== null
          : open === 'outside' && isOpen && isOutside && !isOrnament(note.slot.articulation);
    return isIt ? [{ device: id, notes: [index], target }] : [];
  });
}

/** Index of the next note of its own after each note; null where there is none. */
function nextOwn(notes: readonly PlayedNote[]): readonly (number | null)[] {
  const after = new Array<number | null>(notes.length).fill(null);
  let next: number | null = null;
  for (let index = notes.length - 1; index >= 0; index--) {
    after[index] = next;
    if (!isOrnament(notes[index]!.slot.articulation)) next = index;
  }
  return after;
}

/** Every device of a line, by the note it leads to. */
export function devicesOf(notes: readonly PlayedNote[]): readonly DeviceSpan[] {
  const own = ownNotes(notes);
  const after = nextOwn(notes);
  const lone = notes.flatMap((note, index) => loneDevices(note, index, after[index]!));
  return [...own.flatMap((_, to) => spansInto(own, to)), ...lone];
}

/** How many notes of their own after a note are looked at for devices that it is part of. */
const farthest = 6;

/**
 * The devices that a note would be part of in the place of one of a line, as far as they reach `farthest` notes on. The
 * rhythm stays that of the line.
 */
export function devicesWith(
  notes: readonly PlayedNote[],
): (index: number, note: PlayedNote) => readonly DeviceSpan[] {
  const own = ownNotes(notes);
  const after = nextOwn(notes);
  const places = new Map(own.map(({ index }, place) => [index, place]));
  return (index, note) => {
    const lone = loneDevices(note, index, after[index]!);
    const place = places.get(index);
    if (place === undefined) return lone;
    const degree = degreeIn(note.slot.harmony, note.midi);
    const changed = own.with(place, { ...own[place]!, midi: note.midi, note, degree });
    const spans: DeviceSpan[] = [];
    for (let to = place + 1; to < Math.min(place + 1 + farthest, own.length); to++)
      spans.push(...spansInto(changed, to).filter((span) => span.notes.includes(index)));
    return [...spans, ...lone];
  };
}
