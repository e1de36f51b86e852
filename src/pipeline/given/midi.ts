// A MIDI file as a given line: one part, one note at a time, on a grid of sixteenths and triplets.
import words from '../../../shared/words/midi-problems.json' with { type: 'json' };
import {
  bpm,
  keyOfFifths,
  soundingMidi,
  tempoRange,
  ticks,
  ticksPerQuarter,
  type Bpm,
  type Key,
  type Meter,
} from '../../music';
import { barTicks, meterText, parseMeter, severities, type Problem } from '../1-chart';
import { isMidi, readMidiEvents, type MidiEvent, type MidiFile } from './midi-events';
import {
  bassPart,
  choosePart,
  partsOf,
  partText,
  midiTitle,
  type MidiPart,
  type RawNote,
} from './midi-parts';
import { givenLimits } from './notes';
import type { GivenNote } from './types';

export interface MidiLine {
  /** Empty where nothing could be read. */
  readonly notes: readonly GivenNote[];
  readonly problems: readonly Problem[];
  /** Null where the file names none. */
  readonly tempo: Bpm | null;
  readonly meter: Meter;
  readonly key: Key | null;
  /** Name of the whole, or of the part where the whole has none. */
  readonly title: string;
  /** The parts with notes, in order, as words. */
  readonly parts: readonly string[];
  /** The part that the line is from, counted from 1; null when it is from none. */
  readonly part: number | null;
  /** No other part could as well have been meant: it was asked for, is the only one, or the only one for the bass. */
  readonly isClear: boolean;
}

type Code = keyof typeof words;
type Values = Readonly<Record<string, string | number>>;

/** Notes come to the nearer of a sixteenth and a third of a beat. */
const grids = [ticksPerQuarter / 4, ticksPerQuarter / 3] as const;
/** Parts that can be chosen from, as many as of a score. */
const mostNamed = 200;
const plainMeter: Meter = { beats: 4, unit: 4 };

class Problems {
  readonly list: Problem[] = [];
  add(code: Code, values: Values = {}, byte = 0): void {
    const { severity, message } = words[code];
    const filled = message.replace(/\{(\w+)\}/g, (whole, name: string) => String(values[name] ?? whole));
    const known = severities.find((one) => one === severity) ?? 'error';
    this.list.push({ code, severity: known, message: filled, line: 1, column: byte + 1, length: 1 });
  }
}

function onGrid(tick: number): number {
  const [a, b] = grids.map((grid) => Math.round(tick / grid) * grid) as [number, number];
  return Math.abs(tick - a) <= Math.abs(tick - b) ? a : b;
}

/** One note at a time: of several struck together the lowest, each ending where the next begins at the latest. */
function oneAtATime(part: MidiPart, scale: number, problems: Problems): GivenNote[] {
  const struck = new Map<number, RawNote>();
  for (const note of part.notes) {
    const start = onGrid(note.start * scale);
    const before = struck.get(start);
    if (!before || note.note < before.note) struck.set(start, note);
  }
  const dropped = part.notes.length - struck.size;
  if (dropped > 0) problems.add('midi-chords', { count: dropped });
  const starts = [...struck].sort(([a], [b]) => a - b);
  return starts.map(([start, note], index): GivenNote => {
    const next = starts[index + 1]?.[0] ?? Infinity;
    const end = Math.min(Math.max(onGrid(note.end * scale), start + grids[0]), next);
    const longest = givenLimits.beats * ticksPerQuarter;
    return {
      midi: soundingMidi(note.note),
      tick: ticks(start),
      ticks: ticks(Math.min(end - start, longest)),
    };
  });
}

/** What holds at a tick, and whether it ever changes. */
function inForce<Kind extends MidiEvent['kind']>(
  file: MidiFile,
  kind: Kind,
  tick: number,
): { event: Extract<MidiEvent, { kind: Kind }> | undefined; changes: boolean } {
  const all = file.tracks
    .flat()
    .filter((event): event is Extract<MidiEvent, { kind: Kind }> => event.kind === kind)
    .sort((a, b) => a.tick - b.tick);
  const event = all.findLast((one) => one.tick <= tick) ?? all[0];
  const text = (one: MidiEvent): string => JSON.stringify({ ...one, tick: 0 });
  return { event, changes: event !== undefined && all.some((one) => text(one) !== text(event)) };
}

