// Outlines of the instrument as path data, drawn once for a size: head, neck, ebony, shoulder of the body, strings, ticks.
import { extensionPositions, stopDistance, type BassString } from '../../instrument';
import type { Board, Point } from './geometry';

/** One string as drawn: its middle line and its thickness in pixels. */
export interface DrawnString {
  readonly string: BassString;
  readonly path: string;
  readonly thickness: number;
  /** The space a ringing string sweeps: the envelope of its lowest mode, widest halfway to the bridge. */
  readonly swing: string;
}

type Corner = readonly [along: number, across: number];

const text = (board: Board, [along, across]: Corner): string => {
  const { x, y } = board.place(along, across);
  return `${x.toFixed(2)} ${y.toFixed(2)}`;
};

const polygon = (board: Board, corners: readonly Corner[]): string =>
  `M${corners.map((corner) => text(board, corner)).join('L')}Z`;

/** The playing surface, from nut to its end or that of the view. */
export const ebonyOutline = (board: Board): string =>
  polygon(board, [
    [0, -board.edge(0)],
    [board.boardEnd, -board.edge(board.boardEnd)],
    [board.boardEnd, board.edge(board.boardEnd)],
    [0, board.edge(0)],
  ]);

/** Neck under the board: seen as a thin line of wood on either side. */
export function neckOutline(board: Board): string {
  const rim = 3.5;
  return polygon(board, [
    [-2, -board.edge(0) - rim],
    [board.boardEnd, -board.edge(board.boardEnd) - rim],
    [board.boardEnd, board.edge(board.boardEnd) + rim],
    [-2, board.edge(0) + rim],
  ]);
}

/** Pixels before the head, where the names of the strings stand. */
const nameRoom = 34;

/** Behind the nut the neck swells into the peg box. */
export function headOutline(board: Board): string {
  const half = board.edge(0) + 3.5;
  const swell = half + 5;
  const tail = -board.head + nameRoom;
  const chin = Math.max(-30, tail * 0.6);
  const p = (along: number, across: number): string => text(board, [along, across]);
  return (
    `M${p(-2, -half)}C${p(chin * 0.5, -half)} ${p(chin * 0.6, -swell)} ${p(chin, -swell)}L${p(tail + 10, -swell + 2)}` +
    `Q${p(tail, -swell + 3)} ${p(tail, -swell + 13)}L${p(tail, swell - 13)}Q${p(tail, swell - 3)} ${p(tail + 10, swell - 2)}` +
    `L${p(chin, swell)}C${p(chin * 0.6, swell)} ${p(chin * 0.5, half)} ${p(-2, half)}Z`
  );
}

/** Pixels from one string's name to the next at least. */
const nameGap = { landscape: 15, portrait: 17 } as const;

/** Where the name of a string stands: before the head, in line with its string, or spread where strings lie close. */
export function namePlace(board: Board, string: BassString): Point {
  const over = board.across(string.number, board.start);
  const gap =
    Math.abs(over) / Math.max(Math.abs(string.number - (board.instrument.strings.length + 1) / 2), 0.5);
  const spread = gap > 0 ? Math.max(1, nameGap[board.orientation] / gap) : 1;
  return board.place(board.start - board.head + nameRoom / 2, over * spread);
}

/**
 * An arc beside the board, on the palm's side, from one position to another: where an open string carried the hand.
 * The head of its arrow is a path of its own.
 */
export function carryArc(
  board: Board,
  from: number,
  to: number,
): { readonly arc: string; readonly arrow: string } {
  const rim = 9;
  const start = board.along(from);
  const end = board.along(to);
  const way = Math.sign(end - start);
  const level = (along: number): number => -board.edge(along) - rim;
  const bow = Math.min(12 + Math.abs(end - start) * 0.1, 30);
  const middle = (start + end) / 2;
  const p = (along: number, across: number): string => text(board, [along, across]);
  // The arrow lies along the end of the curve, which comes in from its control point.
  const control: Corner = [middle, level(middle) - bow * 2 + rim];
  const slope = Math.atan2(level(end) - control[1], end - control[0]);
  const barb = (turn: number): string =>
    p(end - 9 * Math.cos(slope + turn), level(end) - 9 * Math.sin(slope + turn));
  return {
    arc: way === 0 ? '' : `M${p(start, level(start))}Q${p(...control)} ${p(end, level(end))}`,
    arrow: way === 0 ? '' : `M${barb(0.5)}L${p(end, level(end))}L${barb(-0.5)}`,
  };
}

