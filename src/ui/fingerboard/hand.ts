// The hand as a shape. Equal temperament makes a frame in one position an exact copy of the same frame in another, made
// smaller by 2^(-n/12); so each frame is drawn once, at the nut, and only moved and scaled from there.
import frameTable from '../../../shared/hand/frames.json' with { type: 'json' };
import { spanShares, stopDistance, type Hand, type Placement, type StringNumber } from '../../instrument';
import { handWay, type Line, type LineNote } from '../../pipeline';
import type { Board } from './geometry';

export const handShapes = ['closed', 'extended', 'thumb'] as const;
export type HandShape = (typeof handShapes)[number];

/** Where the hand is and how it is held. */
export interface HandState {
  /** Semitones from the nut to the first finger; not whole while the hand is on its way over open strings. */
  readonly position: number;
  readonly shape: HandShape;
  /** An open string rings: the hand is off the string. */
  readonly lifted: boolean;
}

/** A finger of a shape: semitones from the first finger, and how far it reaches beyond the lowest string (0 to 1). */
interface DrawnFinger {
  readonly offset: number;
  readonly reach: number;
}

const reaches: Readonly<Record<string, number>> = { T: 0.1, '1': 0.55, '2': 1, '3': 0.9, '4': 0.35 };

function fingersOf(shape: HandShape): readonly DrawnFinger[] {
  const row = frameTable.rows.find((one) => one.frame === shape);
  const named = Object.entries(row?.fingers ?? {}).map(([finger, offset]) => ({
    finger,
    offset: Number(offset),
  }));
  const drawn = named.map(({ finger, offset }) => ({ offset, reach: reaches[finger] ?? 0.5 }));
  // The closed frame names no third finger, it lies beside the fourth; the extended one names only what it adds.
  if (shape === 'closed') drawn.push({ offset: 1.5, reach: 0.9 });
  if (shape === 'extended') drawn.push({ offset: 0, reach: 0.55 }, { offset: 1, reach: 1 });
  return drawn.toSorted((a, b) => a.offset - b.offset);
}

/** Shape of the hand in a placement; over an open string it keeps the closed frame, or the thumb's at the octave. */
export function shapeOf(placement: {
  readonly frame: Placement['frame'];
  readonly position: number;
}): HandShape {
  if (placement.frame !== 'open') return placement.frame;
  const thumb = frameTable.rows.find((row) => row.frame === 'thumb');
  return placement.position >= (thumb?.positions[0] ?? 12) ? 'thumb' : 'closed';
}

const stateIn = ({ frame, finger }: Placement, position: number): HandState => ({
  position,
  shape: shapeOf({ frame, position }),
  lifted: finger === '0',
});

/** The hand at a note that is looked at: over an open string that carries it, where it goes. */
export const handStateOf = ({ placement, carry }: Pick<LineNote, 'placement' | 'carry'>): HandState =>
  stateIn(placement, carry?.to ?? placement.position);

/** The hand when a note ends: on its way where more than one open string carries it. */
export const handStateAfter = ({ notes }: Line, index: number): HandState =>
  stateIn(notes[index]!.placement, handWay(notes, index).to);

/** Semitones from the first finger to the first and the last finger of a shape. */
export function reachOfShape(shape: HandShape): readonly [first: number, last: number] {
  const offsets = fingersOf(shape).map((finger) => finger.offset);
  return [Math.min(...offsets), Math.max(...offsets)];
}

/** Half the width of a finger at the nut, in mm; 8.5 mm in the middle of the neck. Our assumption. */
const halfFinger = 12;
/** How far the back of the hand stands out beyond the board, in pixels. */
const knuckles = 24;

export interface HandDrawing {
  /** The back of the hand on the side of the highest string and the fingers over the strings, open towards the wrist. */
  readonly outline: string;
  /** The tip of the thumb behind the neck, where it shows beyond the lowest string; empty where the thumb is on the board. */
  readonly thumb: string;
}

const n = (value: number): string => value.toFixed(2);

/** A finger as it lies on the board: its middle and its tip. */
interface Lying {
  readonly x: number;
  readonly tip: number;
}

/** Down one side of a finger, round its tip and up the other; it narrows a little on the way. */
function aroundFinger({ x, tip }: Lying, half: number, web: number): string {
  const slim = half * 0.8;
  const waist = web + (tip - web) * 0.5;
  return (
    `L${n(x + half)} ${n(web)}C${n(x + half)} ${n(waist)} ${n(x + slim)} ${n(waist)} ${n(x + slim)} ${n(tip - slim)}` +
    `A${n(slim)} ${n(slim)} 0 0 1 ${n(x - slim)} ${n(tip - slim)}` +
    `C${n(x - slim)} ${n(waist)} ${n(x - half)} ${n(waist)} ${n(x - half)} ${n(web)}`
  );
}

