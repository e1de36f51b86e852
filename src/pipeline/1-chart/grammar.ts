// Lines of tokens to bars. A sign that does not fit is told and left out; the rest of the chart still stands.
import type { Key, Meter } from '../../music';
import { BarList } from './bars';
import type { Diagnostics } from './diagnostics';
import { readDirective, speaksOfBars } from './directives';
import { spanOver } from './layout';
import type { CellToken, ChordParser } from './symbols';
import type { BarLineToken, BarsLine, LabelToken, ChartToken, WordToken } from './tokens';
import type { ChartBar, Span } from './types';
import { cleanName, findSign, isRehearsalLetter, isSectionName } from './words';

const mostInBar = 192;

const isPlain = ({ repeatEnd, repeatStart, double }: BarLineToken): boolean =>
  !repeatEnd && !repeatStart && !double;

/** Reads lines of bars one after another. */
export class BarReader {
  private readonly bars: BarList;
  /** What stands in the bar that is not closed yet. */
  private cell: CellToken[] = [];
  private isOverfull = false;
  private previous: ChartToken | undefined;

  constructor(
    meter: Meter,
    private readonly parse: ChordParser,
    private readonly problems: Diagnostics,
  ) {
    this.bars = new BarList(meter, parse, problems);
  }

  /** The meter from the next bar on. */
  setMeter(meter: Meter): void {
    this.bars.setMeter(meter);
  }

  /** The key from the next bar on. */
  setKey(key: Key): void {
    this.bars.setKey(key);
  }

  get hasBars(): boolean {
    return this.bars.count > 0;
  }

  /** Reads one line; its end closes a bar. */
  line({ tokens, span }: BarsLine): void {
    this.previous = undefined;
    this.bars.startLine();
    for (let index = 0; index < tokens.length; index += 1) {
      const token = tokens[index]!;
      if (token.kind === 'word') index += this.word(token, tokens, index) - 1;
      else this.token(token);
      this.previous = token;
    }
    this.closeCell();
    this.bars.endLine(span);
  }

  finish(): readonly ChartBar[] {
    return this.bars.finish();
  }

  private token(token: Exclude<ChartToken, WordToken>): void {
    switch (token.kind) {
      case 'bar line':
        this.barLine(token);
        break;
      case 'label':
        this.label(token);
        break;
      case 'directive':
        this.directive(token.text, token.span);
        break;
      case 'ending':
        this.closeCell();
        this.bars.startEnding(token.passes, token.span);
        break;
      case 'alternate':
        if (token.apart) this.problems.add('alternate-taken', token.span);
        this.add(token);
        break;
      case 'stray':
        this.problems.add('sign-unknown', token.span, { text: token.text });
    }
  }

  /** Takes a word, or the words of one sign; how many. */
  private word(token: WordToken, tokens: readonly ChartToken[], index: number): number {
    const run = tokens.slice(index, index + 5);
    const stop = run.findIndex((next) => next.kind !== 'word');
    const words = (stop < 0 ? run : run.slice(0, stop)) as WordToken[];
    const isFirst = this.cell.length === 0;
    const found = findSign(words);
    if (found !== undefined) {
      const span = spanOver(words.slice(0, found.words).map((word) => word.span))!;
      const opensRepeat = this.previous?.kind === 'bar line' && this.previous.repeatStart;
      if (found.sign.kind === 'times') this.bars.times(found.sign.times, span, !isFirst || opensRepeat);
      else this.bars.sign(found.sign, span, !isFirst);
      return found.words;
    }
    if (isFirst && isSectionName(token.text)) {
      const number = words[1] !== undefined && /^\d$/u.test(words[1].text) ? words[1] : undefined;
      const text = number === undefined ? token.text : `${token.text} ${number.text}`;
      this.label({ kind: 'label', text, sure: true, span: token.span });
      return number === undefined ? 1 : 2;
    }
    if (isFirst && /^\d{1,2}\/\d{1,2}$/u.test(token.text)) this.directive(token.text, token.span);
    else this.add(token);
    return 1;
  }

  /** Puts a word into the open bar; no bar needs more than {@link mostInBar}. */
  private add(token: CellToken): void {
    if (this.cell.length < mostInBar) this.cell.push(token);
    else if (!this.isOverfull) {
      this.isOverfull = true;
      this.problems.add('bar-signs', token.span, { most: mostInBar });
    }
  }

  private directive(text: string, span: Span): void {
    if (this.cell.length > 0 && !speaksOfBars(text)) {
      this.add({ kind: 'scale', text, span });
      return;
    }
    const read = readDirective(text, span, this.problems);
    if (read === undefined) return;
    if (this.cell.length > 0) {
      this.problems.add('change-in-bar', span, { text });
      this.closeCell();
    }
    if (read.kind === 'meter') this.bars.setMeter(read.meter);
    else if (read.kind === 'key') this.bars.setKey(read.key);
    else if (read.kind === 'bracket ends') this.bars.stopEnding();
    else this.bars.setPickup(span, read.beats);
  }

  /** Brackets hold a section name, or in a bar with chords the alternative of a chord. */
  private label(token: LabelToken): void {
    const { sure, span } = token;
    const text = cleanName(token.text);
    if (text === '') {
      this.problems.add('label-empty', span);
      return;
    }
    const isSection = isRehearsalLetter(text) || isSectionName(text);
    if (!sure && (this.cell.length > 0 || !isSection) && this.parse(text).kind === 'chord') {
      this.add(token);
      return;
    }
    this.closeCell();
    if (token.guessed) this.problems.add('letter-taken', span, { text });
    this.bars.startSection(text, span);
  }

  private barLine(token: BarLineToken): void {
    const before = this.previous;
    const isEmpty = before?.kind === 'bar line' && isPlain(before) && isPlain(token);
    if (isEmpty) {
      const length = token.span.column - before.span.column + 1;
      this.problems.add('bar-empty', { ...before.span, length });
      this.bars.push([], { ...before.span, length });
    } else this.closeCell();
    if (token.repeatEnd) this.bars.endRepeat(token.span);
    if (token.times !== undefined) {
      this.problems.add('repeat-colons', token.span, { times: token.times });
      this.bars.times(token.times, token.span, false);
    }
    const { last } = this.bars;
    if (token.double && last !== undefined) last.bar.doubleBar = true;
    if (token.repeatEnd || token.repeatStart) {
      this.bars.repeatSignInEnding(token.repeatEnd, token.repeatStart);
    }
    if (token.repeatStart) this.bars.startRepeat();
  }

  private closeCell(): void {
    const span = spanOver(this.cell.map((token) => token.span));
    if (span !== null) this.bars.push(this.cell, span);
    this.cell = [];
    this.isOverfull = false;
    this.bars.settleSigns();
  }
}
