// This line in another key: every note moved by the same interval, the fingering solved anew, and what that changed.
//
// Pre: a line with the timeline it stands in. Post: the same rhythm over the chart in the other key; the line lies as near to
// where it was as the bass allows, and notes that would lie off it go the other way by an octave and are named.
import { transpositionTo, type Key, type SoundingMidi } from '../../music';
import { keyOfChart, type Chart, type Problem } from '../1-chart';
import { makeTimeline, type Timeline } from '../2-timeline';
import type { Line, LineNote } from '../5-line';
import { fingerLine, type GivenNote } from '../given';
import { chartOf, timelineWish } from '../pipeline';
import { walkingRange } from '../problem/range';
import type { Impossible, WalkRequest } from '../types';

export interface CarriedLine {
  readonly key: Key;
  /** As written, in that key. */
  readonly chart: Chart;
  readonly timeline: Timeline;
  readonly line: Line | null;
  readonly impossible: Impossible | null;
  readonly problems: readonly Problem[];
  /** Semitones that the notes went. */
  readonly moved: number;
  /** Indices of notes that went an octave further, or less far, since they would lie off the bass. */
  readonly folded: readonly number[];
  /** Indices of notes that another finger plays. */
  readonly fingers: readonly number[];
  /** Indices of notes on another string. */
  readonly strings: readonly number[];
}

/** Why a line cannot be carried: its rhythm does not come out the same, or nothing is to be played. */
export type CarryProblem = 'other rhythm';

const octave = 12;

/** Of the ways to a pitch class the one that leaves the fewest notes off the bass, the shortest of these. */
function shiftOf(notes: readonly LineNote[], by: number, isOn: (midi: number) => boolean): number {
  const off = (shift: number): number => notes.filter(({ midi }) => !isOn(midi + shift)).length;
  return [by, by - octave, by + octave].reduce((best, shift) => {
    const [a, b] = [off(best), off(shift)];
    return b < a || (b === a && Math.abs(shift) < Math.abs(best)) ? shift : best;
  });
}

/**
 * @param request that of the line, its key left aside
 * @param line as it stands, with its timeline
 */
export function carriedTo(
  request: WalkRequest,
  line: Line,
  timeline: Timeline,
  key: Key,
): CarriedLine | CarryProblem {
  const own = keyOfChart(chartOf(request).chart);
  const { chart, problems } = chartOf({ ...request, key });
  const made = makeTimeline(chart, timelineWish({ ...request, key })).timeline;
  const isSame =
    made?.slots.length === timeline.slots.length &&
    made.slots.every(({ tick }, t) => tick === timeline.slots[t]!.tick);
  if (!made || !isSame || line.notes.length !== made.slots.length) return 'other rhythm';
  const { lowest, highest } = walkingRange(request.instrument);
  const isOn = (midi: number): boolean => midi >= lowest && midi <= highest;
  const moved = shiftOf(line.notes, transpositionTo(own, key).semitones, isOn);
  const folded: number[] = [];
  const notes = line.notes.map(({ midi, index, tick, ticks }): GivenNote => {
    const there = midi + moved;
    if (isOn(there)) return { midi: there as SoundingMidi, tick, ticks };
    folded.push(index);
    return { midi: (there < lowest ? there + octave : there - octave) as SoundingMidi, tick, ticks };
  });
  const result = fingerLine(notes, {
    instrument: request.instrument,
    hand: request.hand,
    tempo: made.tempo,
    limits: { ...request.limits, shares: [], spread: 0, prices: [] },
    way: 'open',
    key,
    timeline: made,
    ...(request.comfort === undefined ? {} : { comfort: request.comfort }),
  });
  const other = (differs: (a: LineNote, b: LineNote) => boolean): readonly number[] =>
    result.line?.notes.filter((note) => differs(note, line.notes[note.index]!)).map(({ index }) => index) ??
    [];
  return {
    key,
    chart,
    timeline: made,
    line: result.line,
    impossible: result.impossible,
    problems: [...problems, ...result.problems],
    moved,
    folded,
    fingers: other((a, b) => a.placement.finger !== b.placement.finger),
    strings: other((a, b) => a.placement.string !== b.placement.string),
  };
}
