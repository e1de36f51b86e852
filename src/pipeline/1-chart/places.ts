// The symbols of one bar read as chords, each with the room its slashes and dots give it.
import {
  nearestScaleNames,
  parseScaleName,
  type Chord,
  type ChordReading,
  type ScaleName,
} from '../../music';
import type { Diagnostics } from './diagnostics';
import { spanWithin, type CellItem, type ChordParser, type SymbolWord } from './symbols';
import type { Span } from './types';

/** A chord on its way into a bar. */
export interface ChordPlace {
  /** Null for N.C.; undefined when the chord before goes on. */
  readonly chord: Chord | null | undefined;
  readonly alternates: readonly Chord[];
  readonly optional: boolean;
  readonly scale?: ScaleName;
  readonly span: Span;
  /** Beats, and short notes (see `shortTicks`), that it lasts when the bar is written beat by beat. */
  readonly beats: number;
  readonly shorts: number;
  /** How many of the beats are the symbol's own, not its slashes': 1, or 0 where there is no symbol. */
  readonly own: number;
  /** Beats from the beginning of the bar to where it begins, when it says so itself. */
  readonly beat?: number;
  /** Of the words that say so. */
  readonly beatSpan?: Span;
}

export interface Places {
  readonly places: readonly ChordPlace[];
  /** True when slashes or dots say where the beats are; else chords share the bar. */
  readonly byBeat: boolean;
  /** True when a place of its own stands at some of the chords. */
  readonly byPlace: boolean;
  /** The word that opened a bracket which has not closed; null when none is open. */
  readonly bracket: Span | null;
}

const newPlace = (chord: ChordPlace['chord'], span: Span, optional = false): ChordPlace => ({
  chord,
  alternates: [],
  optional,
  span,
  beats: 1,
  shorts: 0,
  own: 1,
});

