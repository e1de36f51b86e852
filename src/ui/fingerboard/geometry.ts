// The fingerboard on the screen. Along the strings everything is true to scale in millimetres; across them the drawing is
// stretched, by a factor that is known and told. Two steps: millimetres to the board's own pixels (along from the nut,
// across from the middle, the highest string on the negative side), then those pixels to the screen. Mirroring happens in
// the second step alone, so that text stays upright and a tap is read back through the same mirror.
import {
  extensionPositions,
  regionBounds,
  stopDistance,
  stringSpacing,
  type Instrument,
  type Region,
  type StringNumber,
} from '../../instrument';
import { millimetres } from '../../music';

export type Orientation = 'landscape' | 'portrait';

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface BoardRequest {
  readonly instrument: Instrument;
  /** Room there is, in CSS pixels. */
  readonly width: number;
  readonly height: number;
  readonly orientation: Orientation;
  readonly leftHanded: boolean;
  /** The view ends here, in semitones above the open string. */
  readonly endStop: number;
  /** And starts here, 0 at the nut; the head stays in sight as the place of the open strings. */
  readonly startStop?: number;
}

/** The place on the board that a point of the screen belongs to. */
export interface BoardPlace {
  readonly string: StringNumber;
  /** 0 for the open string, below it on an extension. */
  readonly stop: number;
}

export interface Board extends BoardRequest {
  /** Pixels a millimetre along the strings: exact. */
  readonly scale: number;
  /** Pixels a millimetre across the strings, over `scale`: how far the drawing is stretched. */
  readonly stretch: number;
  /** Pixels from the nut to a stop; behind the nut, on an extension, shortened. */
  readonly along: (stop: number) => number;
  /** Pixels from the middle of the board to a string at a distance of `along` pixels from the nut. */
  readonly across: (string: StringNumber, along: number) => number;
  /** Pixels from the middle to the edge of the board. */
  readonly edge: (along: number) => number;
  /** From the board's own pixels to the screen. */
  readonly place: (along: number, across: number) => Point;
  /** Where a finger stands; an open string's mark stands behind the nut. */
  readonly point: (string: StringNumber, stop: number) => Point;
  /** The stop nearest to a point; null off the board. */
  readonly locate: (point: Point) => BoardPlace | null;
  /** Pixels from the middle line to the sides of the box: the palm's, that of the highest string, and the numerals'. */
  readonly sides: { readonly palm: number; readonly numerals: number };
  /** Diameter of a note's mark: as much as fits on neighbouring stops and strings. */
  readonly mark: number;
  /** Pixels beyond the nut that the head takes. */
  readonly head: number;
  /** Pixels from the nut to the start and to the end of the view. */
  readonly start: number;
  readonly end: number;
  /** Pixels from the nut to the end of the board itself, as far as the view goes. */
  readonly boardEnd: number;
}

/** From the outer strings to the edge of the board. Our assumption: a nut 43 mm wide for four strings 10 mm apart. */
const edgeMargin = 6.5;
/** The drawing is never stretched more than this; a narrow upright board needs more of it to leave room between strings. */
const mostStretch = { landscape: 3, portrait: 4.2 } as const;

/** How far behind the nut an open string's mark stands, in pixels. */
const openMark = 17;

/** From stop to stop of an extension, in pixels: it runs over the scroll, and is drawn shortened so that all of it shows. */
const extensionStep = 26;

/** Room kept around the board, in pixels: head before the nut, the palm's side, the side of the position numerals. */
interface Margins {
  readonly head: number;
  readonly palm: number;
  readonly numerals: number;
}
/** A small box leaves less of it. */
function marginsFor(orientation: Orientation, width: number, height: number): Margins {
  if (orientation === 'portrait') return { head: 72, palm: 46, numerals: 84 };
  const isLow = height < 220;
  return { head: width < 480 ? 82 : 104, palm: isLow ? 34 : 40, numerals: isLow ? 30 : 36 };
}

/** Semitones above the open string at a distance from the nut: the inverse of `stopDistance`. */
export const stopAt = (instrument: Pick<Instrument, 'length'>, fromNut: number): number =>
  -12 * Math.log2(1 - Math.min(fromNut, instrument.length * 0.999) / instrument.length);

/** The orientation that gives the strings the greater length in a box. */
export const orientationFor = (width: number, height: number): Orientation => {
  const headOf = (orientation: Orientation): number => marginsFor(orientation, width, height).head;
  return height - headOf('portrait') > width - headOf('landscape') ? 'portrait' : 'landscape';
};

/** The third finger of a hand at the octave stands here: as far as walking lines go, so that the view seldom changes. */
const usualHighest = 14;

