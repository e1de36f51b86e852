// Reads the root of a symbol, where one letter b may be a flat root, a flat degree or a note.
import type { NoteName } from '../tonal';

/** What is uncertain about a root. */
export type RootDoubt = 'chord-lower-case' | 'chord-b-root' | 'chord-root-double' | 'chord-root-alteration';

export interface RootReading {
  readonly root: NoteName;
  /** Place after the root in the text. */
  readonly end: number;
  readonly doubts: readonly RootDoubt[];
}

/** "B flat 7", "Bflat7", "B-flat 7"; "C-flat5" is C minor, flat five. */
const wordAccidental = /(?: *|-(?!\w+ *5))(flat|sharp)(?![a-z])/iy;
/** Degrees that two accidentals before them are shared with: "Abb5" is A flat, flat five. */
const sharedDegree: Readonly<Record<string, RegExp>> = { b: /5|9|13/y, '#': /5|9|11/y };

function countRun(text: string, start: number, letter: string): number {
  let end = start;
  while (text[end] === letter) end += 1;
  return end - start;
}

/** Null when the text has no letter A to G there; 'triple' when three accidentals follow it. */
export function readRoot(text: string, start: number): RootReading | 'triple' | null {
  const typed = text[start];
  if (typed === undefined || !/[a-g]/i.test(typed)) return null;
  const letter = typed.toUpperCase();
  const doubts: RootDoubt[] = typed === letter ? [] : [typed === 'b' ? 'chord-b-root' : 'chord-lower-case'];
  let place = start + 1;
  if (text[place] === 'n') {
    // A natural sign says what the letter says; "no" is a word.
    if (text[place + 1] !== 'o' && text[place + 1] !== 'O') place += 1;
  }
  wordAccidental.lastIndex = place;
  const word = wordAccidental.exec(text);
  if (word) {
    const sign = word[1]!.toLowerCase() === 'flat' ? 'b' : '#';
    return {
      root: `${letter}${sign}` as NoteName,
      end: wordAccidental.lastIndex,
      doubts: plainDoubts(doubts),
    };
  }
  const sign = text[place];
  if (sign !== 'b' && sign !== '#') return { root: letter as NoteName, end: place, doubts };
  const count = countRun(text, place, sign);
  if (count > 2) return 'triple';
  if (count === 2) {
    const shared = sharedDegree[sign]!;
    shared.lastIndex = place + 2;
    if (shared.test(text)) {
      const all: RootDoubt[] = [...plainDoubts(doubts), 'chord-root-alteration'];
      return { root: `${letter}${sign}` as NoteName, end: place + 1, doubts: all };
    }
    doubts.push('chord-root-double');
  }
  return {
    root: `${letter}${sign.repeat(count)}` as NoteName,
    end: place + count,
    doubts: plainDoubts(doubts),
  };
}

/** A lower-case b with a flat after it can only be a root. */
const plainDoubts = (doubts: readonly RootDoubt[]): RootDoubt[] =>
  doubts.map((doubt) => (doubt === 'chord-b-root' ? 'chord-lower-case' : doubt));

const bareNote = /^ *([A-G])(##?|bb?|n|[ -]*flat|[ -]*sharp)?(?: +bass)?[ )\]}]*$/i;

/** The note name when the text is a note name and nothing else, in either case. */
export function bareNoteName(text: string): NoteName | null {
  const match = bareNote.exec(text);
  if (!match) return null;
  const sign = (match[2] ?? '').replace(/[ -]/g, '').toLowerCase();
  const plain = sign === 'flat' ? 'b' : sign === 'sharp' ? '#' : sign === 'n' ? '' : sign;
  return `${match[1]!.toUpperCase()}${plain}` as NoteName;
}
