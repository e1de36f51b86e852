export { importProblem } from './import/problems';
export { goesOnUnder, repeatsInsideEnding } from './brackets';
export { problem } from './diagnostics';
export { feelRows, feelSpellings, feelText, isStraight, type FeelRow } from './feel-rows';
export {
  barTicks,
  beatGroups,
  beatTicks,
  beatsInBar,
  isSameMeter,
  meterText,
  parseMeter,
  shortTicks,
} from './meter';
export {
  decodeText,
  givenFingers,
  importFile,
  importText,
  isRefused,
  type ImportKind,
  type ImportReading,
} from './import';
export { printChart } from './print';
export { readChart } from './read';
export { withScale } from './rewrite';
export { keyOfChart, transposeChart } from './transpose';
export * from './types';
export { isClosingName, isIntroName, sectionsFor } from './words';
