// The columns of the table and the order of its rows.
import { lowShare, stayBeats, type TakeFigures } from './figures';

export const columns = [
  'number',
  'low',
  'bare',
  'covered',
  'stay',
  'hardest',
  'roots',
  'steps',
  'outside',
  'highest',
] as const;
export type Column = (typeof columns)[number];

export const directions = ['ascending', 'descending'] as const;
export type Direction = (typeof directions)[number];

export interface Order {
  readonly column: Column;
  readonly direction: Direction;
}

/** As they were drawn. */
export const firstOrder: Order = { column: 'number', direction: 'ascending' };

/** The part of a take that the table works with. */
export interface Row {
  /** Place in the order in which takes were drawn, from 0. */
  readonly index: number;
  readonly figures: TakeFigures;
}

const values: Readonly<Record<Column, (row: Row) => number>> = {
  number: ({ index }) => index,
  low: ({ figures }) => lowShare(figures),
  bare: ({ figures }) => figures.report.bareShifts,
  covered: ({ figures }) => figures.report.coveredShifts,
  stay: ({ figures }) => stayBeats(figures),
  // By how hard it is for the time there is, not by its size.
  hardest: ({ figures }) => figures.report.hardestMove?.move.pressure ?? 0,
  roots: ({ figures }) => figures.walk.roots,
  steps: ({ figures }) => figures.walk.steps,
  outside: ({ figures }) => figures.walk.outside,
  highest: ({ figures }) => figures.highest?.midi ?? 0,
};

/** The rows in order; those that are alike stay as they were drawn, whichever the direction. */
export function ordered<R extends Row>(rows: readonly R[], { column, direction }: Order): readonly R[] {
  const valueOf = values[column];
  const sign = direction === 'ascending' ? 1 : -1;
  return [...rows].sort((a, b) => sign * (valueOf(a) - valueOf(b)) || a.index - b.index);
}

/** The order after a press on a column's heading: the same column turns round, another one begins with the least. */
export const pressed = (order: Order, column: Column): Order => ({
  column,
  direction: order.column === column && order.direction === 'ascending' ? 'descending' : 'ascending',
});
