// The parts of a MIDI file: the notes of each channel of each track, and which of them is the bass.
import type { MidiEvent, MidiFile } from './midi-events';

/** Notes of one channel of one track. */
export interface MidiPart {
  readonly track: number;
  readonly channel: number;
  readonly name: string;
  readonly program: number | null;
  readonly notes: readonly RawNote[];
  readonly open: number;
}
export interface RawNote {
  readonly note: number;
  readonly start: number;
  readonly end: number;
}

const drumChannel = 9;
/** Bass programs and the double bass, counted from 0. Source: General MIDI 1 sound set. */
const isBassProgram = (program: number | null): boolean =>
  program !== null && ((program >= 32 && program <= 39) || program === 43);

const isCalledBass = (name: string): boolean => /bass/i.test(name);

export function partsOf(file: MidiFile): readonly MidiPart[] {
  return file.tracks.flatMap((events, track) => {
    const channels = [...new Set(events.flatMap((event) => (event.kind === 'on' ? [event.channel] : [])))];
    return channels
      .filter((channel) => channel !== drumChannel)
      .map((channel): MidiPart => {
        const program = events.find((event) => event.kind === 'program' && event.channel === channel);
        return {
          track,
          channel,
          name: nameOf(events),
          program: program?.kind === 'program' ? program.program : null,
          ...notesOf(events, channel),
        };
      });
  });
}

const nameOf = (events: readonly MidiEvent[]): string => {
  const name = events.find((event) => event.kind === 'name');
  return name?.kind === 'name' ? name.text : '';
};

/**
 * What the file is called: the name in its first track is that of the whole, and a name in any other that of the track
 * (Standard MIDI Files 1.0, meta event 03).
 */
export const midiTitle = (file: MidiFile, part: MidiPart): string =>
  nameOf(file.tracks[0] ?? []) || part.name;

/** Each note ends with the first end of its pitch after it, or with the track. */
function notesOf(events: readonly MidiEvent[], channel: number): Pick<MidiPart, 'notes' | 'open'> {
  const sounding = new Map<number, number[]>();
  const notes: RawNote[] = [];
  let last = 0;
  for (const event of events) {
    last = event.tick;
    if ((event.kind !== 'on' && event.kind !== 'off') || event.channel !== channel) continue;
    const starts = sounding.get(event.note) ?? [];
    if (event.kind === 'on') sounding.set(event.note, [...starts.slice(-8), event.tick]);
    else {
      const start = starts.shift();
      if (start !== undefined) notes.push({ note: event.note, start, end: event.tick });
    }
  }
  const open = [...sounding].flatMap(([note, starts]) => starts.map((start) => ({ note, start, end: last })));
  const all = [...notes, ...open].sort((a, b) => a.start - b.start || a.note - b.note);
  return { notes: all, open: open.length };
}

export const partText = ({ name, notes }: MidiPart, index: number): string =>
  `${index + 1}${name === '' ? '' : ` “${name.slice(0, 24)}”`} (${notes.length} notes)`;

const middlePitch = ({ notes }: MidiPart): number =>
  notes.map(({ note }) => note).sort((a, b) => a - b)[Math.floor(notes.length / 2)] ?? 0;

/** The one part that is a bass line by its name, else by its program; null where none or several are. */
export function bassPart(parts: readonly MidiPart[]): number | null {
  const only = (isBass: (part: MidiPart) => boolean): number | null | undefined => {
    const found = parts.flatMap((part, index) => (isBass(part) ? [index] : []));
    return found.length === 0 ? undefined : found.length === 1 ? found[0]! : null;
  };
  const byName = only(({ name }) => isCalledBass(name));
  const found = byName === undefined ? only(({ program }) => isBassProgram(program)) : byName;
  return found ?? null;
}

/** A part called a bass, else one that sounds as one, else the lowest of those with many notes. */
export function choosePart(parts: readonly MidiPart[]): number {
  const most = Math.max(...parts.map(({ notes }) => notes.length));
  const rank = (part: MidiPart): number =>
    isCalledBass(part.name) ? 0 : isBassProgram(part.program) ? 1 : part.notes.length * 4 >= most ? 2 : 3;
  const order = parts.map((part, index) => ({ index, rank: rank(part), pitch: middlePitch(part) }));
  return order.sort((a, b) => a.rank - b.rank || a.pitch - b.pitch)[0]!.index;
}
