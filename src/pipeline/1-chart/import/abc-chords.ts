// Quoted texts over ABC music: chord symbols with their alternatives, and annotations.
import { parseChord, type Chord, type ChordReading } from '../../../music';

/** A chord symbol, or the first of several with what may be played instead. */
export interface AbcSymbol {
  readonly text: string;
  readonly reading: ChordReading;
  readonly isAlternate: boolean;
}

/** Annotations begin with the place where they are set. */
export const isAnnotation = (text: string): boolean => /^[\^_<>@]/.test(text);

/** The text of an annotation without its place. */
export const annotationText = (text: string): string => text.replace(/^(?:[\^_<>]|@[\d.,\s-]*)/, '').trim();

/** `G(Em)`: a chord and, in brackets, another one. */
const bracketed = /^([^()]+)\(([A-G][^()]*)\)$/;

/** The symbols of one quoted text, the main one first. */
export function abcSymbols(text: string): AbcSymbol[] {
  const parts = text.split(/[;\n]/).map((part) => part.trim());
  return parts.filter(Boolean).flatMap((part, index): AbcSymbol[] => {
    const reading = parseChord(part);
    const pair = reading.kind === 'refused' ? bracketed.exec(part) : null;
    if (!pair) return [{ text: part, reading, isAlternate: index > 0 }];
    return [pair[1]!, pair[2]!].map((one, place) => ({
      text: one,
      reading: parseChord(one.trim()),
      isAlternate: index + place > 0,
    }));
  });
}

/** The chord before, over another bass. */
export function overBass(before: Chord, bass: string): Chord | null {
  const symbol =
    before.bass === null ? before.symbol : before.symbol.slice(0, before.symbol.lastIndexOf('/'));
  const reading = parseChord(`${symbol}/${bass}`);
  return reading.kind === 'chord' ? reading.chord : null;
}
