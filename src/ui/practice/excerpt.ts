// A few bars cut out of a line, laid end to end, so that they can be set by themselves.
import { ticks, barIndex, numberOfBar, type BarIndex } from '../../music';
import type { DeviceSpan, Line, LineNote, Timeline, TimelineBar } from '../../pipeline';

export interface Excerpt {
  readonly timeline: Timeline;
  readonly line: Line;
  /** For each note of the excerpt, its index in the whole line. */
  readonly indices: readonly number[];
}

/** The spans whose notes are all there, in the order in which they lead on; `places` are the new indices by the old ones. */
function spansWithin(
  spans: readonly DeviceSpan[],
  places: ReadonlyMap<number, number>,
): readonly DeviceSpan[] {
  return spans.flatMap((span) => {
    const notes = span.notes.flatMap((index) => places.get(index) ?? []);
    const isWhole =
      notes.length === span.notes.length && notes.every((at, k) => k === 0 || at > notes[k - 1]!);
    if (!isWhole) return [];
    const target = span.target === null ? undefined : places.get(span.target);
    return [{ ...span, notes, target: target !== undefined && target > notes.at(-1)! ? target : null }];
  });
}

/** @param bars of the timeline, in the order in which they are to stand */
export function excerptOf(timeline: Timeline, line: Line, bars: readonly BarIndex[]): Excerpt {
  const cutBars: TimelineBar[] = [];
  const notes: LineNote[] = [];
  const indices: number[] = [];
  let start = 0;
  for (const [place, from] of bars.entries()) {
    const bar = timeline.bars[from];
    if (!bar) continue;
    const at = barIndex(place);
    const by = start - bar.tick;
    const chords = bar.chords.map((chord) => ({ ...chord, tick: ticks(chord.tick + by) }));
    cutBars.push({ ...bar, index: at, tick: ticks(start), chords });
    for (const note of line.notes) {
      if (note.slot.bar !== from) continue;
      const tick = ticks(note.tick + by);
      const index = notes.length;
      const length = ticks(Math.min(note.ticks, bar.tick + bar.ticks - note.tick));
      const slot = { ...note.slot, index, bar: at, tick, ticks: length };
      notes.push({ ...note, index, bar: numberOfBar(at), tick, ticks: length, slot });
      indices.push(note.index);
    }
    start += bar.ticks;
  }
  const places = new Map(indices.map((index, place) => [index, place]));
  return {
    timeline: { ...timeline, bars: cutBars, slots: notes.map(({ slot }) => slot), ticks: ticks(start) },
    line: {
      ...line,
      notes: notes.map((note) => ({ ...note, devices: spansWithin(note.devices, places) })),
      devices: spansWithin(line.devices, places),
    },
    indices,
  };
}

/** Notes in the fullest bar of a line. */
export function densestBar({ notes }: Line): number {
  const counts = new Map<number, number>();
  for (const { slot } of notes) counts.set(slot.bar, (counts.get(slot.bar) ?? 0) + 1);
  return Math.max(0, ...counts.values());
}
