// A chord symbol as it is set: root at full size, the rest raised, signs only where the symbol has accidentals.
import type { Chord } from '../music';
import { textWidth } from './glyphs';
import { typesetName } from './pitches';

/** A stretch of a symbol in one size. */
export interface ChordRun {
  readonly text: string;
  readonly raised: boolean;
}

/** Size of raised text over the size of the symbol. */
export const raisedSize = 0.74;
/** How far raised text stands above the base line, in em of the symbol. */
export const raisedBy = 0.25;
/** Space before raised text, in em of the symbol: without it a sharp or flat would touch. */
export const raisedGap = 0.06;

/** Words for the kind of chord that stay on the base line, as our own spelling of symbols has them. */
const qualities = /^(?:dim|aug|m(?!aj))/;

/**
 * Only a sign before a figure is an accidental: the b of "Bb7(b9)" after the root, never the b of a word. Sixth and ninth
 * stand on either side of a stroke, as the trade writes them.
 */
const typesetFigures = (text: string): string =>
  text
    .replace(/^69/, '6/9')
    .replace(/b(?=\d)/g, '♭')
    .replace(/#(?=\d)/g, '♯');

/** The runs of a symbol; null is N.C. */
export function chordRuns(chord: Chord | null): readonly ChordRun[] {
  if (chord === null) return [{ text: 'N.C.', raised: false }];
  const bass = chord.bass === null ? '' : `/${chord.bass}`;
  const hasBass = bass !== '' && chord.symbol.endsWith(bass);
  const body = hasBass ? chord.symbol.slice(0, -bass.length) : chord.symbol;
  const kind = body.startsWith(chord.root) ? body.slice(chord.root.length) : body;
  const quality = qualities.exec(kind)?.[0] ?? '';
  const runs: ChordRun[] = [{ text: typesetName(chord.root) + quality, raised: false }];
  const rest = typesetFigures(kind.slice(quality.length));
  if (rest !== '') runs.push({ text: rest, raised: true });
  if (hasBass && chord.bass !== null) runs.push({ text: `/${typesetName(chord.bass)}`, raised: false });
  return runs;
}

/** Width of a symbol in pixels at a font size in pixels. */
export const chordWidth = (runs: readonly ChordRun[], size: number): number =>
  runs.reduce(
    (sum, { text, raised }) =>
      sum + (raised ? raisedGap * size : 0) + textWidth(text, size * (raised ? raisedSize : 1), 'serif'),
    0,
  );
