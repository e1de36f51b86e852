// What a band plays in one bar, before it is laid out in time.
import type { BandRows, Cell, CompCell, Ending, Hits, Lane, LeadIn } from './rows';

export interface BarPlan {
  readonly band: BandRows;
  readonly lanes: Readonly<Partial<Record<Lane, Cell>>>;
  readonly comping: CompCell;
  /** What leads out of this bar. */
  readonly leadIn: LeadIn | null;
  /** What the lead-in of the bar before lands on. */
  readonly landing: Hits;
  /** The tag before the last bar, and the last bar itself, where the line ends for good. */
  readonly tag: NonNullable<Ending['tag']> | null;
  readonly ending: Ending | null;
  /** Factor on the velocities. */
  readonly lift: number;
}
