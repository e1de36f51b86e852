// What a bassist would notice about the fingering of lines, as figures: how often the hand does what it should not, and where
// it lives. They are read from the notes alone, so that a fit and a report can hold any lines against what is wanted.
import targets from '../../../shared/weights/hand-targets.json' with { type: 'json' };
import { isOpenString, regionOf, type Placement, type Region } from '../../instrument';
import { crossesFingers, gratesOn } from './features';
import type { Line, LineNote } from './types';

/** Two notes that follow each other. */
interface Step {
  readonly from: LineNote;
  readonly to: LineNote;
}

const stepsOf = (lines: readonly Line[]): readonly Step[] =>
  lines.flatMap(({ notes }) => notes.slice(1).map((to, index) => ({ from: notes[index]!, to })));
const parts = (some: readonly unknown[], all: readonly unknown[]): number =>
  all.length === 0 ? 0 : some.length / all.length;
const notesIn = (lines: readonly Line[]): number => lines.reduce((sum, { notes }) => sum + notes.length, 0);
const perHundred = (count: number, lines: readonly Line[]): number =>
  notesIn(lines) === 0 ? 0 : (100 * count) / notesIn(lines);

const isAlong = ({ from, to }: Step): boolean => from.placement.string === to.placement.string;
const movedBy = (from: Placement, to: Placement): number => to.position - from.position;
const pivotsAlong = (lines: readonly Line[]): readonly Step[] =>
  stepsOf(lines).filter((step) => step.to.move.kind === 'pivot' && isAlong(step));

/** True of a pivot that turns the hand down for a higher note of the string, or up for a lower one. */
const turnsAway = ({ from: { placement: a }, to: { placement: b } }: Step): boolean =>
  movedBy(a, b) * (b.stop - a.stop) <= 0;

/**
 * Pivots that leave the thumb no place: it is within a semitone of every position between two shifts, open strings or rests.
 * Worked out from positions alone, whatever the notes say of the thumb.
 */
function pivotsWithoutThumb({ notes }: Line): number {
  let found = 0;
  let [least, most] = [-Infinity, Infinity];
  notes.forEach((note, index) => {
    const { position } = note.placement;
    const isKept = index > 0 && !isOpenString(note.placement) && ['stay', 'pivot'].includes(note.move.kind);
    if (!isKept) [least, most] = [position - 1, position + 1];
    else {
      [least, most] = [Math.max(least, position - 1), Math.min(most, position + 1)];
      if (least > most) {
        found += 1;
        [least, most] = [position - 1, position + 1];
      }
    }
  });
  return found;
}

/** Positions in which nothing but the ear tells the hand where it is: II½ to III½. */
const noMansLand = { from: 4, to: 6 } as const;

const coveredMoves = (lines: readonly Line[]): readonly LineNote[] =>
  lines.flatMap(({ notes }) => notes.filter(({ move }) => move.kind === 'covered shift'));

const openRepeats = (lines: readonly Line[], opens: ReadonlySet<number>): readonly Step[] =>
  stepsOf(lines).filter(({ from, to }) => from.midi === to.midi && opens.has(to.midi));

const stoppedShare = (lines: readonly Line[], region: Region): number => {
  const stopped = lines.flatMap(({ notes }) => notes.filter(({ placement }) => !isOpenString(placement)));
  const ticks = (notes: readonly LineNote[]): number => notes.reduce((sum, note) => sum + note.ticks, 0);
  const inside = stopped.filter(({ placement }) => regionOf(placement.position) === region);
  return stopped.length === 0 ? 0 : ticks(inside) / ticks(stopped);
};

const fourth = 5;
/** Perfect fourths across two strings with one stop. */
const levelFourths = (lines: readonly Line[]): readonly Step[] =>
  stepsOf(lines).filter(
    ({ from, to }) =>
      !isOpenString(from.placement) &&
      !isOpenString(to.placement) &&
      Math.abs(to.midi - from.midi) === fourth &&
      Math.abs(to.placement.string - from.placement.string) === 1,
  );

