// The bars of a chart as they are written one after another, and the signs that belong to them.
import type { Key, Meter } from '../../music';
import { readCell, type CellBar } from './cell';
import type { Diagnostics } from './diagnostics';
import { draftBar, type Ahead, type Draft } from './draft';
import { settleEndings } from './endings';
import { barTicks } from './meter';
import type { CellToken, ChordParser } from './symbols';
import type { ChartBar, ChartChord, Span } from './types';
import type { FormSign } from './words';

const mostBars = 20_000;
const mostTimes = 99;

interface CodaSign {
  readonly bar: number;
  readonly afterChord: boolean;
  readonly span: Span;
}

/** A chord that only goes on keeps the scale that was asked for it. */
function keepingScale(cell: CellBar, last: ChartChord | undefined): CellBar {
  const [first, ...others] = cell.chords;
  const goesOn = cell.simile === null && first?.span === null && first.chord === last?.chord;
  if (!goesOn || last?.scale === undefined) return cell;
  return { ...cell, chords: [{ ...first, scale: last.scale }, ...others] };
}

/** Collects bars. Signs said before a bar wait in `ahead`, signs that close a bar until it is closed. */
export class BarList {
  private readonly drafts: Draft[] = [];
  private ahead: Ahead = {};
  private aheadTimes: number | null = null;
  private closing: { sign: FormSign; span: Span }[] = [];
  private passes: readonly number[] | null = null;
  /** First bar of a repeat that was opened under the ending bracket and not closed yet; null when none was. */
  private repeatInEnding: number | null = null;
  /** The last bar before the endings that are being read. */
  private beforeEndings = -1;
  private readonly codas: CodaSign[] = [];
  private isFull = false;
  private isRepeatOpen = false;
  private lineStart = 0;
  /** Times said in this line for a repeat that has not closed. */
  private timesInLine: number | null = null;
  private timesSpan: Span | null = null;
  /** The word that opened a bracket which has not closed. */
  private bracket: Span | null = null;

  constructor(
    private meter: Meter,
    private readonly parse: ChordParser,
    private readonly problems: Diagnostics,
  ) {}

  get count(): number {
    return this.drafts.length;
  }

  get last(): Draft | undefined {
    return this.drafts.at(-1);
  }

  setMeter(meter: Meter): void {
    this.meter = meter;
  }

  setKey(key: Key): void {
    this.ahead.keyChange = key;
  }

  /** Only the first bar can be a pickup. */
  setPickup(span: Span, beats?: number): void {
    if (this.drafts.length === 0) {
      this.ahead.pickup = true;
      if (beats !== undefined) this.ahead.pickupBeats = beats;
    } else this.problems.add('pickup-late', span);
  }

  /** A section begins with the next bar; endings do not reach over it. */
  startSection(name: string, span: Span): void {
    if (this.ahead.section !== undefined)
      this.problems.add('label-twice', span, { text: this.ahead.section });
    this.ahead.section = name;
    this.passes = null;
    this.repeatInEnding = null;
    if (/^coda$/iu.test(name)) this.ahead.coda = true;
  }

  startRepeat(): void {
    this.ahead.repeatStart = true;
  }

  startLine(): void {
    this.lineStart = this.drafts.length;
    this.timesInLine = null;
  }

  /** A bracket closes in its line. A line that says how often it is played and has no repeat sign is repeated as a whole. */
  endLine(span: Span): void {
    const { last, timesInLine } = this;
    if (this.bracket !== null) this.problems.add('bracket-open', this.bracket);
    this.bracket = null;
    if (last === undefined) return;
    last.lineEnd = true;
    const isForNext = this.isRepeatOpen || this.ahead.repeatStart === true || this.passes !== null;
    if (timesInLine === null || isForNext || this.drafts.length === this.lineStart) return;
    if (this.drafts.slice(this.lineStart).some(({ bar }) => bar.repeatEnd !== null)) return;
    this.drafts[this.lineStart]!.bar.repeatStart = true;
    last.bar.repeatEnd = 2;
    last.times = timesInLine;
    this.aheadTimes = null;
    this.problems.add('line-repeated', span, { times: timesInLine });
  }

  /** A repeat closes with the last bar. */
  endRepeat(span: Span): void {
    const { last } = this;
    if (last === undefined) {
      this.problems.add('repeat-nothing', span);
      return;
    }
    this.tellOfDouble(span);
    this.isRepeatOpen = false;
    last.bar.repeatEnd = 2;
    last.times ??= this.aheadTimes;
    this.aheadTimes = null;
  }

  startEnding(passes: readonly number[], span: Span): void {
    this.leaveForRepeat(passes);
    // The same numbers again, nothing between: one ending whose sign was repeated.
    if (this.passes?.join() === passes.join()) return;
    const bar = this.last?.bar;
    // Closed and opened again for the same passes: the first of the two is the one that is played.
    if (bar?.ending?.join() === passes.join()) {
      this.problems.add('ending-twice', span);
      this.passes = null;
      return;
    }
    const followsEnding = bar !== undefined && bar.ending !== null && bar.repeatEnd !== null;
    const goesOn = this.passes !== null || followsEnding;
    if (!goesOn || passes.includes(1)) this.beforeEndings = this.drafts.length - 1;
    this.passes = passes;
    this.repeatInEnding = null;
  }

  /** The bracket ends before the next bar, whatever signs follow. */
  stopEnding(): void {
    this.passes = null;
    this.repeatInEnding = null;
  }

