export * from './1-chart';
export * from './2-timeline';
export * from './3-candidates';
export * from './5-line';
export * from './explain';
export * from './lessons';
export { keptOf } from './keep';
export { barMarks, placeKept } from './kept-bars';
export * from './pipeline';
export * from './plain-settings';
export { priceOf } from './prices';
export { emptyCaches, forgetSolved, cachesBeside, type Caches } from './setting';
export { pathCost, type Pass } from './4-solver';
export * from './types';
export {
  fingerBothWays,
  fingerLine,
  fingeringAims,
  givenLimits,
  isAsPrinted,
  isMidi,
  labelGiven,
  makePattern,
  ownFingerings,
  parseNotes,
  printNotes,
  readChartFile,
  readGivenLine,
  readMidiLine,
  saysNothing,
  patternDirections,
  patternFigures,
  patternReaches,
  patternScales,
  type BothWays,
  type FileNote,
  type FileReading,
  type FingeringAim,
  type GivenNote,
  type GivenReading,
  type GivenRequest,
  type GivenResult,
  type LabelledLine,
  type LabelledNote,
  type LineFrame,
  type MidiLine,
  type OwnFingering,
  type OwnLine,
  type OwnNote,
  type PatternDirection,
  type PatternFigure,
  type PatternReach,
  type PatternWish,
  type PrintedPlace,
} from './given';
