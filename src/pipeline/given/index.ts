export { fingerBothWays, fingerLine, type BothWays } from './finger';
export { labelGiven, type LabelledLine, type LabelledNote } from './labels';
export { readMidiLine, type MidiLine } from './midi';
export { isMidi } from './midi-events';
export { givenLimits, parseNotes, printNotes, type ReadNotes } from './notes';
export * from './patterns';
export { isAsPrinted, saysNothing, type PrintedPlace } from './printed';
export { readGivenLine, type FileNote, type GivenReading, type LineFrame } from './read';
export * from './types';