  /** A repeat that has a first ending of its own was not inside the ending before, which nothing had closed. */
  private leaveForRepeat(passes: readonly number[]): void {
    if (this.repeatInEnding === null || !passes.includes(1)) return;
    for (const { bar } of this.drafts.slice(this.repeatInEnding)) bar.ending = null;
    this.passes = null;
  }

  /** A repeat sign within an ending closes it, unless it belongs to a repeat that was opened there. */
  repeatSignInEnding(closes: boolean, opens: boolean): void {
    if (closes && this.repeatInEnding === null) this.passes = null;
    this.repeatInEnding = opens && this.passes !== null ? this.drafts.length : null;
  }

  /** @param afterChord the sign stands behind a chord in its bar */
  sign(sign: FormSign, span: Span, afterChord: boolean): void {
    if (sign.kind === 'segno') this.ahead.segno = true;
    else if (sign.kind === 'coda') {
      this.codas.push({ bar: this.drafts.length, afterChord, span });
      this.ahead.coda = true;
    } else this.closing.push({ sign, span });
  }

  /** "x3", for the repeat that has just closed or else for the next one. */
  times(times: number, span: Span, forNext: boolean): void {
    const wanted = Math.min(Math.max(times, 1), mostTimes);
    if (wanted !== times) this.problems.add('times-range', span, { times, most: mostTimes });
    const { last } = this;
    const isForLast = !forNext && last !== undefined && last.bar.repeatEnd !== null && last.times === null;
    if (isForLast) last.times = wanted;
    else {
      this.aheadTimes = wanted;
      this.timesInLine = wanted;
      this.timesSpan = span;
    }
  }

  /** A repeat that nothing opened goes back over double bar lines, which others read otherwise. */
  private tellOfDouble(span: Span): void {
    if (this.isRepeatOpen || this.passes !== null) return;
    const from = this.drafts.findLastIndex(({ bar }) => bar.repeatEnd !== null) + 1;
    const passed = this.drafts.slice(from, -1).some(({ bar }) => bar.doubleBar);
    if (passed) this.problems.add('repeat-past-double', span, { bar: from + 1 });
  }

  /** Adds what stands between two bar lines: one bar, or two for a two-bar simile. */
  push(tokens: readonly CellToken[], span: Span): void {
    if (this.drafts.length >= mostBars) {
      if (!this.isFull) this.problems.add('bars-many', span, { most: mostBars });
      this.isFull = true;
      return;
    }
    const { meter, parse, problems, bracket } = this;
    const pickup = this.ahead.pickup ?? false;
    const before = this.barsBefore();
    const last = before.at(-1)?.chords.at(-1);
    const previous = last?.chord;
    const { pickupBeats } = this.ahead;
    const context = { meter, pickup, pickupBeats, previous, bracket, before, span, parse, problems };
    for (const read of readCell(tokens, context)) {
      this.bracket = read.bracket;
      const cell = keepingScale(read, last);
      const length = cell.chords.reduce((sum, chord) => sum + chord.length, 0);
      if (pickup && length === barTicks(meter)) {
        problems.add('pickup-full', span);
        this.ahead.pickup = false;
      }
      if (this.ahead.repeatStart === true) this.isRepeatOpen = true;
      this.drafts.push(draftBar(cell, meter, this.ahead, this.passes, span));
      this.ahead = {};
    }
  }

  /** The two bars that sound before the next one: before any ending, those before the first ending. */
  private barsBefore(): readonly ChartBar[] {
    const opensEnding = this.passes !== null && this.last?.bar.ending !== this.passes;
    const end = opensEnding ? this.beforeEndings + 1 : this.drafts.length;
    return this.drafts.slice(Math.max(end - 2, 0), end).map(({ bar }) => bar);
  }

  /** Signs that close a bar belong to the bar they stand in or, in a place without chords, to the one before. */
  settleSigns(): void {
    const bar = this.last?.bar;
    for (const { sign, span } of this.closing) {
      if (bar === undefined) this.problems.add('sign-before-bars', span);
      else if (sign.kind === 'fine') bar.fine = true;
      else if (sign.kind === 'to coda') bar.toCoda = true;
      else if (sign.kind === 'jump') bar.jump = sign.jump;
    }
    this.closing = [];
  }

  /**
   * A chart has one coda, the last that is marked. Where the sign stands twice and nothing says "To Coda", the first is
   * the way out, as on a printed page.
   */
  private settleCodas(): void {
    const marked = this.drafts.flatMap(({ bar }, index) => (bar.coda ? [index] : []));
    const early = marked.slice(0, -1);
    if (early.length === 0) return;
    for (const index of early) this.drafts[index]!.bar.coda = false;
    const sign = this.codas.find(({ bar }) => bar === early[0]);
    const span = sign?.span ?? this.drafts[early[0]!]!.bar.span!;
    const way = sign && this.drafts[sign.afterChord ? sign.bar : sign.bar - 1]?.bar;
    if (early.length > 1 || way === undefined || this.drafts.some(({ bar }) => bar.toCoda)) {
      this.problems.add('coda-twice', span);
      return;
    }
    way.toCoda = true;
    this.problems.add('coda-sign-read', span);
  }

  finish(): readonly ChartBar[] {
    this.settleSigns();
    if (this.aheadTimes !== null)
      this.problems.add('times-unused', this.timesSpan!, { times: this.aheadTimes });
    this.settleCodas();
    settleEndings(this.drafts, this.problems);
    return this.drafts.map(({ bar }) => bar);
  }
}
