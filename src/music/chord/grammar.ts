// The grammar of what follows the root. Pieces may come in any order and with any punctuation between them; each either
// adds to the draft or is refused where it stands. One pass, no backtracking.
import { SpecDraft, type SuffixFault } from './draft';
import type { Token } from './lexer';
import type { Base, ChordSpec, Top } from './spec';

/** What could not be read, and which token stands there; undefined at the end. */
export interface Refusal {
  readonly fault: SuffixFault;
  readonly token: Token | undefined;
}

export interface SuffixReading {
  readonly spec: ChordSpec;
  readonly refusal: Refusal | null;
  /** A triangle with nothing after it. */
  readonly isBareTriangle: boolean;
  /** A bracket was left open. */
  readonly isOpen: boolean;
}

/** What a number that follows belongs to. */
type Listing = 'none' | 'suspended' | 'add' | 'omit';

const separators = new Set(['open', 'close', 'comma', 'slash', 'blank']);
const isSeparator = (token: Token | undefined): boolean => token !== undefined && separators.has(token.kind);
const isTop = (number: number | null): number is Exclude<Top, 0> =>
  number === 7 || number === 9 || number === 11 || number === 13;

class SuffixReader {
  private readonly draft = new SpecDraft();
  private place = 0;
  /** Nothing but punctuation so far. */
  private isFresh = true;
  /** A bracket, comma or slash stands before this piece. */
  private isApart = false;
  private isBareTriangle = false;
  private listing: Listing = 'none';
  private isNumberOwed = false;
  private isSuspensionOwed = false;
  /** Places of the brackets that are open. */
  private readonly openings: number[] = [];

  constructor(private readonly tokens: readonly Token[]) {}

  read(): SuffixReading {
    let refusal: Refusal | null = null;
    while (refusal === null && this.place < this.tokens.length) {
      const token = this.tokens[this.place]!;
      this.place += 1;
      const fault = this.take(token);
      if (fault !== null) refusal = { fault, token };
    }
    if (refusal === null && this.isNumberOwed) refusal = { fault: 'chord-number-missing', token: undefined };
    this.closeSuspension();
    return {
      spec: this.draft.finished(),
      refusal,
      isBareTriangle: this.isBareTriangle,
      isOpen: this.openings.length > 0,
    };
  }

  private take(token: Token): SuffixFault | null {
    if (isSeparator(token)) return this.takeSeparator(token);
    const fault = this.takePiece(token);
    this.isFresh = false;
    this.isApart = false;
    return fault;
  }

  private takePiece(token: Token): SuffixFault | null {
    if (token.kind === 'number') return this.takeNumber(token.number);
    if (token.kind === 'accidental') return this.takeAccidental(token.alter);
    if (token.kind === 'plus' || token.kind === 'minus') return this.takeSign(token.kind);
    return this.takeWord(token);
  }

  private takeSeparator(token: Token): SuffixFault | null {
    if (token.kind === 'open') this.openings.push(this.place);
    if (token.kind === 'close') {
      const opening = this.openings.pop();
      if (opening === undefined || opening === this.place - 1) return 'chord-bracket';
    }
    if (token.kind !== 'blank') this.isApart = true;
    return null;
  }

  /** Consumes the next token when it is a number, blanks between allowed. */
  private followingNumber(): number | null {
    let next = this.place;
    while (this.tokens[next]?.kind === 'blank') next += 1;
    const token = this.tokens[next];
    if (token?.kind !== 'number') return null;
    this.place = next + 1;
    return token.number;
  }

  private adjacentNumber(): number | null {
    const token = this.tokens[this.place];
    return token?.kind === 'number' ? token.number : null;
  }

  private closeSuspension(): void {
    if (this.isSuspensionOwed) this.draft.suspend('4P');
    this.isSuspensionOwed = false;
  }

  private takeNumber(number: number): SuffixFault | null {
    const isOwed = this.isNumberOwed;
    this.isNumberOwed = false;
    if (this.listing === 'omit' && (isOwed || (this.isApart && (number === 3 || number === 5)))) {
      return this.draft.omit(number);
    }
    if (this.listing === 'add' && (isOwed || number > 7 || number === 2 || number === 4)) {
      return this.draft.add({ degree: number, alter: 0 });
    }
    if (this.listing === 'suspended') {
      const isEleven = number === 11 && this.draft.spec.top >= 7;
      if (number === 2 || number === 4 || isEleven) {
        this.isSuspensionOwed = false;
        return this.draft.suspend(number === 2 ? '2M' : '4P');
      }
      this.closeSuspension();
    }
    this.listing = 'none';
    return this.draft.number(number, this.isFresh, this.isApart);
  }

  private takeAccidental(alter: number): SuffixFault | null {
    const number = this.followingNumber();
    if (number === null || (this.listing === 'omit' && this.isNumberOwed)) return 'chord-number-missing';
    if (this.listing === 'add' && this.isNumberOwed) {
      this.isNumberOwed = false;
      return this.draft.add({ degree: number, alter });
    }
    if (this.isSuspensionOwed && ((number === 4 && alter === 1) || (number === 2 && alter === -1))) {
      this.isSuspensionOwed = false;
      return this.draft.suspend(number === 4 ? '4A' : '2m');
    }
    this.closeSuspension();
    this.listing = 'none';
    return this.draft.alter(number, alter);
  }