function tempoAt(file: MidiFile, tick: number, problems: Problems): Bpm | null {
  const { event, changes } = inForce(file, 'tempo', tick);
  if (!event || event.microseconds === 0) return null;
  const asked = Math.round(600_000_000 / event.microseconds) / 10;
  const tempo = Math.min(Math.max(asked, tempoRange.least), tempoRange.most);
  if (changes) problems.add('midi-tempo', { tempo });
  return bpm(tempo);
}

function meterAt(file: MidiFile, tick: number, problems: Problems): Meter {
  const { event, changes } = inForce(file, 'meter', tick);
  if (!event) return plainMeter;
  const meter = parseMeter(`${event.beats}/${event.unit}`);
  if (!meter) problems.add('midi-meter-unread', { meter: `${event.beats}/${event.unit}` });
  else if (changes) problems.add('midi-meter', { meter: meterText(meter) });
  return meter ?? plainMeter;
}

function keyAt(file: MidiFile, tick: number): Key | null {
  const { event } = inForce(file, 'key', tick);
  return event && Math.abs(event.fifths) <= 7
    ? keyOfFifths(event.fifths, event.isMinor ? 'minor' : 'major')
    : null;
}

/**
 * The line in a MIDI file. Pitches sound as they are written; times come to a grid of sixteenths and thirds of a beat;
 * empty bars before the first note are left out. Never throws.
 * @param asked number of the part, from 1, among those with notes; left out, the one most like a bass line
 */
export function readMidiLine(bytes: Uint8Array, asked?: number): MidiLine {
  const problems = new Problems();
  const nothing = (): MidiLine => ({
    notes: [],
    problems: problems.list,
    tempo: null,
    meter: plainMeter,
    key: null,
    title: '',
    parts: [],
    part: null,
    isClear: true,
  });
  const file = isMidi(bytes)
    ? readMidiEvents(bytes)
    : { fault: { code: 'midi-none', byte: 0, track: 0 } as const };
  if ('fault' in file) {
    const { code, byte, track } = file.fault;
    problems.add(code, { byte, track, most: 200_000 }, byte);
    return nothing();
  }
  const parts = partsOf(file);
  const named = parts.slice(0, mostNamed).map(partText);
  const list = named.slice(0, 16).join(', ');
  if (parts.length === 0) {
    problems.add('midi-no-notes');
    return nothing();
  }
  const index = asked === undefined ? choosePart(parts) : asked - 1;
  const part = parts[index];
  if (!part) {
    problems.add('midi-no-track', { asked: asked ?? 0, parts: list });
    return { ...nothing(), parts: named };
  }
  if (asked === undefined && parts.length > 1)
    problems.add('midi-part', { part: partText(part, index), parts: list });
  if (part.open > 0) problems.add('midi-open', { count: part.open });
  const all = oneAtATime(part, ticksPerQuarter / file.ticksPerQuarter, problems);
  const first = part.notes[0]!.start;
  const meter = meterAt(file, first, problems);
  const rest = Math.floor(all[0]!.tick / barTicks(meter));
  if (rest > 0) problems.add('midi-rest', { bars: rest });
  if (all.length > givenLimits.notes) problems.add('midi-many', { most: givenLimits.notes });
  const notes = all
    .slice(0, givenLimits.notes)
    .map((note) => ({ ...note, tick: ticks(note.tick - rest * barTicks(meter)) }));
  return {
    notes,
    problems: problems.list,
    tempo: tempoAt(file, first, problems),
    meter,
    key: keyAt(file, first),
    title: midiTitle(file, part),
    parts: named,
    part: index + 1,
    isClear: asked !== undefined || parts.length === 1 || bassPart(parts) !== null,
  };
}
