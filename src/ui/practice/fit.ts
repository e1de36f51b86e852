// How large two bars can be in the room there is for them: side by side, or one under the other.

export interface Fit {
  /** Notes this much larger than on the sheet. */
  readonly zoom: number;
  /** Width for the staff, in pixels of the sheet. */
  readonly width: number;
}

/** Pixels of the sheet, measured: what a clef with its signs needs, a note, a line of staff with all its rows. */
const need = { clef: 100, note: 30, line: 138, gap: 10 };
/** No bar is set narrower than for so many notes. */
const fewest = 4;
const range = { least: 0.9, most: 3.2 };

/**
 * The way that has the larger notes.
 * @param width of the room, pixels; and its `height`
 * @param densest notes in the fullest bar of the line: from it, and not from the two bars, so that the size stays
 */
export function fitBars(width: number, height: number, densest: number): Fit {
  const bar = need.note * Math.max(fewest, densest);
  const sideBySide = Math.min(width / (need.clef + 2 * bar), height / need.line);
  const stacked = Math.min(width / (need.clef + bar), height / (2 * need.line + need.gap));
  const zoom = Math.min(range.most, Math.max(range.least, sideBySide, stacked));
  const whole = Math.floor(width / zoom);
  // So narrow that the second bar does not come up beside the first.
  return { zoom, width: stacked > sideBySide ? Math.min(whole, need.clef + Math.round(1.5 * bar)) : whole };
}

/** Pixels of a board that is not enlarged: a smaller one cannot be read across a room. */
const board = { width: 340, height: 145 };
const boardRange = { least: 1, most: 2.6 };

/** How much larger than on the sheet the board is drawn in a room. */
export const boardZoom = (width: number, height: number): number =>
  Math.min(boardRange.most, Math.max(boardRange.least, Math.min(width / board.width, height / board.height)));
