// The memory of a line: how it came to the present note, and what it has done since its last target. A finite automaton that
// reads the line step by step; composed with the lattice (4-solver/lattice.ts), it lets rules look further back than one note.
//
// A target opens a bar or a chord. Counters go back to 0 there.

/** Sizes of step that are told apart: repeat, semitone, tone, third, fourth to fifth, sixth and seventh, octave and more. */
export const stepSizes = 7;

const sizeBySemitones = [0, 1, 2, 3, 3, 4, 4, 4, 5, 5, 5, 5, 6] as const;

/** Class of the size of a step, from 0 (a repeat) to 6 (an octave or more). */
export const sizeOf = (step: number): number => sizeBySemitones[Math.min(Math.abs(step), 12)]!;

/** Leaps are of a fourth and more: of this size class at least. */
export const leapSize = 4;

export interface Memory {
  /** Size class of the step into the present note; null at the first note. */
  readonly size: number | null;
  /** Its direction: 1 up, -1 down, 0 for a repeat or none. */
  readonly direction: -1 | 0 | 1;
  /** Changes of direction since the last target, at notes that lie between targets: 0, 1, 2 for two and more. */
  readonly turns: number;
  /** Leaps since the last target: 0, 1 for one and more. */
  readonly leaps: number;
  /** True on the second side of an enclosure: the next note must be the target between the two. */
  readonly encloses: boolean;
}

export const mostTurns = 2;

export const startOfLine: Memory = { size: null, direction: 0, turns: 0, leaps: 0, encloses: false };

/** Enclosures go from side to side by a tone to a major third: size classes. */
export const enclosingSizes: readonly number[] = [2, 3];

function arrivals(): readonly Pick<Memory, 'size' | 'direction'>[] {
  const result: Pick<Memory, 'size' | 'direction'>[] = [
    { size: null, direction: 0 },
    { size: 0, direction: 0 },
  ];
  for (let size = 1; size < stepSizes; size++) {
    result.push({ size, direction: 1 }, { size, direction: -1 });
  }
  return result;
}

/** Notes since the last target after which a memory can come to be. */
const leastSince = ({ turns, leaps, encloses }: Memory): number =>
  Math.max(turns === 0 ? 0 : turns + 1, leaps, encloses ? 2 : 0);

function allMemories(): readonly Memory[] {
  const atTargets = arrivals().map((arrival): Memory => ({
    ...arrival,
    turns: 0,
    leaps: 0,
    encloses: false,
  }));
  const between: Memory[] = [];
  for (const arrival of arrivals()) {
    if (arrival.size === null) continue;
    for (let turns = 0; turns <= mostTurns; turns++) {
      for (const leaps of [0, 1]) {
        for (const encloses of [false, true]) {
          if (turns === 0 && leaps === 0 && !encloses) continue;
          if (leaps === 0 && turns > 0 && arrival.size >= leapSize) continue;
          if (encloses && !enclosingSizes.includes(arrival.size)) continue;
          between.push({ ...arrival, turns, leaps, encloses });
        }
      }
    }
  }
  // Those that can come early after a target first, so that a slot knows how many it can be in.
  between.sort((a, b) => leastSince(a) - leastSince(b));
  return [...atTargets, ...between];
}

/** Every memory there can be; the first is the start of a line. */
export const memories: readonly Memory[] = allMemories();

/** How many memories a note can have that stands so many notes after a target: those numbered below. */
export const memoriesSince = (since: number): number =>
  memories.filter((memory) => leastSince(memory) <= since).length;

const keyOf = ({ size, direction, turns, leaps, encloses }: Memory): number =>
  (((((size ?? -1) + 1) * 3 + direction + 1) * (mostTurns + 1) + turns) * 2 + leaps) * 2 + (encloses ? 1 : 0);

const numbers: ReadonlyMap<number, number> = new Map(memories.map((memory, index) => [keyOf(memory), index]));

/** Index of a memory in `memories`. @throws RangeError for one that cannot be */
export function memoryNumber(memory: Memory): number {
  const found = numbers.get(keyOf(memory));
  if (found === undefined) throw new RangeError(`no such memory: ${JSON.stringify(memory)}`);
  return found;
}

/** What the automaton reads of a step. */
export interface ReadStep {
  /** In semitones, rising positive. */
  readonly step: number;
  readonly fromTarget: boolean;
  readonly toTarget: boolean;
  /** The step goes from one side of an enclosure to the other. */
  readonly encloses: boolean;
}

/** True for a step that goes the other way than the one before. */
export const turnsAt = ({ direction }: Memory, step: number): boolean => direction * step < 0;

/** The memory after a step. */
export function advance(memory: Memory, { step, fromTarget, toTarget, encloses }: ReadStep): Memory {
  const size = sizeOf(step);
  const direction = Math.sign(step) as -1 | 0 | 1;
  if (toTarget) return { size, direction, turns: 0, leaps: 0, encloses: false };
  const turns = Math.min(memory.turns + (!fromTarget && turnsAt(memory, step) ? 1 : 0), mostTurns);
  const leaps = Math.min(memory.leaps + (size >= leapSize ? 1 : 0), 1);
  return { size, direction, turns, leaps, encloses };
}