export const handFigureNames = [
  'position changes a bar',
  'bare shifts a bar',
  'string skips',
  'pivots away',
  'crossed semitones',
  'pivots without thumb',
  'open repeats moved',
  'ringing',
  'landings in no man’s land',
  'one-semitone rides',
  'fourths under one finger',
  'low share',
  'middle share',
  'block share',
  'octave share',
] as const;
export type HandFigureName = (typeof handFigureNames)[number];

/**
 * All figures of some lines taken together. Shares are from 0 to 1; skips, crossed semitones and ringing a hundred notes;
 * pivots without a thumb are counted.
 *
 * @param opens sounding pitches of the open strings
 */
export function handFigures(
  lines: readonly Line[],
  opens: ReadonlySet<number>,
): Readonly<Record<HandFigureName, number>> {
  const steps = stepsOf(lines);
  const bars = lines.reduce((sum, { notes }) => sum + (notes.at(-1)?.bar ?? 0), 0);
  const moved = steps.filter(({ from, to }) => from.placement.position !== to.placement.position);
  const bare = moved.filter(({ to }) => to.move.kind === 'bare shift');
  const skips = steps.filter(({ from, to }) => Math.abs(from.placement.string - to.placement.string) > 1);
  const pivots = pivotsAlong(lines);
  const covered = coveredMoves(lines);
  const landed = covered.filter(({ move }) => move.to >= noMansLand.from && move.to <= noMansLand.to);
  const rides = covered.filter(({ move }) => Math.abs(move.to - move.from) === 1);
  const repeats = openRepeats(lines, opens);
  const fourths = levelFourths(lines);
  const count = (which: (from: Placement, to: Placement) => boolean): number =>
    steps.filter(({ from, to }) => which(from.placement, to.placement)).length;
  return {
    'position changes a bar': moved.length / Math.max(1, bars),
    'bare shifts a bar': bare.length / Math.max(1, bars),
    'string skips': perHundred(skips.length, lines),
    'pivots away': parts(pivots.filter(turnsAway), pivots),
    'crossed semitones': perHundred(count(crossesFingers), lines),
    'pivots without thumb': lines.reduce((sum, line) => sum + pivotsWithoutThumb(line), 0),
    'open repeats moved': parts(
      repeats.filter((step) => !isAlong(step)),
      repeats,
    ),
    ringing: perHundred(count(gratesOn), lines),
    'landings in no man’s land': parts(landed, covered),
    'one-semitone rides': parts(rides, covered),
    'fourths under one finger': parts(
      fourths.filter(({ from, to }) => from.placement.finger === to.placement.finger),
      fourths,
    ),
    'low share': stoppedShare(lines, 'low'),
    'middle share': stoppedShare(lines, 'middle'),
    'block share': stoppedShare(lines, 'neck block'),
    'octave share': stoppedShare(lines, 'octave'),
  };
}

export const wantedLines = ['takes', 'best', 'summit'] as const;
/** Which lines a wanted figure is about: see shared/weights/hand-targets.json. */
export type WantedLines = (typeof wantedLines)[number];

/** A figure that fingerings should have. */
export interface WantedFigure {
  readonly figure: HandFigureName;
  readonly lines: WantedLines;
  /** Before, null where it was not measured. */
  readonly seen: number | null;
  /** Null for a figure that is only watched. */
  readonly wanted: { readonly least?: number; readonly most?: number } | null;
  /** How much a miss weighs in a fit. */
  readonly strength: number;
  /** Numbers of hand.json that a fit moves while the figure is missed, by their paths. */
  readonly answers?: readonly { readonly weight: string; readonly from: number; readonly to: number }[];
}

export const wantedRows: readonly WantedFigure[] = targets.rows.map((row) => ({
  ...row,
  figure: handFigureNames.find((name) => name === row.figure)!,
  lines: wantedLines.find((name) => name === row.lines)!,
}));

/** How far a figure is from what is wanted, in its own unit; 0 where it is not missed. */
export function missOf({ wanted }: WantedFigure, value: number): number {
  if (wanted === null) return 0;
  const { least = Number.NEGATIVE_INFINITY, most = Number.POSITIVE_INFINITY } = wanted;
  return Math.max(0, least - value, value - most);
}
