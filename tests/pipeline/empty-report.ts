// The report on a hand that does nothing, for lines made by hand.
import { millimetres } from '../../src/music';
import type { HandReport } from '../../src/pipeline';

const noWay = { total: millimetres(0), mean: millimetres(0), longest: millimetres(0) };

export const emptyReport: HandReport = {
  beats: 0,
  byRegion: [],
  byPosition: [],
  bareShifts: 0,
  coveredShifts: 0,
  pivots: 0,
  stretches: 0,
  sameFingerShifts: 0,
  byArm: [],
  bareDistance: noWay,
  coveredDistance: noWay,
  holds: { relaxed: 0, comfortable: 0, practical: 0 },
  crossings: 0,
  heelJumps: 0,
  longestStay: null,
  hardestMove: null,
};
