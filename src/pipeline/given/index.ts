export { fingerBothWays, fingerLine, type BothWays } from './finger';
export { readMidiLine, type MidiLine } from './midi';
export { isMidi } from './midi-events';
export { givenLimits, parseNotes, type ReadNotes } from './notes';
export * from './patterns';
export * from './types';
