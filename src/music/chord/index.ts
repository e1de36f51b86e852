export { plainText, type PlainText } from './characters';
export { displayChord, displayNote, spokenNote, type DisplayChord, type DisplayNote } from './display';
export {
  chordFromMusicXml,
  degreeTypes,
  musicXmlKind,
  type DegreeType,
  type XmlDegree,
  type XmlHarmony,
  type XmlKind,
} from './musicxml';
export { longestSymbol, makeChord, parseChord, printChord } from './parse';
export { transposeChord, transposeRoot } from './transpose';
