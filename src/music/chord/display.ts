// A chord as it is set on the page and as it is spoken.
import { alterationOf, letterOf, type NoteName } from '../tonal';
import type { Chord } from '../types';
import { formulaOf } from './assemble';
import { describe } from './describe';
import { suffixParts, type SuffixParts } from './print';

/** A note name on the page: the letter, and ♭ ♯ or nothing. */
export interface DisplayNote {
  readonly letter: string;
  readonly accidental: string;
}

/** The parts of a chord symbol for engraving. Only accidentals are turned into signs; text is never guessed at. */
export interface DisplayChord {
  readonly root: DisplayNote;
  /** "m", "maj", "dim", "aug", "mMaj" or nothing; on the line of the root. */
  readonly quality: string;
  /** Raised: "7", "7♭5", "7(♭9, ♯11)", "7sus4". */
  readonly extension: string;
  readonly bass: DisplayNote | null;
  /** All of it in one line: "B♭m7♭5/A♭". */
  readonly text: string;
  /** For a screen reader: "B flat minor 7 flat 5 over A flat". */
  readonly spoken: string;
}

const signs: Readonly<Record<number, string>> = { [-2]: '𝄫', [-1]: '♭', 0: '', 1: '♯', 2: '𝄪' };
const words: Readonly<Record<number, string>> = {
  [-2]: ' double flat',
  [-1]: ' flat',
  0: '',
  1: ' sharp',
  2: ' double sharp',
};

/** A note name with proper signs. */
export const displayNote = (name: NoteName): DisplayNote => ({
  letter: letterOf(name),
  accidental: signs[alterationOf(name)]!,
});

/** "B flat". */
export const spokenNote = (name: NoteName): string => `${letterOf(name)}${words[alterationOf(name)]!}`;

/** In the pieces that the printer wrote, every b and # before a digit is an accidental. */
const typeset = (piece: string): string => piece.replace(/b(?=[b\d])/g, '♭').replace(/#/g, '♯');
const speak = (piece: string): string => piece.replace(/b(?=[b\d])/g, 'flat ').replace(/#/g, 'sharp ');

function extensionOf({ quality, extension, alterations, changes }: SuffixParts): string {
  const tensions = [...alterations, ...changes].map(typeset);
  const head = typeset(extension);
  if (tensions.length === 0) return head;
  const isAlone = alterations.length === 0 && tensions.length === 1 && head === '';
  const isPlain = tensions.length === 1 && changes.length === 0 && `${quality}${head}` !== '';
  return isAlone || isPlain ? `${head}${tensions[0]!}` : `${head}(${tensions.join(', ')})`;
}

const qualityWords: Readonly<Record<string, string>> = {
  '': '',
  m: 'minor',
  maj: 'major',
  mMaj: 'minor major',
  dim: 'diminished',
  dimMaj: 'diminished major',
  aug: 'augmented',
};

function spokenSuffix({ quality, extension, alterations, changes }: SuffixParts): string {
  const isTriad = quality === '' && extension === '' && changes.length === 0;
  const number = extension === '69' ? '6 9' : extension === '5' ? 'power chord' : extension;
  return [
    isTriad ? 'major' : qualityWords[quality]!,
    speak(
      number
        .replace(/sus/g, ' suspended ')
        .replace(/alt/, ' altered')
        .replace('suspended 24', 'suspended 2 4'),
    ),
    ...alterations.map(speak),
    ...changes.map((change) => speak(change.replace('add', 'add ').replace('no', 'no '))),
  ].join(' ');
}

const tidy = (text: string): string => text.replace(/ +/g, ' ').trim();

/** The parts of a chord symbol, from what the chord is and not from what was typed. */
export function displayChord(chord: Chord): DisplayChord {
  const parts = suffixParts(describe(formulaOf(chord)));
  const root = displayNote(chord.root);
  const bass = chord.bass === null ? null : displayNote(chord.bass);
  const extension = extensionOf(parts);
  const over = bass === null ? '' : `/${bass.letter}${bass.accidental}`;
  const spokenBass = chord.bass === null ? '' : ` over ${spokenNote(chord.bass)}`;
  return {
    root,
    quality: parts.quality,
    extension,
    bass,
    text: `${root.letter}${root.accidental}${parts.quality}${extension}${over}`,
    spoken: tidy(`${spokenNote(chord.root)} ${spokenSuffix(parts)}${spokenBass}`),
  };
}
