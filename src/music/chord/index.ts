export { plainText, type PlainText } from './characters';
export { longestSymbol, makeChord, parseChord, printChord } from './parse';
