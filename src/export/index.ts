export { chartToAbc } from './chart-abc';
export { toChat } from './chat-text';
export { chartToMusicXml } from './chart-musicxml';
export { countsToJson, countsToText, devicesToJson, devicesToText } from './devices';
export { chartToJson, toJson } from './json';
export { toMidi, type MidiOptions } from './midi';
export { toMusicXml, type MusicXmlOptions } from './musicxml';
export type { FingeredFor } from './player-json';
export type { PositionNamer, StringNames } from './position-marks';
export { usualSwing, type SwingRatio } from './swing-mark';
export { toText, type TextOptions } from './text';
export { wavFile } from './wav';
export {
  asJson,
  carriedObject,
  carriedToText,
  lessonObject,
  lessonToText,
  roundObject,
  roundToText,
  type ToldLesson,
} from './lessons';
