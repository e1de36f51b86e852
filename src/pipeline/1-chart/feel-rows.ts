// What a feel is, a row each. A feel without one does not compile; neither does one without its headings (shared/words),
// its figures (shared/rhythm), its leaning (shared/weights/wishes.json), its band (shared/band) or its word on the page.
import words from '../../../shared/words/feels.json' with { type: 'json' };
import type { Feel } from './types';

export interface FeelRow {
  /** Swung as bands do at the tempo, or even whatever the tempo. */
  readonly eighths: 'swung' | 'even';
  /** Where the bass plays in a bar: on every beat, once to a group of beats, or as a bossa in four (and on every beat elsewhere). */
  readonly moments: 'beats' | 'groups' | 'bossa';
  /** The chord tones that its bass keeps to; null where the line walks. */
  readonly confinedTo: 'root and fifth' | null;
}

/** Common practice, no source. */
export const feelRows: Readonly<Record<Feel, FeelRow>> = {
  swing: { eighths: 'swung', moments: 'beats', confinedTo: null },
  'two-feel': { eighths: 'swung', moments: 'groups', confinedTo: null },
  waltz: { eighths: 'swung', moments: 'beats', confinedTo: null },
  ballad: { eighths: 'swung', moments: 'beats', confinedTo: null },
  bossa: { eighths: 'even', moments: 'bossa', confinedTo: 'root and fifth' },
  straight: { eighths: 'even', moments: 'beats', confinedTo: null },
};

/** Whether a feel has even eighths, whatever the tempo and the swing asked for. */
export const isStraight = (feel: Feel): boolean => feelRows[feel].eighths === 'even';

/** Headings that name a feel; the first is the one we print. */
export const feelSpellings: Readonly<Record<Feel, readonly string[]>> = words.spellings;

/** The feel as it stands over the first bar. */
export const feelText = (feel: Feel): string => feelSpellings[feel][0]!;