/** Where the view ends for stops up to `highest`: a little beyond them, and well beyond the octave. */
export const endStopFor = (highest: number): number => Math.max(usualHighest, highest) + 1.3;

/** The board itself ends here, a little beyond two octaves: our assumption. */
const boardEndStop = 25.4;

/** A view of the whole board, with the strings running on beyond its end. */
export const wholeEndStop = 26.4;

/** Pixels of a board's length from which the whole of it can be shown; a shorter one shows it to a little beyond the octave. */
export const wholeFrom = 640;

/** A region with the stops that a hand within it reaches. */
export function regionView(
  region: Region,
  wholeEnd: number,
): { readonly startStop: number; readonly endStop: number } {
  const { from, to } = regionBounds(region);
  return { startStop: Math.max(from - 1.6, 0), endStop: Math.min(to + 4.5, Math.max(wholeEnd, from + 4)) };
}

/** Lays the board out in a box. */
export function layBoard(request: BoardRequest): Board {
  const { instrument, width, height, orientation, leftHanded, endStop, startStop = 0 } = request;
  const extended = extensionPositions(instrument).length;
  const extension = extended > 0 ? extended * extensionStep : 0;
  const usual = marginsFor(orientation, width, height);
  const margin = { ...usual, head: usual.head + extension };
  const [length, breadth] = orientation === 'landscape' ? [width, height] : [height, width];
  const seen = Math.max(length - margin.head, 1);
  const scale = seen / (stopDistance(instrument, endStop) - stopDistance(instrument, startStop));
  const start = stopDistance(instrument, startStop) * scale;
  const end = start + seen;

  const gaps = instrument.strings.length - 1;
  const spacingAt = (along: number): number =>
    stringSpacing(instrument, millimetres(Math.max(along, 0) / scale));
  const room = Math.max(breadth - margin.palm - margin.numerals, 1);
  const broadest = gaps * spacingAt(end) + 2 * edgeMargin;
  const acrossScale = Math.min(room / broadest, scale * mostStretch[orientation]);
  const halfBroadest = (broadest * acrossScale) / 2;
  const spare = (room - 2 * halfBroadest) / 2;

  // The middle line, measured from the palm's side of the box.
  const middle = margin.palm + spare + halfBroadest;

  /** On an extension: behind the open string's mark, step by step. */
  const along = (stop: number): number =>
    stop < 0 ? stop * extensionStep - openMark : stopDistance(instrument, stop) * scale;
  const across = (string: StringNumber, at: number): number =>
    (string - 1 - gaps / 2) * spacingAt(at) * acrossScale;
  const edge = (at: number): number => ((gaps * spacingAt(at)) / 2 + edgeMargin) * acrossScale;

  const mirror = (x: number): number => (leftHanded ? width - x : x);
  const place = (at: number, over: number): Point =>
    orientation === 'landscape'
      ? { x: mirror(margin.head + at - start), y: middle + over }
      : { x: mirror(width - middle - over), y: margin.head + at - start };
  const unplace = ({ x, y }: Point): { readonly at: number; readonly over: number } =>
    orientation === 'landscape'
      ? { at: mirror(x) - margin.head + start, over: y - middle }
      : { at: y - margin.head + start, over: width - middle - mirror(x) };

  const point = (string: StringNumber, stop: number): Point => {
    // Behind the nut, or where the view starts.
    const at = stop === 0 ? start - openMark : stop < 0 ? start + along(stop) : along(stop);
    return place(at, across(string, at));
  };

  function locate(target: Point): BoardPlace | null {
    const { at, over } = unplace(target);
    if (at < start - margin.head || at > end || Math.abs(over) > edge(at) + 4) return null;
    const index = Math.round(over / (spacingAt(at) * acrossScale) + gaps / 2);
    const string = (Math.min(Math.max(index, 0), gaps) + 1) as StringNumber;
    if (at > start) return { string, stop: Math.round(stopAt(instrument, at / scale)) };
    const below = Math.round((start - openMark - at) / extensionStep);
    const isExtended = string === instrument.extension?.string && below > 0;
    return { string, stop: isExtended ? -Math.min(below, extended) : 0 };
  }

  const gap = spacingAt(start) * acrossScale;
  return {
    ...request,
    scale,
    stretch: acrossScale / scale,
    along,
    across,
    edge,
    place,
    point,
    locate,
    mark: Math.round(Math.min(Math.max(Math.min((along(8) - along(7)) * 0.95, gap * 1.1), 17), 24)),
    sides: { palm: middle, numerals: breadth - middle },
    head: margin.head,
    start,
    end,
    boardEnd: Math.min(end, stopDistance(instrument, boardEndStop) * scale),
  };
}
