// Figures of lines, taken from the notes alone: pitches, bars, and the chord under each note.
import { pitchClass, pitchClassOf } from '../../src/music';
import type { LineNote } from '../../src/pipeline';

/** All that is counted over the lines of many charts. */
export interface Corpus {
  readonly bars: number;
  readonly beatToBeat: readonly number[];
  readonly inBar: readonly number[];
  readonly overBarLine: readonly number[];
  /** Signed semitones over the bar line. */
  readonly signedOverBarLine: ReadonlyMap<number, number>;
  readonly shares: Readonly<Record<string, number>>;
}

const bins = 14;

interface Step {
  readonly by: number;
  readonly overBarLine: boolean;
}

const stepsOf = (line: readonly LineNote[]): Step[] =>
  line.slice(1).map((note, index) => ({
    by: note.midi - line[index]!.midi,
    overBarLine: note.bar !== line[index]!.bar,
  }));

function histogram(steps: readonly Step[]): number[] {
  const counts = new Array<number>(bins).fill(0);
  for (const { by } of steps) counts[Math.min(Math.abs(by), bins - 1)]!++;
  return counts.map((count) => count / steps.length);
}

function share<T>(values: readonly T[], holds: (value: T) => boolean): number {
  return values.filter(holds).length / values.length;
}

function quantile(values: readonly number[], at: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(at * sorted.length))]!;
}

/** Semitones above the bass that the chord asks for. */
function aboveBass({ harmony: { chord }, midi }: LineNote): number {
  if (!chord) throw new Error('a note over no chord');
  return (pitchClass(midi) - pitchClassOf(chord.bass ?? chord.root) + 12) % 12;
}

/** A fifth of the chord, altered or not. */
const isFifth = (note: LineNote): boolean =>
  note.harmony.chord!.tones.some((tone) => tone.degree === 5 && tone.pitchClass === pitchClass(note.midi));

/** @param lines notes of each line, in order; at least one move over a bar line among them */
export function measure(lines: readonly (readonly LineNote[])[]): Corpus {
  const steps = lines.flatMap(stepsOf);
  const over = steps.filter((step) => step.overBarLine);
  const notes = lines.flat();
  const turns = lines.flatMap((line) => {
    const own = stepsOf(line);
    return own.slice(1).map((step, index) => [own[index]!.by, step.by] as const);
  });
  const isStep = (by: number): boolean => Math.abs(by) === 1 || Math.abs(by) === 2;
  const newChord = notes.filter(({ slot }) => slot.isChange);
  const goesOn = notes.filter(({ slot, beat }) => beat === 1 && !slot.isChange);
  const moves = steps.filter(({ by }) => by !== 0);
  const signed = new Map<number, number>();
  for (const { by } of over) signed.set(by, (signed.get(by) ?? 0) + 1 / over.length);
  const pitches = notes.map(({ midi }) => midi);
  return {
    bars: lines.reduce((sum, line) => sum + new Set(line.map(({ bar }) => bar)).size, 0),
    beatToBeat: histogram(steps),
    inBar: histogram(steps.filter((step) => !step.overBarLine)),
    overBarLine: histogram(over),
    signedOverBarLine: signed,
    shares: {
      stepShareOfMoves: share(moves, ({ by }) => isStep(by)),
      repeatedPitch: share(steps, ({ by }) => by === 0),
      semitoneOverBarLine: share(over, ({ by }) => Math.abs(by) === 1),
      wholeToneOverBarLine: share(over, ({ by }) => Math.abs(by) === 2),
      medianPitch: quantile(pitches, 0.5),
      pitch95: quantile(pitches, 0.95),
      rootOnNewChord: share(newChord, (note) => aboveBass(note) === 0),
      rootOnDownbeatChordGoesOn: share(goesOn, (note) => aboveBass(note) === 0),
      fifthOnDownbeatChordGoesOn: share(goesOn, isFifth),
      turnBack: share(turns, ([first, second]) => first !== 0 && first + second === 0),
      directionChange: share(turns, ([first, second]) => first * second < 0),
    },
  };
}

/** Half the sum of absolute differences of two distributions. */
export const totalVariation = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, index) => sum + Math.abs(value - b[index]!), 0) / 2;
