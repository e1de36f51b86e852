export { givenFingers, type GivenFinger, type GivenNote } from './given';
export {
  importFile,
  importKinds,
  importText,
  mostFileBytes,
  type ImportKind,
  type ImportReading,
} from './read';