/** Only what begins like a chord takes room when it cannot be read; a stray word does not push chords about. */
const takesRoom = (text: string): boolean => /^[([]*[A-G]/u.test(text) || /^[a-g][#b♯♭]?[\dm]/u.test(text);

/** The chord with another bass: what "/E" after it means. */
function onBass(chord: Chord, bass: string, parse: ChordParser): Chord | undefined {
  const above = chord.bass === null ? chord.symbol : chord.symbol.slice(0, -chord.bass.length - 1);
  const parsed = parse(`${above}/${bass}`);
  return parsed.kind === 'chord' ? parsed.chord : undefined;
}

class PlaceReader {
  readonly places: ChordPlace[] = [];
  byBeat = false;
  byPlace = false;
  private alternateNext = false;

  constructor(
    private readonly previous: Chord | null | undefined,
    public bracket: Span | null,
    private readonly parse: ChordParser,
    private readonly problems: Diagnostics,
  ) {}

  read(item: CellItem): void {
    switch (item.kind) {
      case 'slash':
      case 'dot':
        this.mark(item.kind, item.span, item.kind === 'slash' && item.short);
        break;
      case 'alternate':
        this.alternateNext = this.places.length > 0;
        break;
      case 'place':
        this.byPlace = true;
        if (this.places.length === 0)
          this.problems.add('place-without-chord', item.span, { text: item.text });
        else this.changeLast((place) => ({ ...place, beat: item.beat, beatSpan: item.span }));
        break;
      case 'scale':
        this.scale(item.text, item.span);
        break;
      case 'label':
        this.bracketed({
          kind: 'symbol',
          text: item.text,
          span: item.span,
          pieces: [{ at: 0, column: item.span.column + 1 }],
        });
        break;
      case 'symbol':
        this.symbol(item);
    }
  }

  private changeLast(change: (place: ChordPlace) => ChordPlace): void {
    const last = this.places.at(-1);
    if (last !== undefined) this.places[this.places.length - 1] = change(last);
  }

  private mark(kind: 'slash' | 'dot', span: Span, short: boolean): void {
    this.byBeat = true;
    if (kind === 'dot') {
      this.changeLast((place) =>
        place.beats > 0 ? { ...place, beats: place.beats - 1, shorts: place.shorts + 1, own: 0 } : place,
      );
      return;
    }
    if (this.places.length === 0)
      this.places.push({ ...newPlace(undefined, span), beats: short ? 0 : 1, shorts: short ? 1 : 0, own: 0 });
    else {
      this.changeLast((place) =>
        short ? { ...place, shorts: place.shorts + 1 } : { ...place, beats: place.beats + 1 },
      );
    }
  }

  /** The scale of the chord before it; a root in front of the name may only be that chord's own. */
  private scale(text: string, span: Span): void {
    const chord = this.places.at(-1)?.chord;
    if (!chord) {
      this.problems.add('scale-without-chord', span, { text });
      return;
    }
    const bare = text.startsWith(`${chord.root} `) ? text.slice(chord.root.length + 1) : text;
    const scale = parseScaleName(bare);
    if (scale !== undefined) this.changeLast((place) => ({ ...place, scale }));
    else {
      const [first = '', second = ''] = nearestScaleNames(bare, 2);
      this.problems.add('scale-unknown', span, { text, first, second });
    }
  }

  /** A chord in square brackets after another is its alternative, and by itself an optional chord. */
  private bracketed(symbol: SymbolWord): void {
    if (this.places.length > 0) {
      this.alternateNext = true;
      this.symbol(symbol);
      return;
    }
    const parsed = this.parse(symbol.text);
    if (parsed.kind === 'chord') this.places.push(newPlace(parsed.chord, symbol.span, true));
    else this.refuse(parsed, symbol);
  }

  private symbol(symbol: SymbolWord): void {
    const { inner, opens, closes } = this.unbracketed(symbol);
    if (opens) this.bracket ??= symbol.span;
    if (closes && this.bracket === null)
      this.problems.add('bracket-nothing', symbol.span, { text: inner.text });
    const parsed = this.parse(inner.text);
    if (this.alternateNext) this.alternate(parsed, inner);
    else this.place(parsed, inner);
    if (closes) this.bracket = null;
  }

  /** "(Gm7 C7)" is two words with a bracket that opens in one and closes in the other. */
  private unbracketed(symbol: SymbolWord): { inner: SymbolWord; opens: boolean; closes: boolean } {
    const { text } = symbol;
    const whole = { inner: symbol, opens: false, closes: false };
    if (this.parse(text).kind !== 'refused') return whole;
    const opens = text.startsWith('(') && !text.includes(')');
    const closes = text.endsWith(')') && !text.includes('(');
    if (!opens && !closes) return whole;
    const from = opens ? 1 : 0;
    const pieces = symbol.pieces.map(({ at, column }) =>
      at === 0 ? { at, column: column + from } : { at: at - from, column },
    );
    const inner = { ...symbol, text: text.slice(from, closes ? -1 : undefined), pieces };
    return { inner, opens, closes };
  }

  private alternate(parsed: ChordReading, symbol: SymbolWord): void {
    this.alternateNext = false;
    if (parsed.kind !== 'chord') {
      this.refuse(parsed, symbol);
      return;
    }
    this.remark(parsed, symbol);
    this.changeLast((place) => ({ ...place, alternates: [...place.alternates, parsed.chord] }));
  }

  private place(parsed: ChordReading, symbol: SymbolWord): void {
    const { span } = symbol;
    switch (parsed.kind) {
      case 'chord':
        this.remark(parsed, symbol);
        this.places.push(newPlace(parsed.chord, span, parsed.optional || this.bracket !== null));
        break;
      case 'no chord':
        this.places.push(newPlace(null, span));
        break;
      case 'bass only': {
        const under = this.places.findLast(({ chord }) => chord !== undefined)?.chord ?? this.previous;
        const chord = under ? onBass(under, parsed.bass, this.parse) : undefined;
        if (chord === undefined) this.problems.add('bass-without-chord', span, { text: symbol.text });
        this.places.push(newPlace(chord, span));
        break;
      }
      case 'refused':
        this.refuse(parsed, symbol);
        if (takesRoom(symbol.text)) this.places.push(newPlace(undefined, span));
    }
  }

  private remark(parsed: Extract<ChordReading, { kind: 'chord' }>, symbol: SymbolWord): void {
    for (const { code, at, length, values } of parsed.remarks) {
      this.problems.addChord(code, spanWithin(symbol, at, length), values);
    }
  }

  private refuse(parsed: ChordReading, symbol: SymbolWord): void {
    if (parsed.kind === 'refused') {
      this.problems.addChord(parsed.code, spanWithin(symbol, parsed.at, parsed.length), parsed.values);
    } else this.problems.add('alternate-not-chord', symbol.span, { text: symbol.text });
  }
}

/** What a bar takes over from those before it. */
export interface PlacesBefore {
  /** The chord in force, undefined at the start of the chart. */
  readonly previous: Chord | null | undefined;
  /** See `Places`. */
  readonly bracket: Span | null;
}

/** Reads the items of a bar. */
export function readPlaces(
  items: readonly CellItem[],
  { previous, bracket }: PlacesBefore,
  parse: ChordParser,
  problems: Diagnostics,
): Places {
  const reader = new PlaceReader(previous, bracket, parse, problems);
  for (const item of items) reader.read(item);
  return { places: reader.places, byBeat: reader.byBeat, byPlace: reader.byPlace, bracket: reader.bracket };
}
