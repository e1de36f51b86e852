export { inferKey, keyAreas, sectionKey } from './infer';
export {
  churchModeOf,
  fifthsOf,
  keyOfFifths,
  keyNotes,
  makeKey,
  nearerWay,
  noteAtFifths,
  parseKey,
  practicalKeys,
  printKey,
  sameKey,
  transposeKey,
  transpositionTo,
  type Transposition,
} from './key';
