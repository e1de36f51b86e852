// A line of the player's own over a chart: the chart gives bars and chords, the line its notes, the hand is sought.
//
// Notes are known by the bar as written, so a repeat and a further chorus play them again. What a file says of fingers and
// strings are wishes of its own: taken where the player wants that fingering, and left where no hand could hold them all.
import {
  keyNotes,
  nearerWay,
  numberOfBar,
  semitones,
  soundingMidi,
  ticks,
  type Semitones,
  type Ticks,
} from '../../music';
import { highestPitch, lowestPitch, type StringNumber } from '../../instrument';
import { beatTicks, type Problem } from '../1-chart';
import type { Slot, Timeline, TimelineBar, TimelineChord } from '../2-timeline';
import type { Pin } from '../3-candidates';
import type { Line } from '../5-line';
import { fingerLine, lineOfNone } from './finger';
import type { OwnLine, OwnNote } from './own-types';
import { saysNothing } from './printed';
import type { GivenNote, GivenRequest, GivenResult } from './types';

/** A note where it is played. */
interface Placed {
  readonly note: OwnNote;
  readonly bar: TimelineBar;
  readonly tick: Ticks;
  readonly ticks: Ticks;
}

/** The notes in playing order; one that would go on into the next, or past the end, is cut there. */
function placedIn({ bars, ticks: end }: Timeline, notes: readonly OwnNote[]): readonly Placed[] {
  const byBar = new Map<number, OwnNote[]>();
  for (const note of notes) byBar.set(note.bar, [...(byBar.get(note.bar) ?? []), note]);
  const all = bars.flatMap((bar) =>
    (byBar.get(bar.chartBar) ?? [])
      .filter(({ at }) => at < bar.ticks)
      .map((note): Placed => ({ note, bar, tick: ticks(bar.tick + note.at), ticks: ticks(note.ticks) })),
  );
  return all.flatMap((one, index): Placed[] => {
    const until = Math.min(all[index + 1]?.tick ?? end, end);
    const length = Math.min(one.ticks, until - one.tick);
    return length > 0 ? [{ ...one, ticks: ticks(length) }] : [];
  });
}

/** The chord that sounds; where none is written a note is of the key. */
function harmonyAt({ chords, key }: TimelineBar, tick: number): TimelineChord {
  const harmony = chords.findLast((one) => one.tick <= tick) ?? chords[0]!;
  return harmony.scale
    ? harmony
    : { ...harmony, scale: { name: `${key.tonic} ${key.mode}`, notes: keyNotes(key) } };
}

/** One slot a note. Nothing is walked, so nothing leads to a target. */
function slotsOf(placed: readonly Placed[]): readonly Slot[] {
  const harmonies = placed.map(({ bar, tick }) => harmonyAt(bar, tick));
  return placed.map(({ bar, tick, ticks: length }, index): Slot => {
    const after = placed[index + 1];
    const offset = tick - bar.tick;
    const beat = offset / beatTicks(bar.meter) + (bar.chords[0]?.beat ?? 1);
    const harmony = harmonies[index]!;
    return {
      index,
      bar: bar.index,
      beat,
      tick,
      ticks: length,
      harmony,
      nextHarmony: harmonies[index + 1] ?? harmony,
      isChange: harmony.isChange && harmony.tick === tick,
      nextIsChange: false,
      nextIsDownbeat: after !== undefined && after.tick === after.bar.tick,
      strength: offset === 0 ? 3 : Number.isInteger(beat) ? 1 : 0,
      isTarget: offset === 0,
      sinceTarget: 0,
      untilTarget: 0,
      target: harmony,
      phrase: 'inside',
      restAfter: ticks(after ? after.tick - tick - length : 0),
    };
  });
}

