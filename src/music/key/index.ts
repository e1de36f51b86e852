export { inferKey, keyAreas } from './infer';
export {
  fifthsOf,
  keyNotes,
  makeKey,
  noteAtFifths,
  parseKey,
  practicalKeys,
  printKey,
  sameKey,
  transposeKey,
  transpositionTo,
  type Transposition,
} from './key';
