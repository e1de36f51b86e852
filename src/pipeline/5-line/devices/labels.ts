// The two labels of a note: what it is in its chord, and what it does with the notes around it.
import { isOrnament } from '../../2-timeline';
import { opensNext } from './targets';
import { degreeIn, isChordNote, type Degree } from './degree';
import { deviceOf, type DeviceFamily, type DeviceId } from './rows';
import { devicesOf, devicesWith, type DeviceSpan, type PlayedNote } from './spans';

export interface NoteLabels {
  readonly degree: Degree;
  /** The devices that the note is part of, longest first. */
  readonly devices: readonly DeviceSpan[];
  /** The device that stands for the note; null where its degree does. */
  readonly device: DeviceId | null;
  /** In words: the name of that device, or the degree. */
  readonly label: string;
}

const isOf =
  (family: DeviceFamily) =>
  ({ device }: DeviceSpan): boolean =>
    deviceOf(device).family === family;

/**
 * The longest device, then the approach, then on a note outside the chord what it is within the line. A note that opens a
 * bar or a chord is where something arrives: it is not told by a device that begins or goes on there. An ornament is told
 * by its figure.
 *
 * @param spans longest first
 */
function shownDevice(
  note: PlayedNote,
  degree: Degree,
  isTarget: boolean,
  spans: readonly DeviceSpan[],
): DeviceSpan | undefined {
  if (isOrnament(note.slot.articulation)) return spans.find(isOf('rhythm'));
  const several = isTarget ? undefined : spans.find(isOf('device'));
  return (
    several ?? spans.find(isOf('approach')) ?? (isChordNote(degree) ? undefined : spans.find(isOf('inner')))
  );
}

/** Whether the note opens a bar or a chord, as the note of its own before it says. */
function opensTarget(notes: readonly PlayedNote[], index: number): boolean {
  for (let before = index - 1; before >= 0; before--) {
    const { slot } = notes[before]!;
    if (!isOrnament(slot.articulation)) return opensNext(slot);
  }
  return true;
}

function labelled(note: PlayedNote, isTarget: boolean, spans: readonly DeviceSpan[]): NoteLabels {
  const degree = degreeIn(note.slot.harmony, note.midi);
  const devices = spans.toSorted((a, b) => b.notes.length - a.notes.length);
  const shown = shownDevice(note, degree, isTarget, devices)?.device ?? null;
  return { degree, devices, device: shown, label: shown === null ? degree.short : deviceOf(shown).name };
}

/** The labels of every note of a line. */
export function labelsOf(notes: readonly PlayedNote[]): readonly NoteLabels[] {
  const through = notes.map((): DeviceSpan[] => []);
  for (const span of devicesOf(notes)) for (const index of span.notes) through[index]!.push(span);
  return notes.map((note, index) => labelled(note, opensTarget(notes, index), through[index]!));
}

/** The labels that notes would have in the place of those of a line, but for devices that end many notes later. */
export function labelsWith(notes: readonly PlayedNote[]): (index: number, note: PlayedNote) => NoteLabels {
  const devicesAt = devicesWith(notes);
  return (index, note) => labelled(note, opensTarget(notes, index), devicesAt(index, note));
}
