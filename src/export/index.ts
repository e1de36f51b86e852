export { chartToAbc } from './chart-abc';
export { chartToMusicXml } from './chart-musicxml';
export { chartToJson, toJson } from './json';
export { toMidi, type MidiOptions } from './midi';
export { toMusicXml, type MusicXmlOptions } from './musicxml';
export type { PositionNaming } from './position-marks';
export { usualSwing, type SwingRatio } from './swing-mark';
export { toText, type TextOptions } from './text';
export { wavFile } from './wav';
