// How large a few bars can be in the room there is for them: two side by side or one under the other, or a line of them.

export interface StandFit {
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
export function fitBars(width: number, height: number, densest: number): StandFit {
  const bar = need.note * Math.max(fewest, densest);
  const sideBySide = Math.min(width / (need.clef + 2 * bar), height / need.line);
  const stacked = Math.min(width / (need.clef + bar), height / (2 * need.line + need.gap));
  const zoom = Math.min(range.most, Math.max(range.least, sideBySide, stacked));
  const whole = Math.floor(width / zoom);
  // So narrow that the second bar does not come up beside the first.
  return { zoom, width: stacked > sideBySide ? Math.min(whole, need.clef + Math.round(1.5 * bar)) : whole };
}

/** Bars a line may have, phrases being of two and four, and the pixels of the sheet from which so many are set in one. */
const lineBars = [
  { bars: 4, least: 620 },
  { bars: 2, least: 270 },
  { bars: 1, least: 0 },
] as const;
/** Pixels of the sheet: a line of staff with devices named under it, and the smallest words there. */
const taught = { line: 165, words: 11 };
/**
 * The smallest words, of the height of the screen: some 20 minutes of arc (ISO 9241-303) where the last row sits six
 * heights away. That it does is our assumption.
 */
const fromFar = 1 / 30;

export interface LineFit extends StandFit {
  /** Bars in a line. */
  readonly bars: number;
}

/**
 * One line of as many bars as can be read from far; a bar alone is as large as there is room.
 * @param width of the room, pixels; and its `height`
 * @param densest notes in the fullest bar of the line
 * @param screen height of the whole screen, pixels
 */
export function fitLine(width: number, height: number, densest: number, screen: number): LineFit {
  const bar = need.note * Math.max(fewest, densest);
  const fits = lineBars.map(({ bars, least }): LineFit => {
    const wanted = Math.max(need.clef + bars * bar, least + 1);
    const zoom = Math.min(width / wanted, Math.max(range.least, height / taught.line));
    return { zoom, width: Math.floor(width / zoom), bars };
  });
  return fits.find(({ zoom }) => zoom * taught.words >= screen * fromFar) ?? fits.at(-1)!;
}

/** Pixels of a board that is not enlarged: a smaller one cannot be read across a room. */
const board = { width: 340, height: 145 };
const boardRange = { least: 1, most: 2.6 };

/** How much larger than on the sheet the board is drawn in a room. */
export const boardZoom = (width: number, height: number): number =>
  Math.min(boardRange.most, Math.max(boardRange.least, Math.min(width / board.width, height / board.height)));