/** The semitones a line goes up or down with its chart: the nearer way, or an octave on where the bass would end. */
function shiftFor(notes: readonly OwnNote[], distance: number, { instrument }: Hands): Semitones {
  const near = nearerWay(distance);
  const midis = notes.map(({ midi }) => midi);
  if (Math.min(...midis) + near < lowestPitch(instrument)) return semitones(near + 12);
  return Math.max(...midis) + near > highestPitch(instrument) ? semitones(near - 12) : near;
}

/** What the file says of the hand, as pins where its notes are played. */
const theirPins = (placed: readonly Placed[], slots: readonly Slot[]): readonly Pin[] =>
  placed.flatMap(({ note }, index) => {
    if (saysNothing(note)) return [];
    const { bar, beat } = slots[index]!;
    const string = note.string === null ? {} : { string: note.string as StringNumber };
    return [
      { bar: numberOfBar(bar), beat, ...string, ...(note.finger === null ? {} : { finger: note.finger }) },
    ];
  });

/** Notes that lie in no bar of the chart, told of. */
function pastEnd({ bars }: Timeline, notes: readonly OwnNote[]): readonly Problem[] {
  const longest = new Map<number, number>();
  for (const bar of bars) longest.set(bar.chartBar, Math.max(longest.get(bar.chartBar) ?? 0, bar.ticks));
  const count = notes.filter(({ bar, at }) => at >= (longest.get(bar) ?? 0)).length;
  if (count === 0) return [];
  const message =
    count === 1
      ? 'One note of your line lies outside the bars of the changes and is not played.'
      : `${count} notes of your line lie outside the bars of the changes and are not played.`;
  return [{ line: 1, column: 1, length: 1, code: 'own-outside', severity: 'warning', message }];
}

type Hands = Omit<GivenRequest, 'way' | 'timeline' | 'key' | 'meter' | 'title' | 'tempo'>;

const notHeld: Problem = {
  line: 1,
  column: 1,
  length: 1,
  code: 'fingers-not-held',
  severity: 'warning',
  message:
    'The fingers of the file cannot be held on this bass with these limits. Ours stand in their place.',
};

interface OwnResult extends GivenResult {
  readonly timeline: Timeline;
  readonly otherFingers: Line | null;
  readonly ownShift: Semitones;
}

/**
 * The line over a chart that was laid out in time.
 * @param distance semitones that the chart is higher than the notes were written for
 */
export function fingerOwn(own: OwnLine, chart: Timeline, hands: Hands, distance = 0): OwnResult {
  const placed = placedIn(chart, own.notes);
  const slots = slotsOf(placed);
  const timeline: Timeline = { ...chart, slots };
  const outside = pastEnd(chart, own.notes);
  const asked = { ...hands, way: 'open', tempo: chart.tempo, key: chart.key, timeline } as const;
  const shift = shiftFor(own.notes, distance, hands);
  const always = { timeline, ownShift: shift };
  if (placed.length === 0)
    return { ...always, problems: outside, line: lineOfNone(asked), impossible: null, otherFingers: null };
  const notes = placed.map(({ note, tick, ticks: length }): GivenNote => ({
    midi: soundingMidi(note.midi + shift),
    tick,
    ticks: length,
  }));
  const finger = (pins: readonly Pin[]): GivenResult => fingerLine(notes, { ...asked, pins });
  const pins = hands.pins ?? [];
  // Fingers were written for the notes where they stood: in another key they say nothing.
  const theirs = shift === 0 ? theirPins(placed, slots) : [];
  if (theirs.length === 0) {
    const found = finger(pins);
    return { ...found, ...always, problems: [...outside, ...found.problems], otherFingers: null };
  }
  const [ours, written] = [finger(pins), finger([...pins, ...theirs])];
  if (own.fingering === 'ours')
    return { ...ours, ...always, problems: [...outside, ...ours.problems], otherFingers: written.line };
  return written.line
    ? { ...written, ...always, problems: [...outside, ...written.problems], otherFingers: ours.line }
    : { ...ours, ...always, problems: [...outside, ...ours.problems, notHeld], otherFingers: null };
}
