export { givenFingers, type GivenFinger, type ImportedNote } from './given';
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
