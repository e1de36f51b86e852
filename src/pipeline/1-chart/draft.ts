// A bar while the text around it is still being read.
import type { Key, Meter } from '../../music';
import type { CellBar } from './cell';
import type { ChartBar, Span } from './types';

type Mutable<Whole> = { -readonly [Name in keyof Whole]: Whole[Name] };

/** A bar on its way, with what only the reading needs. */
export interface Draft {
  readonly bar: Mutable<ChartBar>;
  /** A line of the text ends after this bar. */
  lineEnd: boolean;
  /** Times typed beside the repeat sign. */
  times: number | null;
}

/** What has been said of a bar before its chords. */
export interface Ahead {
  section?: string;
  repeatStart?: boolean;
  segno?: boolean;
  coda?: boolean;
  keyChange?: Key;
  pickup?: boolean;
  /** Beats the pickup lasts, when that was said. */
  pickupBeats?: number;
}

/** A bar of these chords with what was said ahead of it. */
export function draftBar(
  cell: CellBar,
  meter: Meter,
  ahead: Ahead,
  ending: readonly number[] | null,
  span: Span,
): Draft {
  const bar: ChartBar = {
    chords: cell.chords,
    meter,
    keyChange: ahead.keyChange ?? null,
    section: ahead.section ?? null,
    repeatStart: ahead.repeatStart ?? false,
    repeatEnd: null,
    ending,
    segno: ahead.segno ?? false,
    coda: ahead.coda ?? false,
    toCoda: false,
    fine: false,
    jump: null,
    simile: cell.simile,
    pickup: ahead.pickup ?? false,
    doubleBar: false,
    span,
  };
  return { bar, lineEnd: false, times: null };
}
