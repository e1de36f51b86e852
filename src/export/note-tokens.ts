// The notes of a bar as words: "F1 E.1", beat by beat.
import { scientificName, ticksPerQuarter, type BarIndex, type Meter } from '../music';
import type { Line, LineNote } from '../pipeline/5-line';
import type { Timeline, TimelineBar } from '../pipeline/2-timeline';
import type { StringNames } from './position-marks';

export const held = '~';
export const silent = '-';

/** What counts as one beat in the numbering of the notes: a dotted quarter in compound meters, an eighth in other x/8. */
function beatLength({ beats, unit }: Meter): number {
  if (unit !== 8) return ticksPerQuarter;
  return beats % 3 === 0 && beats > 3 ? ticksPerQuarter * 1.5 : ticksPerQuarter / 2;
}

export const isDead = (note: LineNote): boolean => note.slot.articulation === 'ghost';

function noteToken(note: LineNote, names: StringNames): string {
  const { string, finger } = note.placement;
  const offBeat = Number.isInteger(note.beat) ? '' : '&';
  const token = `${scientificName(note.pitch)} ${names.stringName(string)}.${finger}`;
  return offBeat + (isDead(note) ? `(${token})` : token);
}

/**
 * The notes of a bar beat by beat; "&" before a note off the beat, brackets round a dead one, "~" for a beat through
 * which a note goes on, "-" for a silent one.
 */
function noteTokens(
  bar: TimelineBar,
  notes: readonly LineNote[],
  soundsUntil: number,
  names: StringNames,
): string[] {
  const beat = beatLength(bar.meter);
  const tokens: string[] = [];
  let sounding = soundsUntil;
  let next = 0;
  // Beats are counted from the bar's end, so that those of a pickup fall where they are felt.
  for (let at = bar.ticks % beat === 0 ? 0 : (bar.ticks % beat) - beat; at < bar.ticks; at += beat) {
    const tick = bar.tick + at;
    if (at >= 0 && notes[next]?.tick !== tick) tokens.push(sounding > tick ? held : silent);
    for (; next < notes.length && notes[next]!.tick < tick + beat; next += 1) {
      const note = notes[next]!;
      tokens.push(noteToken(note, names));
      sounding = note.tick + note.ticks;
    }
  }
  return tokens;
}

/** Notes by the index of their bar. */
function notesByBar(line: Line): ReadonlyMap<BarIndex, readonly LineNote[]> {
  const byBar = new Map<BarIndex, LineNote[]>();
  for (const note of line.notes) {
    const own = byBar.get(note.slot.bar);
    if (own) own.push(note);
    else byBar.set(note.slot.bar, [note]);
  }
  return byBar;
}

/** Bar by bar the notes that begin there, and its words. */
export function tokensByBar(
  timeline: Timeline,
  line: Line,
  names: StringNames,
): readonly { readonly notes: readonly LineNote[]; readonly tokens: readonly string[] }[] {
  const byBar = notesByBar(line);
  let soundsUntil = 0;
  return timeline.bars.map((bar) => {
    const notes = byBar.get(bar.index) ?? [];
    const tokens = noteTokens(bar, notes, soundsUntil, names);
    const last = notes.at(-1);
    if (last) soundsUntil = last.tick + last.ticks;
    return { notes, tokens };
  });
}