/** The strip of ebony that carries a string on over the scroll, with a line at each stop; empty without an extension. */
export function extensionShape(board: Board): { readonly strip: string; readonly stops: string } {
  const { extension } = board.instrument;
  const stops = extensionPositions(board.instrument);
  if (!extension || stops.length === 0) return { strip: '', stops: '' };
  const half = board.edge(0) / board.instrument.strings.length;
  const over = board.across(extension.string, 0);
  const from = board.along(stops[0]!) - 12;
  return {
    strip: polygon(board, [
      [from, over - half],
      [-6, over - half],
      [-6, over + half],
      [from, over + half],
    ]),
    stops: stops
      .map((stop) => board.along(stop))
      .map((at) => `M${text(board, [at, over - half])}L${text(board, [at, over + half])}`)
      .join(''),
  };
}

/** The nut, a bar of ivory colour across the board. */
export const nutOutline = (board: Board): string =>
  polygon(board, [
    [-6, -board.edge(0) - 1.5],
    [0, -board.edge(0) - 1.5],
    [0, board.edge(0) + 1.5],
    [-6, board.edge(0) + 1.5],
  ]);

/** The shoulder of the body, which the neck meets at the heel. `inset` moves the line inwards, for the inlaid edge. */
export function shoulderOutline(board: Board, inset = 0): string {
  const { sides } = board;
  const heel = board.along(board.instrument.heel) - 10 + inset * 1.4;
  const run = Math.max(board.end - heel, 1);
  const p = (along: number, across: number): string => text(board, [along, across]);
  const side = (sign: 1 | -1, reach: number): readonly [string, string] => {
    const root = sign * (board.edge(heel) - 2);
    const rim = sign * (reach - inset);
    const rise = rim - root;
    const out =
      `C${p(heel + 1, root + rise * 0.5)} ${p(heel + run * 0.13, root + rise * 0.86)} ${p(heel + run * 0.36, root + rise * 0.95)}` +
      `S${p(heel + run * 0.8, rim)} ${p(board.end, rim)}`;
    const back =
      `C${p(heel + run * 0.8, rim)} ${p(heel + run * 0.58, root + rise * 1.0)} ${p(heel + run * 0.36, root + rise * 0.95)}` +
      `C${p(heel + run * 0.13, root + rise * 0.86)} ${p(heel + 1, root + rise * 0.5)} ${p(heel, root)}`;
    return [out, back];
  };
  const [outPalm] = side(-1, sides.palm);
  const [, backNumerals] = side(1, sides.numerals);
  return `M${p(heel, -(board.edge(heel) - 2))}${outPalm}L${p(board.end, sides.numerals - inset)}${backNumerals}Z`;
}

/** A short mark on each edge of the board at a stop; at the octave the line goes all the way across. */
export function tick(board: Board, stop: number): string {
  const at = board.along(stop);
  const edge = board.edge(at);
  if (stop === 12) return `M${text(board, [at, -edge])}L${text(board, [at, edge])}`;
  return (
    `M${text(board, [at, -edge])}L${text(board, [at, -edge + 5])}` +
    `M${text(board, [at, edge - 5])}L${text(board, [at, edge])}`
  );
}

/** The stretch of the edge that belongs to a position: half a semitone either way of its first finger. */
export function edgeBand(board: Board, from: number, to: number, depth: number): string {
  const start = board.along(Math.max(from - 0.5, 0));
  const stop = board.along(to + 0.5);
  return polygon(board, [
    [start, board.edge(start) + 4],
    [stop, board.edge(stop) + 4],
    [stop, board.edge(stop) + 4 + depth],
    [start, board.edge(start) + 4 + depth],
  ]);
}

/** Thickness of the lowest string of a bass tuned E A D G, in mm, from memory. */
const lowE = { pitch: 28, thickness: 2.8 };

/**
 * Thickness of a string in mm. At one tension, length and material the thickness goes as one over the frequency
 * (Mersenne's law), so the low E is about 2.4 times as thick as the G.
 */
export const stringThickness = (string: BassString): number =>
  lowE.thickness * 2 ** ((lowE.pitch - string.open) / 12);

/** The strings, highest first. */
export function drawStrings(board: Board): readonly DrawnString[] {
  const length = stopDistance(board.instrument, 1e6) * board.scale;
  const behind = -board.head + nameRoom + 10;
  return board.instrument.strings.map((string) => {
    const over = (along: number): number => board.across(string.number, along);
    const peg = over(0) * 0.94;
    const path = `M${text(board, [behind, peg])}L${text(board, [-3, over(0)])}L${text(board, [board.end, over(board.end)])}`;
    const steps = Array.from({ length: 33 }, (_, index) => (board.end * index) / 32);
    const widest = Math.min(board.edge(0) * 0.1, 8);
    const sway = (along: number): number => widest * Math.sin((Math.PI * along) / length);
    const there = steps.map((along) => text(board, [along, over(along) - sway(along)]));
    const back = steps.toReversed().map((along) => text(board, [along, over(along) + sway(along)]));
    const thickness = Math.max(stringThickness(string) * board.scale, 1);
    return { string, path, thickness, swing: `M${[...there, ...back].join('L')}Z` };
  });
}
