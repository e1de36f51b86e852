// How often a line has each device, beside how often people play it.
import { isOrnament } from '../../2-timeline';
import { isBassNote } from './degree';
import { devices, type DeviceId, type PeopleBase, type PeopleShare } from './rows';
import type { DeviceSpan, PlayedNote } from './spans';

/** A line, or as many as are counted together. */
export interface CountedLine {
  readonly notes: readonly PlayedNote[];
  readonly devices: readonly DeviceSpan[];
  readonly bars: number;
}

/** A share of the counted lines' own beside that of people. */
export interface ComparedShare extends PeopleShare {
  /** Null where the lines have nothing that it could be a share of. */
  readonly own: number | null;
}

export interface DeviceCount {
  readonly device: DeviceId;
  readonly count: number;
  readonly compared: readonly ComparedShare[];
}

/** Steps between notes of their own, with where they lead. */
interface Step {
  readonly from: number;
  readonly size: number;
  readonly isOverBarLine: boolean;
  readonly isIntoRoot: boolean;
}

function stepsOf(notes: readonly PlayedNote[]): readonly Step[] {
  const own = notes.flatMap((note, index) => (isOrnament(note.slot.articulation) ? [] : [{ note, index }]));
  return own.slice(1).map(({ note: to }, place): Step => {
    const { note, index } = own[place]!;
    return {
      from: index,
      size: to.midi - note.midi,
      isOverBarLine: note.slot.nextIsDownbeat,
      isIntoRoot: isBassNote(to.slot.harmony, to.midi),
    };
  });
}

/** Lengths of the stretches of steps one way, each of at most `most` semitones; a semitone chain turns by its sign alone. */
function stretches(steps: readonly Step[], most: number): readonly number[] {
  const lengths: number[] = [];
  steps.forEach(({ size }, index) => {
    if (size === 0 || Math.abs(size) > most) return;
    const before = steps[index - 1]?.size ?? 0;
    const goesOn = before !== 0 && Math.abs(before) <= most && before > 0 === size > 0;
    if (goesOn) lengths[lengths.length - 1]!++;
    else lengths.push(1);
  });
  return lengths;
}

/** What is counted, and of how many: sums over all lines. */
interface Tally {
  hits: number;
  of: number;
}

const countWhere = <T>(list: readonly T[], holds: (one: T) => boolean): number =>
  list.reduce((sum, one) => sum + (holds(one) ? 1 : 0), 0);

/** The steps that lead on by a device, of those that may. */
function steppingBy(
  device: DeviceId,
  { notes, devices: spans }: CountedLine,
  may: (step: Step) => boolean,
): Tally {
  const lasts = new Set(spans.flatMap((span) => (span.device === device ? [span.notes.at(-1)!] : [])));
  const steps = stepsOf(notes).filter(may);
  return { hits: countWhere(steps, ({ from }) => lasts.has(from)), of: steps.length };
}

const chainLength = 2;
const runLength = 3;

function tallyOf(device: DeviceId, base: PeopleBase, line: CountedLine): Tally {
  switch (base) {
    case 'bar line':
      return steppingBy(device, line, ({ isOverBarLine }) => isOverBarLine);
    case 'before a root':
      return steppingBy(device, line, ({ isOverBarLine, isIntoRoot }) => isOverBarLine && isIntoRoot);
    case 'beat':
      return steppingBy(device, line, () => true);
    case 'semitone chain': {
      const chains = stretches(stepsOf(line.notes), 1);
      return { hits: countWhere(chains, (length) => length === chainLength), of: chains.length };
    }
    case 'run a bar':
      return {
        hits: countWhere(stretches(stepsOf(line.notes), 2), (length) => length >= runLength),
        of: line.bars,
      };
    case 'chromatic run a bar':
      return {
        hits: countWhere(stretches(stepsOf(line.notes), 1), (length) => length >= runLength),
        of: line.bars,
      };
  }
}

/** A row for every device of the table, in its order. */
export function countDevices(lines: readonly CountedLine[]): readonly DeviceCount[] {
  return devices.map(({ id, people }) => ({
    device: id,
    count: lines.reduce((sum, line) => sum + countWhere(line.devices, ({ device }) => device === id), 0),
    compared: people.map((share) => {
      const tallies = lines.map((line) => tallyOf(id, share.of, line));
      const of = tallies.reduce((sum, one) => sum + one.of, 0);
      const hits = tallies.reduce((sum, one) => sum + one.hits, 0);
      return { ...share, own: of === 0 ? null : hits / of };
    }),
  }));
}