  /** Plus and minus are signs of quality after the root, and sharps and flats before a number elsewhere. */
  private takeSign(sign: 'plus' | 'minus'): SuffixFault | null {
    const number = this.adjacentNumber();
    if (this.isFresh && !this.altersFresh(sign, number)) {
      // "C+2" adds a tone in some charts and raises one in others.
      if (sign === 'plus' && number === 2) return 'chord-alteration';
      this.draft.base = sign === 'plus' ? 'augmented' : 'minor';
      return null;
    }
    if (number !== null) return this.takeAccidental(sign === 'plus' ? 1 : -1);
    if (this.isNumberOwed) return 'chord-number-missing';
    this.listing = 'none';
    if (sign === 'plus') return this.draft.alter(5, 1);
    // A hyphen between two pieces, as in "Cm7-b5".
    const next = this.tokens[this.place]?.kind;
    const joins = next !== undefined && !separators.has(next) && next !== 'plus' && next !== 'minus';
    return joins ? null : 'chord-unknown';
  }

  /** "C-5" and "C+11" alter a degree of the triad, as "C(+9)" does; "C-7" and "C+7" do not. */
  private altersFresh(sign: 'plus' | 'minus', number: number | null): boolean {
    if (this.isApart && (number === 5 || number === 9 || number === 13)) return true;
    return sign === 'minus' ? number === 5 : number === 4 || number === 11;
  }

  private takeWord(token: Token): SuffixFault | null {
    if (this.isNumberOwed) {
      // "add maj7" is the one word after "add".
      const isSeventh = this.listing === 'add' && token.kind === 'major' && this.followingNumber() === 7;
      if (!isSeventh) return 'chord-number-missing';
      this.isNumberOwed = false;
      return this.draft.add({ degree: 7, alter: 1 });
    }
    this.closeSuspension();
    this.listing = 'none';
    switch (token.kind) {
      case 'major':
      case 'triangle':
        return this.takeMajor(token.kind === 'triangle');
      case 'minor':
        return this.takeBase('minor');
      case 'dominant':
        return this.takeDominant();
      case 'diminished':
      case 'augmented':
        return this.isFresh ? this.takeBase(token.kind) : this.takeFifthWord(token.kind);
      case 'halfDiminished':
        return this.takeHalfDiminished();
      case 'suspended':
        this.listing = 'suspended';
        this.isSuspensionOwed = true;
        return null;
      case 'add':
      case 'omit':
        this.listing = token.kind;
        this.isNumberOwed = true;
        return null;
      case 'altered':
        if (this.draft.base !== null && this.draft.base !== 'major') return 'chord-two-qualities';
        this.draft.spec.altered = true;
        return this.draft.stack(7, false);
      case 'mode':
        return this.takeMode(token);
      default:
        return 'chord-unknown';
    }
  }

  private takeBase(base: Base): SuffixFault | null {
    if (!this.isFresh) return 'chord-two-qualities';
    this.draft.base = base;
    return null;
  }

  private takeDominant(): SuffixFault | null {
    if (!this.isFresh) return 'chord-two-qualities';
    const number = this.followingNumber();
    if (number !== null && !isTop(number)) return 'chord-number';
    return this.draft.stack(number ?? 7, false);
  }

  private takeHalfDiminished(): SuffixFault | null {
    if (!this.isFresh) return 'chord-two-qualities';
    this.draft.makeHalfDiminished();
    const number = this.followingNumber();
    if (number !== null && !isTop(number)) return 'chord-number';
    return number === null ? null : this.draft.stack(number, false);
  }

  /** After other pieces "dim" and "aug" say how a degree is altered: "C7aug", "C7dim5". */
  private takeFifthWord(word: 'diminished' | 'augmented'): SuffixFault | null {
    const number = this.followingNumber();
    if (number === null && word === 'diminished') return 'chord-two-qualities';
    if (number === 7 || number === 6) return 'chord-two-qualities';
    return this.draft.alter(number ?? 5, word === 'augmented' ? 1 : -1);
  }

  /** "maj" before a number says which seventh; after another quality or a seventh it says so by itself. */
  private takeMajor(isTriangle: boolean): SuffixFault | null {
    const { draft } = this;
    const number = this.followingNumber();
    if (isTop(number)) return draft.stackMajor(number);
    if (this.isFresh) draft.base = 'major';
    if (number !== null) return draft.number(number, this.isFresh, false);
    if (isTriangle) {
      this.isBareTriangle = this.isFresh && this.place === this.tokens.length;
      return draft.stack(7, true);
    }
    if (!this.isFresh) return draft.spec.six ? null : draft.stack(7, true);
    draft.isMajorPending = true;
    return null;
  }

  private takeMode(token: Token & { kind: 'mode' }): SuffixFault | null {
    const { draft } = this;
    const isAlone = draft.base === null && draft.spec.top === 0;
    if (isAlone && !this.isFresh) return 'chord-two-qualities';
    return draft.merge(new SuffixReader(isAlone ? token.alone : token.after).read().spec, isAlone);
  }
}

/** Reads what follows the root. Total and linear; a refusal names the token at which reading stopped. */
export const readSuffix = (tokens: readonly Token[]): SuffixReading => new SuffixReader(tokens).read();
