// The music of one voice to sketched bars.
import type { Chord, Key, Meter } from '../../../music';
import { barTicks, isSameMeter } from '../meter';
import { abcSymbols, annotationText, isAnnotation, overBass } from './abc-chords';
import { readKeyField, readMeterField, unitLength, usualUnit, withoutEscapes } from './abc-header';
import { endingStop, formWords, pastDouble, simileSign, startAfterDouble } from './abc-form';
import { AbcLine } from './abc-line';
import { AbcTime } from './abc-time';
import { abcTokens, type AbcToken } from './abc-tokens';
import { applySign, endingPasses, signOfWords } from './signs';
import type { ImportProblems } from './problems';
import { scaleInWords, sketchBar, type SketchBar, type SketchChord } from './sketch';
import type { Span } from '../types';

const mostBars = 20_000;

/** A symbol that waits for the note it stands over. */
type Waiting = Omit<SketchChord, 'tick'>;

export class AbcVoice {
  readonly bars: SketchBar[] = [];
  /** The notes of the voice, for whoever wants a line and not changes. */
  readonly line: AbcLine;
  private inOverlay = false;
  private unit: number;
  private bar: SketchBar | null = null;
  private time = new AbcTime();
  private waiting: Waiting[] = [];
  private before: Chord | null = null;
  /** The ending that goes on as far as the signs so far tell, and one that begins with the next bar. */
  private ending: readonly number[] | null = null;
  private opening: readonly number[] | null = null;
  private repeatsInEnding = false;
  private repeatStart = false;
  private goesPastDouble = false;
  private section: string | null = null;
  private keyChange: Key | null = null;
  private isFull = false;

  constructor(
    readonly name: string,
    private meter: Meter,
    unit: number | null,
    private readonly problems: ImportProblems,
  ) {
    this.unit = unit ?? usualUnit(meter);
    this.line = new AbcLine(problems);
  }

  /** One line of music. */
  music(text: string, line: number): void {
    for (const token of abcTokens(text, line)) this.token(token);
  }

  /** A field within the music, on a line of its own or in brackets. */
  field(letter: string, value: string, span: Span): void {
    if (letter === 'L') {
      const unit = unitLength(value);
      if (unit === undefined) this.problems.add('abc-length', span, { text: value });
      else this.unit = unit;
    } else if (letter === 'M') {
      const meter = readMeterField(value, span, this.problems);
      if (meter) this.setMeter(meter);
    } else if (letter === 'K') {
      const key = readKeyField(value, span, this.problems);
      if (key !== undefined) this.line.setKey(key);
      this.line.setSounding(value);
      if (key && this.bar) this.bar.keyChange = key;
      else if (key) this.keyChange = key;
    } else if (letter === 'P') {
      this.startSection(withoutEscapes(value));
    } else if (letter === 'I' && value === endingStop && this.bar) {
      this.bar.endingStops = 'closed';
    } else if (letter === 'I' && simileSign.test(value)) {
      this.open(span).simile = value.endsWith('2') ? 2 : 1;
    } else if (letter === 'I' && value === pastDouble) {
      this.goesPastDouble = true;
    }
  }

  finish(): readonly SketchBar[] {
    this.closeBar();
    return this.bars;
  }

  get chordCount(): number {
    return this.bars.reduce((sum, { chords }) => sum + chords.length, 0);
  }

  private get number(): string {
    return String(this.bars.length + 1);
  }

  private setMeter(meter: Meter): void {
    if (isSameMeter(meter, this.meter)) return;
    this.meter = meter;
    if (this.bar && this.time.cursor === 0) this.bar.meter = meter;
  }

  private startSection(name: string): void {
    this.stopEnding();
    if (this.bar && this.time.cursor === 0) this.bar.section = name;
    else this.section = name;
  }

  private stopEnding(): void {
    this.ending = null;
  }

  /** The bar that music now belongs to. */
  private open(span: Span): SketchBar {
    if (this.bar) return this.bar;
    this.bar = sketchBar(this.number, this.meter, span);
    this.bar.repeatStart = this.repeatStart;
    this.bar.section = this.section;
    this.bar.keyChange = this.keyChange;
    this.bar.opensEnding = this.opening;
    this.opening = null;
    this.repeatStart = false;
    this.section = null;
    this.keyChange = null;
    return this.bar;
  }

  private token(token: AbcToken): void {
    const { span } = token;
    switch (token.kind) {
      case 'text':
        return this.text(token.text, span);
      case 'field':
        return this.field(token.letter, token.value, span);
      case 'bar line':
        return this.barLine(token);
      case 'ending':
        return this.startEnding(token.numbers, span);
      case 'decoration':
        return this.decoration(token.name, span);
      case 'tuplet':
        return this.time.startTuplet(token, this.isCompound);
      case 'note':
        for (const text of token.inside) this.text(text, span);
        return this.note(token, span);
      case 'tie':
        return this.line.tie();
      case 'bars of rest':
        return this.barsOfRest(token.bars, span);
      case 'broken':
        return this.broken(token.strokes);
      case 'overlay':
        this.time.cursor = 0;
        this.inOverlay = true;
        return;
      case 'open quote':
        return this.problems.add('abc-quote', span);
      case 'stray':
        return this.problems.addOnce('abc-stray', span, { text: token.text });
    }
  }

