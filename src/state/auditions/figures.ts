// What a take is, in figures that a player can sort and sift by: where the hand is, how it moves, how the line walks.
import {
  degreeContext,
  isOrnament,
  toneClass,
  type HandReport,
  type Line,
  type LineNote,
} from '../../pipeline';

/** How a line walks, as shares of its notes, 0 to 1. What has no such notes has a share of 0. */
export interface Walk {
  /** Roots, of the notes on which a chord or a section begins: the more, the plainer. */
  readonly roots: number;
  /** Semitones and whole tones, of the steps from note to note. */
  readonly steps: number;
  /** Notes outside chord and scale, of those that open neither a bar nor a chord. */
  readonly outside: number;
}

export interface TakeFigures {
  readonly report: HandReport;
  readonly walk: Walk;
  /** The first of its highest notes; null for a line without notes. */
  readonly highest: LineNote | null;
}

const newPlaces: readonly string[] = ['section', 'four bars', 'change'];

const shareOf = <T>(all: readonly T[], counts: (one: T, index: number) => boolean): number =>
  all.length === 0 ? 0 : all.filter(counts).length / all.length;

/** Notes of their own alone are counted: a skip or a drop belongs to the note beside it. */
function walkOf(notes: readonly LineNote[]): Walk {
  const own = notes.filter(({ slot }) => !isOrnament(slot.articulation));
  const opening = own.filter(({ slot }) => newPlaces.includes(degreeContext(slot)));
  const inner = own.filter(({ slot }) => !slot.isTarget);
  const moves = own.slice(1).map(({ midi }, index) => Math.abs(midi - own[index]!.midi));
  return {
    roots: shareOf(opening, ({ slot, midi }) => toneClass(slot.harmony, midi) === 'root'),
    steps: shareOf(moves, (size) => size === 1 || size === 2),
    outside: shareOf(inner, ({ slot, midi }) => toneClass(slot.harmony, midi) === 'chrom'),
  };
}

export function figuresOf({ notes, report }: Pick<Line, 'notes' | 'report'>): TakeFigures {
  const highest = notes.reduce<LineNote | null>(
    (found, note) => (found === null || note.midi > found.midi ? note : found),
    null,
  );
  return { report, walk: walkOf(notes), highest };
}

/** Share of the sounding time that the hand spends in the low region, 0 to 1. */
export const lowShare = ({ report }: TakeFigures): number =>
  report.byRegion.find(({ region }) => region === 'low')?.share ?? 0;

/** Beats of the longest stay in one region. */
export const stayBeats = ({ report }: TakeFigures): number => report.longestStay?.beats ?? 0;
