export { chordRuns, raisedBy, raisedGap, raisedSize, type ChordRun } from './chordText';
export { engraving, glyph, textWidth, type Glyph } from './glyphs';
export { inkOf, signsOf, textRun, type Ink, type TextRun } from './ink';
export { layoutStaff, leastColumn, sizesFor, spaceFor, xOfTick } from './layout';
export type * from './model';
export { otherHeadPlace } from './other';
export { typesetName } from './pitches';
export { withGaps, type GappedStaff } from './gaps';
export { barLinesOf, bracketLines, carryArrows, deviceLines, staffLinesOf } from './shapes';
