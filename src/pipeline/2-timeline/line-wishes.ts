// What a player may wish of a line, in the trade's words.

export const lineShapes = ['stay', 'climb', 'fall', 'arch'] as const;
/** The way a line takes through a section: it keeps its height, goes up, goes down, or up and down again. */
export type LineShape = (typeof lineShapes)[number];

/** A shape for a section. */
export interface ShapeWish {
  /** Its label as in the chart; null for every section that has no wish of its own. */
  readonly section: string | null;
  readonly shape: LineShape;
}

/** A height that was drawn for a bar of the form. */
export interface HeightWish {
  /** Bar of a chorus in playing order, from 1. */
  readonly bar: number;
  /** 0 for low, 1 for high. */
  readonly height: number;
}

/** Wishes in the trade's words. Each is 0, or nothing, where the line is as people play. */
export interface LineWishes {
  /** -1 plain, 1 bold. */
  readonly bold?: number;
  /** -1 steps, 1 leaps. */
  readonly leaps?: number;
  /** -1 inside, 1 outside. */
  readonly outside?: number;
  /** From 0 to 1: how much bolder, higher and fuller the last chorus is than the first. */
  readonly build?: number;
  /** At most one a section. */
  readonly shapes?: readonly ShapeWish[];
  /** At most one a bar; they go before shapes. Bars between two that have one lie between their heights. */
  readonly heights?: readonly HeightWish[];
}