/** The thumb lies opposite the second finger, behind the neck: semitones from the first finger. Common practice, no source. */
const thumbOpposite = 0.85;

/**
 * The paths of a shape in the board's own pixels at the nut: x along from the first finger, y across from the middle.
 * `handMatrix` takes them to the screen.
 */
export function drawHand(board: Board, shape: HandShape): HandDrawing {
  const xOf = (offset: number): number => stopDistance(board.instrument, offset) * board.scale;
  const half = halfFinger * board.scale;
  const edge = board.edge(0);
  const top = -edge - knuckles;
  const lowest = board.across(board.instrument.strings.length as StringNumber, 0);
  // The longest finger reaches well over the lowest string, the little one just to it.
  const tipOf = (reach: number): number => lowest + half * (reach - 0.2);
  const fingers = fingersOf(shape).map(({ offset, reach }): Lying => ({ x: xOf(offset), tip: tipOf(reach) }));
  const [left, right] = [fingers[0]!.x - half, fingers.at(-1)!.x + half];
  const web = -edge * 0.8;
  const around = fingers.toReversed().map((finger, index, all) => {
    const next = all[index + 1];
    const down = aroundFinger(finger, half, web);
    if (!next) return down;
    // The skin between two fingers.
    const [from, to] = [finger.x - half, next.x + half];
    const rise = Math.max(0, Math.min((from - to) / 2, half));
    return `${down}C${n(from)} ${n(web - rise)} ${n(to)} ${n(web - rise)} ${n(to)} ${n(web)}`;
  });
  const narrow = (right - left) * 0.17;
  const wrist = top - knuckles;
  const thumbX = xOf(thumbOpposite);
  const thumbAt = edge + 4;
  const thumbTip = thumbAt + half * 0.4;
  return {
    outline:
      `M${n(right - narrow)} ${n(wrist)}C${n(right - narrow)} ${n(top)} ${n(right)} ${n(top)} ${n(right)} ${n(web)}` +
      `${around.join('')}` +
      `C${n(left)} ${n(top)} ${n(left + narrow)} ${n(top)} ${n(left + narrow)} ${n(wrist)}`,
    thumb:
      shape === 'thumb'
        ? ''
        : `M${n(thumbX - half)} ${n(thumbAt)}C${n(thumbX - half)} ${n(thumbTip)} ${n(thumbX - half * 0.5)} ${n(thumbTip)} ${n(thumbX)} ${n(thumbTip)}` +
          `S${n(thumbX + half)} ${n(thumbTip)} ${n(thumbX + half)} ${n(thumbAt)}`,
  };
}

/** Pixels along the edge that the hand reaches from its first finger: in comfort, and at most. */
export const drawReach = (
  board: Board,
  hand: Hand,
): { readonly comfortable: number; readonly most: number } => ({
  comfortable: hand.span * spanShares.comfortable * board.scale,
  most: hand.span * spanShares.practical * board.scale,
});

export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

/** The transform that lays a drawn hand on a position of the board; its entries are those of CSS `matrix()`. */
export function handMatrix(board: Board, position: number): Matrix {
  const at = board.along(position);
  // On an extension, which is not drawn to scale, the hand keeps the size it has at the nut.
  const shrink = 2 ** (-Math.max(position, 0) / 12);
  const broaden = board.edge(at) / board.edge(0);
  const origin = board.place(at, 0);
  const ahead = board.place(at + 1, 0);
  const aside = board.place(at, 1);
  return [
    (ahead.x - origin.x) * shrink,
    (ahead.y - origin.y) * shrink,
    (aside.x - origin.x) * broaden,
    (aside.y - origin.y) * broaden,
    origin.x,
    origin.y,
  ];
}

/** The transform that lays the reach of the hand, a length that does not shrink, along the edge of the board. */
export function reachMatrix(board: Board, position: number): Matrix {
  const at = board.along(position);
  const over = (along: number): number => board.edge(along) - 5;
  const origin = board.place(at, over(at));
  const ahead = board.place(at + 1, over(at + 1));
  const aside = board.place(at, over(at) + 1);
  return [ahead.x - origin.x, ahead.y - origin.y, aside.x - origin.x, aside.y - origin.y, origin.x, origin.y];
}

export const cssMatrix = (matrix: Matrix): string =>
  `matrix(${matrix.map((value) => value.toFixed(4)).join(', ')})`;
