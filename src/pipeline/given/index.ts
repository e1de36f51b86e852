export { fingerBothWays, fingerLine, type BothWays } from './finger';
export { givenLimits, parseNotes, type ReadNotes } from './notes';
export * from './patterns';
export * from './types';
