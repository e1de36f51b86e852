// The signs a chart text is made of.
import type { Span } from './types';

export type HeaderField = 'title' | 'key' | 'meter' | 'tempo' | 'feel' | 'form';

interface Placed {
  readonly span: Span;
}
/** `|`, `||`, `|]`, `|:`, `:|`, `::` and their kin. */
export interface BarLineToken extends Placed {
  readonly kind: 'bar line';
  readonly repeatEnd: boolean;
  readonly repeatStart: boolean;
  readonly double: boolean;
  /** How often the stretch is played where several colons say it. */
  readonly times?: number;
}
/** A symbol, a slash, a simile, or a word of the form: whatever stands between blanks. */
export interface WordToken extends Placed {
  readonly kind: 'word';
  readonly text: string;
}
/** What stands in square brackets. */
export interface LabelToken extends Placed {
  readonly kind: 'label';
  readonly text: string;
  /** The whole was `Name:` at the start of a line, so it cannot be a chord. */
  readonly sure: boolean;
  /** A letter alone, which could have been a chord. */
  readonly guessed?: true;
}
/** What stands in braces. */
export interface DirectiveToken extends Placed {
  readonly kind: 'directive';
  readonly text: string;
}
/** What stands in braces after a chord: the name of a scale. */
export interface ScaleToken extends Placed {
  readonly kind: 'scale';
  readonly text: string;
}
/** The numbers of the passes an ending is for. */
export interface EndingToken extends Placed {
  readonly kind: 'ending';
  readonly passes: readonly number[];
}
/** `;` between a chord and its alternative. */
export interface AlternateToken extends Placed {
  readonly kind: 'alternate';
  /** A blank follows, as after a sign of punctuation. */
  readonly apart: boolean;
}
/** A sign that could not be read at all. */
export interface StrayToken extends Placed {
  readonly kind: 'stray';
  readonly text: string;
}
export type ChartToken =
  BarLineToken | WordToken | LabelToken | DirectiveToken | EndingToken | AlternateToken | StrayToken;

export interface HeaderLine extends Placed {
  readonly kind: 'header';
  readonly field: HeaderField;
  readonly value: string;
  readonly valueSpan: Span;
}
export interface UnknownHeaderLine extends Placed {
  readonly kind: 'unknown header';
  readonly name: string;
}
export interface BarsLine extends Placed {
  readonly kind: 'bars';
  readonly tokens: readonly ChartToken[];
  readonly text: string;
  readonly hasBarLine: boolean;
}
/** Says that the lines of bars were numbered; it stands at the first number. */
export interface ListLine extends Placed {
  readonly kind: 'list';
  readonly count: number;
}
/** Says that signs between chords were read as bar lines; it stands at the line. */
export interface GuessedBarsLine extends Placed {
  readonly kind: 'guessed bars';
}
/** One line of the text; blank lines and comments are left out. */
export type ChartLine = HeaderLine | UnknownHeaderLine | BarsLine | ListLine | GuessedBarsLine;
