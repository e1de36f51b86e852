// A bar of a chart on which nothing is written but its chords.
import type { ChartBar } from '../../src/pipeline';

export const plainBar: Omit<ChartBar, 'chords' | 'meter'> = {
  keyChange: null,
  section: null,
  repeatStart: false,
  repeatEnd: null,
  ending: null,
  segno: false,
  coda: false,
  toCoda: false,
  fine: false,
  jump: null,
  simile: null,
  pickup: false,
  doubleBar: false,
  span: null,
};
