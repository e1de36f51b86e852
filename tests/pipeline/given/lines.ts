// Given lines for tests: the default bass and hand unless a test says otherwise.
import { defaultHand, defaultInstrument, type StringNumber } from '../../../src/instrument';
import { bpm } from '../../../src/music';
import type { Line } from '../../../src/pipeline';
import {
  fingerLine,
  parseNotes,
  type GivenNote,
  type GivenRequest,
  type GivenResult,
} from '../../../src/pipeline/given';

export const noLimits = { barredPositions: [] } as const;

export const givenRequest = (changes: Partial<GivenRequest> = {}): GivenRequest => ({
  instrument: defaultInstrument,
  hand: defaultHand,
  tempo: bpm(120),
  limits: noLimits,
  way: 'open',
  ...changes,
});

/** Notes of a text that must be without fault. */
export function notesOf(text: string): readonly GivenNote[] {
  const { notes, problems } = parseNotes(text);
  if (problems.length > 0) throw new Error(problems.map((one) => one.message).join(' '));
  return notes;
}

export interface Fingered extends GivenResult {
  readonly line: Line;
}

/** Fingers, and fails the test in words when there is no fingering. */
export function fingered(
  notes: string | readonly GivenNote[],
  changes: Partial<GivenRequest> = {},
): Fingered {
  const result = fingerLine(typeof notes === 'string' ? notesOf(notes) : notes, givenRequest(changes));
  if (!result.line) {
    throw new Error(result.impossible?.message ?? result.problems.map((one) => one.message).join(' '));
  }
  return { ...result, line: result.line };
}

const numerals = ['I', 'II', 'III', 'IV', 'V', 'VI'];
export const numeralOf = (string: StringNumber): string => numerals[string - 1]!;

/** "IV.1" for every note. */
export const choices = (line: Line): readonly string[] =>
  line.notes.map(({ placement }) => `${numeralOf(placement.string)}.${placement.finger}`);

/** Times that one finger goes on along one string to another position. */
export const slidesOf = (line: Line, finger: string): number =>
  line.notes.filter((note, index) => {
    const before = line.notes[index - 1]?.placement;
    return (
      before?.finger === finger &&
      note.placement.finger === finger &&
      before.string === note.placement.string &&
      before.position !== note.placement.position
    );
  }).length;
