// The line as the bass plays it: where its notes begin and end once swung, how loud they are and how they are touched.
import { isOpenString } from '../instrument';
import touchData from '../../shared/rhythm/touch.json' with { type: 'json' };
import { derivedSeed, seededRandom, ticks, ticksPerQuarter, type Ticks } from '../music';
import { soundOf } from '../pipeline/2-timeline';
import { deviceOf, type LineNote } from '../pipeline/5-line';
import type { BassEvent, NoteSpan, Shift } from './types';
import type { Vary } from './vary';

const { velocities, endings, stopped, pulledOff } = touchData;
/** A stopped note never ends earlier than this before the next, in ticks. */
const longestGap = ticksPerQuarter / 8;
/** Of the time of a shift, the end in which the finger is heard on its way (our assumption). */
const shiftShare = 0.3;
/** Strokes that differ from each other. */
const takes = 3;
const familyLoudness: Readonly<Record<string, number | undefined>> = touchData.labels.byFamily;

/** Roots and the basses of slashes are a shade louder, what leads on is a shade lighter. */
function labelLoudness({ device, degree }: LineNote): number {
  if (device !== null) return familyLoudness[deviceOf(device).family] ?? 1;
  return degree.place === 'bass' || degree.number === 1 ? touchData.labels.root : 1;
}

/** Where the line's notes sound once swung: each ends where it would or where the next begins, within the form. */
export function noteSpans(
  notes: readonly LineNote[],
  swung: (tick: Ticks) => Ticks,
  formEnd: Ticks,
): readonly NoteSpan[] {
  const sounding = notes.filter((note) => note.tick >= 0 && note.tick < formEnd);
  return sounding.map((note, i) => {
    const start = swung(note.tick);
    const next = sounding[i + 1];
    const latest = next ? swung(next.tick) : formEnd;
    const end = ticks(
      Math.max(start + 1, Math.min(swung((note.tick + note.ticks) as Ticks), latest, formEnd)),
    );
    return { start, end, note: note.index };
  });
}

const followsAtOnce = (note: LineNote, before: LineNote): boolean => note.tick === before.tick + before.ticks;
const isOnSameString = (note: LineNote, before: LineNote): boolean =>
  note.placement.string === before.placement.string;

/**
 * The left hand sounds a note of a triplet on the string of the one before, at once after it: pulled off to a lower note,
 * hammered on to a higher one. A drop to a lower string is raked: the finger falls on from the string above.
 */
function touchOf(note: LineNote, before: LineNote | undefined): BassEvent['touch'] {
  const { articulation } = note.slot;
  if (articulation === 'ghost') return 'dead';
  if (!before || !followsAtOnce(note, before)) return 'plucked';
  if (articulation === 'triplet' && isOnSameString(note, before) && note.midi !== before.midi)
    return note.midi < before.midi ? 'pulled' : 'hammered';
  const isRaked = articulation === 'drop' && note.placement.string > before.placement.string;
  return isRaked ? 'raked' : 'plucked';
}

/** A bare shift from one stopped note to the next is heard. */
function shiftOf(note: LineNote, before: LineNote | undefined): Shift | null {
  if (
    !before ||
    note.move.kind !== 'bare shift' ||
    isOpenString(note.placement) ||
    isOpenString(before.placement)
  )
    return null;
  if (!followsAtOnce(note, before)) return null;
  const { stop, finger } = note.placement;
  const isSame = isOnSameString(note, before);
  const from = isSame ? before.placement.stop : Math.max(0, stop - (note.move.to - note.move.from));
  if (from === stop) return null;
  const isOnString = isSame && finger === before.placement.finger;
  return { from, seconds: note.move.time * shiftShare, isOnString };
}

function release(note: LineNote, next: LineNote | undefined): number {
  if (note.slot.articulation === 'ghost') return endings.dead;
  const ringsOn =
    isOpenString(note.placement) && next !== undefined && next.placement.string !== note.placement.string;
  return ringsOn ? endings.openUnderAnotherString : endings.stopped;
}

/**
 * The events of the line. An open string rings until the next note, and dies away under it when that is on another string;
 * a stopped note ends a little early and at once.
 * @param spans of the same notes, in order
 */
export function bassEvents(
  notes: readonly LineNote[],
  spans: readonly NoteSpan[],
  seed: number,
  vary: Vary,
): readonly BassEvent[] {
  const byIndex = new Map(notes.map((note) => [note.index, note]));
  const played = spans.map((span) => byIndex.get(span.note)!);
  return spans.map(({ start, end }, i) => {
    const note = played[i]!;
    const sound = soundOf(note.slot);
    const touch = touchOf(note, played[i - 1]);
    const pulled = touch === 'pulled';
    const length = Math.round((end - start) * sound.length);
    const gap = isOpenString(note.placement)
      ? 0
      : Math.min(longestGap, Math.round(length * (1 - stopped.share)));
    const loudness =
      velocities.byStrength[sound.strength]! *
      sound.loudness *
      labelLoudness(note) *
      (pulled ? pulledOff.loudness : 1);
    return {
      part: 'bass',
      tick: start,
      velocity: vary(loudness, seededRandom(derivedSeed(seed, note.index))),
      midi: note.midi,
      damp: ticks(start + Math.max(1, length - gap)),
      isOpen: isOpenString(note.placement),
      attack: pulled ? pulledOff.attackSeconds : 0,
      release: release(note, played[i + 1]),
      note: note.index,
      stop: note.placement.stop,
      touch,
      take: i % takes,
      shift: shiftOf(note, played[i - 1]),
    };
  });
}

/** Events and spans of the line. */
export interface BassPart {
  readonly events: readonly BassEvent[];
  readonly spans: readonly NoteSpan[];
}

/**
 * Some bars that go round do not anticipate the bar after them, which is not played: the note before the anticipation is
 * held to the end instead.
 * @param end last tick of the bars
 */
export function withinLoop({ events, spans }: BassPart, notes: readonly LineNote[], end: Ticks): BassPart {
  const at = spans.findIndex((span) => span.start < end && span.end > end);
  const early = spans[at];
  const note = early && notes.find(({ index }) => index === early.note);
  if (note?.slot.articulation !== 'anticipation') return { events, spans };
  const isBefore = (index: number): boolean => index === at - 1 && spans[index]!.end === early!.start;
  return {
    events: events.flatMap((event, i) => (i === at ? [] : isBefore(i) ? [{ ...event, damp: end }] : [event])),
    spans: spans.flatMap((span, i) => (i === at ? [] : isBefore(i) ? [{ ...span, end }] : [span])),
  };
}
