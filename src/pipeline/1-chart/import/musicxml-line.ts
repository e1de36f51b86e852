// The notes of the bass part as one line: one voice, one note at a time, ties joined.
import type { ImportedNote } from './given';
import type { MeasureNote } from './musicxml-notes';
import type { ImportProblems } from './problems';
import type { SketchBar } from './sketch';

/** The voice with the most notes; of equals the one that comes first. */
function mainVoice(notes: readonly (readonly MeasureNote[])[]): string | undefined {
  const counts = new Map<string, number>();
  for (const { voice } of notes.flat()) counts.set(voice, (counts.get(voice) ?? 0) + 1);
  let main: string | undefined;
  for (const [voice, count] of counts) if (main === undefined || count > counts.get(main)!) main = voice;
  return main;
}

type Placed = Omit<ImportedNote, 'bar'>;

/** One note at each onset, the lowest; each ends where the next begins. */
function oneAtATime(notes: readonly MeasureNote[], bar: SketchBar, problems: ImportProblems): MeasureNote[] {
  const sorted = [...notes].sort((a, b) => a.note.offset - b.note.offset || a.note.midi - b.note.midi);
  const single = sorted.filter(({ note }, index) => note.offset !== sorted[index - 1]?.note.offset);
  if (single.length < sorted.length) problems.addOnce('line-chords', bar.span, { bar: bar.number });
  return single.map((one, index) => {
    const { note } = one;
    const end = single[index + 1]?.note.offset ?? Infinity;
    return { ...one, note: { ...note, ticks: Math.min(note.ticks, end - note.offset) } };
  });
}

/** Gives every bar the notes that begin in it. */
export function placeLine(
  bars: readonly SketchBar[],
  notes: readonly (readonly MeasureNote[])[],
  problems: ImportProblems,
): void {
  const main = mainVoice(notes);
  let open: (Placed & { ticks: number }) | null = null;
  for (const [index, bar] of bars.entries()) {
    const own = (notes[index] ?? []).filter(({ voice }) => voice === main);
    for (const { note, tiedInto, tiedOn } of oneAtATime(own, bar, problems)) {
      if (tiedInto && open?.midi === note.midi) {
        open.ticks += note.ticks;
      } else {
        open = { ...note };
        bar.notes.push(open);
      }
      if (!tiedOn) open = null;
    }
  }
}
