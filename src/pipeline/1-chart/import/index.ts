export { givenFingers, type GivenFinger, type GivenNote } from './given';
export { decodeText } from './bytes';
export {
  importFile,
  importKinds,
  importText,
  isRefused,
  mostFileBytes,
  type ImportKind,
  type ImportReading,
} from './read';
