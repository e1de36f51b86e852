// Which cell a lane plays in every bar: phrases of four and eight bars laid end to end through each section.
import { derivedSeed, seededRandom, barIndices, type BarIndex } from '../../music';
import commonData from '../../../shared/band/common.json' with { type: 'json' };
import type { Amount } from '../types';
import { drawn, weightOf, type Phrase } from './rows';
import type { SectionBars } from './spans';

/** What a lane, or the comping, can play and how it strings it together. */
interface Repertoire<Cell> {
  readonly cells: readonly Cell[];
  readonly phrases: readonly Phrase[];
}

/** The bars that cells are drawn for. */
export interface PhraseFrame {
  readonly bars: number;
  readonly spans: readonly SectionBars[];
  /** Whether a chorus begins with a bar. */
  readonly isNew: (bar: BarIndex) => boolean;
}

export interface PhraseWish<Cell> {
  readonly amount: Amount;
  /** A seed of the lane's own. */
  readonly seed: number;
  /**
   * What a bar is heard as with a cell. Where it is given, four bars running that are heard alike never come again in a
   * chorus, nor are they all the same: the fourth becomes another cell.
   */
  readonly heardAs?: (bar: BarIndex, cell: Cell) => string;
}

/** The names of the cells of some bars, one phrase after another; phrases that are too long are cut off. */
function namesIn(
  { from, to }: SectionBars,
  phrases: readonly Phrase[],
  { amount, seed }: Pick<PhraseWish<never>, 'amount' | 'seed'>,
): string[] {
  const names: string[] = [];
  while (from + names.length <= to) {
    const room = to - from - names.length + 1;
    const fitting = phrases.filter(({ bars }) => bars.length <= Math.max(4, room));
    const phrase = drawn(fitting, amount, seededRandom(derivedSeed(seed, from + names.length)));
    if (!phrase) return names;
    names.push(...phrase.bars.slice(0, room));
  }
  return names;
}

/** Names that the phrases use at an amount. */
const usedAt = (phrases: readonly Phrase[], amount: Amount): readonly string[] => [
  ...new Set(phrases.filter((one) => weightOf(one, amount) > 0).flatMap(({ bars }) => bars)),
];

interface Found<Cell> {
  readonly cell: Cell;
  readonly heard: string;
}

/** The first of some cells, from the one that is wished on, with which four bars are new; else the one that is wished. */
function turned<Cell>(
  wished: Cell,
  others: readonly Cell[],
  before: readonly string[],
  isKnown: (four: string) => boolean,
  heardAs: (cell: Cell) => string,
): Found<Cell> {
  const first = { cell: wished, heard: heardAs(wished) };
  if (before.length < commonData.longestRun) return first;
  const isFree = ({ heard }: Found<Cell>): boolean =>
    before.some((other) => other !== heard) && !isKnown([...before, heard].join('|'));
  if (isFree(first)) return first;
  const at = Math.max(0, others.indexOf(wished));
  for (let i = 1; i < others.length; i++) {
    const cell = others[(at + i) % others.length]!;
    const found = { cell, heard: heardAs(cell) };
    if (isFree(found)) return found;
  }
  return first;
}

/** The cell of each bar, by its index; bars outside the spans have the first cell. */
export function cellsOf<Cell extends { readonly name: string }>(
  { cells, phrases }: Repertoire<Cell>,
  { bars, spans, isNew }: PhraseFrame,
  wish: PhraseWish<Cell>,
): readonly Cell[] {
  const byName = new Map(cells.map((cell) => [cell.name, cell]));
  const named = (name: string | undefined): Cell => byName.get(name ?? '') ?? cells[0]!;
  const wished = new Map(
    spans.flatMap((span) => namesIn(span, phrases, wish).map((name, i) => [span.from + i, name] as const)),
  );
  const { heardAs } = wish;
  if (!heardAs) return Array.from({ length: bars }, (_, bar) => named(wished.get(bar)));
  const others = usedAt(phrases, wish.amount).map(named);
  const found: Cell[] = [];
  const heard: string[] = [];
  let known = new Set<string>();
  for (const bar of barIndices(bars)) {
    if (isNew(bar)) known = new Set();
    const before = heard.slice(-commonData.longestRun);
    const isKnown = (four: string): boolean => known.has(four);
    const one = turned(named(wished.get(bar)), others, before, isKnown, (cell) => heardAs(bar, cell));
    found.push(one.cell);
    heard.push(one.heard);
    known.add([...before, one.heard].join('|'));
  }
  return found;
}