  private get isCompound(): boolean {
    return this.meter.unit === 8 && this.meter.beats % 3 === 0;
  }

  private text(text: string, span: Span): void {
    if (isAnnotation(text)) this.annotation(annotationText(text), span);
    else for (const symbol of abcSymbols(text)) this.symbol(symbol, span);
  }

  private annotation(text: string, span: Span): void {
    const simile = text === '%' ? 1 : text === '%%' ? 2 : null;
    if (simile !== null) this.open(span).simile = simile;
    const scale = scaleInWords(text);
    if (scale !== undefined) this.open(span).scales.push({ tick: this.time.tick, text: scale });
    const sign = signOfWords(text);
    if (sign) applySign(sign, this.open(span), this.time.tick);
  }

  private symbol({ text, reading, isAlternate }: ReturnType<typeof abcSymbols>[number], span: Span): void {
    const bar = this.number;
    const wait = (chord: Chord | null, optional: boolean): void => {
      this.waiting.push({ chord, isAlternate: isAlternate || this.waiting.length > 0, optional, span });
      if (!isAlternate) this.before = chord;
    };
    this.open(span);
    if (reading.kind === 'no chord') wait(null, false);
    else if (reading.kind === 'chord') {
      for (const remark of reading.remarks) this.problems.addRemark(remark, span);
      wait(reading.chord, reading.optional);
    } else if (reading.kind === 'bass only') {
      const over = this.before && overBass(this.before, reading.bass);
      if (over) wait(over, false);
      else this.problems.add('chord-bass-alone', span, { bar, symbol: text });
    } else this.problems.add('chord-unread', span, { bar, symbol: text });
  }

  private decoration(name: string, span: Span): void {
    const words = formWords[name.toLowerCase()];
    const sign = words === undefined ? undefined : signOfWords(words);
    if (sign) applySign(sign, this.open(span), this.time.tick);
    else this.line.decoration(name);
  }

  private note({ units, pitches }: AbcToken & { readonly kind: 'note' }, span: Span): void {
    const bar = this.open(span);
    this.place(bar);
    const length = this.time.next(units, this.unit);
    if (pitches.length === 0) this.line.rest();
    else if (!this.inOverlay) this.line.note(pitches, this.time.cursor, length, bar, span);
    this.advance(bar, length);
  }

  private advance(bar: SketchBar, ticks: number): void {
    this.time.cursor += ticks;
    bar.length = Math.max(bar.length, this.time.tick);
  }

  private broken(strokes: number): void {
    this.line.stretch(this.time.breakRhythm(strokes));
    if (this.bar) this.bar.length = this.time.tick;
  }

  private barsOfRest(count: number, span: Span): void {
    for (let time = 0; time < Math.min(count, mostBars); time += 1) {
      if (time > 0) this.closeBar();
      const bar = this.open(span);
      this.place(bar);
      this.advance(bar, barTicks(this.meter));
    }
  }

  /** Puts the waiting symbols at the cursor. */
  private place(bar: SketchBar): void {
    const { tick } = this.time;
    bar.chords.push(...this.waiting.map((chord) => ({ ...chord, tick })));
    this.waiting = [];
  }

  private barLine({ times, repeatStart, double, span }: AbcToken & { readonly kind: 'bar line' }): void {
    const closesBar = this.bar !== null;
    this.line.barLine();
    this.closeBar();
    const last = this.bars.at(-1);
    if (last) {
      if (times > 0) {
        if (!this.goesPastDouble) startAfterDouble(this.bars, this.ending);
        this.goesPastDouble = false;
        last.repeatEnd = true;
        // Two is usual; more colons say how often.
        if (times > 2) last.times = times;
      }
      if (double) last.doubleBar = true;
      if (closesBar && last.endingStops !== null) this.ending = null;
    }
    // A repeat that was opened under the bracket closes itself; a double bar line may stand under it, too.
    if (times > 0 && !this.repeatsInEnding) this.stopEnding();
    if (times > 0 || repeatStart) this.repeatsInEnding = repeatStart && this.ending !== null;
    if (repeatStart) this.repeatStart = true;
    if (this.bars.length >= mostBars && !this.isFull) {
      this.isFull = true;
      this.problems.add('bars-many', span, { most: mostBars });
    }
  }

  private startEnding(numbers: string, span: Span): void {
    this.stopEnding();
    const passes = endingPasses(numbers);
    if (passes.length === 0) {
      this.problems.add('ending-unread', span, { bar: this.number, text: numbers });
      return;
    }
    this.ending = passes;
    this.repeatsInEnding = false;
    if (this.bar) this.bar.opensEnding = passes;
    else this.opening = passes;
  }

  /** Bars without music, between two bar lines that touch, do not count. */
  private closeBar(): void {
    const { bar, waiting } = this;
    if (bar === null) return;
    const isFilled = bar.length >= barTicks(bar.meter);
    if (bar.length === 0) {
      // Only symbols: they share the bar, so each has a place of its own.
      bar.chords = waiting.map((chord, tick) => ({ ...chord, isAlternate: false, tick }));
      this.waiting = [];
    } else if (!isFilled) {
      this.place(bar);
    }
    const isEmpty = bar.length === 0 && bar.chords.length === 0 && bar.simile === null;
    if (!isEmpty && this.bars.length < mostBars) this.bars.push(bar);
    this.bar = null;
    this.inOverlay = false;
    this.time = new AbcTime();
  }
}
