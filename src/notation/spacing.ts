// How wide bars are and where lines of music break. Within a bar x is linear in time, so that the staff and whatever is
// drawn under it share one axis.
import { barTicks, type BarIndex } from '../music';
import { chordWidth } from './chordText';
import type { BarContent, HeadContent } from './contents';
import { glyph } from './glyphs';
import { signatureSteps, signGlyphNames, type Sign } from './pitches';

/** Sizes the spacing depends on, in pixels. */
export interface Measures {
  readonly space: number;
  readonly chordSize: number;
  /** No beat column is narrower: WCAG 2.2 target size, AA. */
  readonly leastColumn: number;
}

/** Bars of one line of music and their widths. */
export interface SystemBars {
  readonly from: BarIndex;
  readonly to: BarIndex;
  /** Chord symbols are set at this share of their size. */
  readonly chordScale: number;
  readonly headWidth: number;
  /** Room after the last bar for the signature or meter that the next line begins with. */
  readonly warningWidth: number;
  readonly bars: readonly { readonly width: number; readonly pad: number; readonly prefix: number }[];
}

/** Half a head: notes hang on the axis by the middle of their head. */
export const halfHead = (space: number): number => (glyph('noteheadBlack').advance / 2) * space;
/** Between two chord symbols, and between a symbol and the bar line. */
const chordGap = 8;
/** A crowded line may set its chord symbols this small. */
const tightChords = 0.82;
const signGap = 0.25;

/** Room to the left of a head that its sign takes. */
export const signWidth = (sign: Sign | null, space: number): number =>
  sign === null
    ? 0
    : (signGlyphNames(sign).reduce((sum, name) => sum + glyph(name).advance, 0) + signGap) * space;

/** Width of a signature, nothing for C. A change to C is written with naturals in place of the old signs. */
export function signatureWidth(fifths: number, space: number): number {
  const name = fifths > 0 ? 'accidentalSharp' : 'accidentalFlat';
  return signatureSteps(fifths).length * (glyph(name).advance + 0.08) * space;
}

export const meterWidth = (space: number): number => (glyph('timeSig4').advance + 0.9) * space;

/** Clef, signature and, where it is due, meter; at least the room that the names of regions take under the staff. */
export const headWidth = (fifths: number, withMeter: boolean, space: number): number =>
  Math.max(
    leastHead(space),
    (glyph('fClef').advance + 0.9) * space +
      signatureWidth(fifths, space) +
      (fifths === 0 ? 0 : 0.6 * space) +
      (withMeter ? meterWidth(space) : 0),
  );
const leastHead = (space: number): number => (space >= 8 ? 62 : 40);

/** Room of the repeat sign before a bar. */
export const repeatLead = ({ opensRepeat }: Pick<BarContent, 'opensRepeat'>, space: number): number =>
  opensRepeat ? 1.7 * space : 0;

/** Room from the bar line to the first moment of the bar. */
const padOf = (content: BarContent, space: number): number =>
  repeatLead(content, space) +
  Math.max(2.5 * space, halfHead(space) + signWidth(content.heads[0]?.sign ?? null, space) + 0.7 * space);

/** Room for a signature or meter that changes within a line. */
function prefixOf(content: BarContent, before: BarContent | undefined, space: number): number {
  const fifths = content.keyChange?.fifths === 0 ? before?.bar.key.fifths : content.keyChange?.fifths;
  return (
    (fifths === undefined ? 0 : signatureWidth(fifths, space) + space) +
    (content.meter === null || before === undefined ? 0 : meterWidth(space))
  );
}

/** Room at the end of a line for the signature or meter that the next one begins with. */
export function warningWidth(next: BarContent | undefined, before: BarContent, space: number): number {
  return next === undefined ? 0 : prefixOf(next, before, space) + (warns(next) ? 0.7 * space : 0);
}
const warns = ({ keyChange, meter }: BarContent): boolean => keyChange !== null || meter !== null;

/** The bar line stands a little nearer than the next beat would. */
const tail = (space: number): number => 1.2 * space;

/** Pixels a tick of a bar of this width. */
export const scaleOf = (width: number, pad: number, ticks: number, space: number): number =>
  (width - pad + tail(space)) / ticks;

interface Event {
  readonly offset: number;
  readonly head: HeadContent | null;
}

function eventsOf({ heads, rests }: BarContent): readonly Event[] {
  const silent = rests === 'bar' ? [] : rests;
  return [
    ...heads.map((head) => ({ offset: head.piece.offset, head })),
    ...silent.map(({ offset }) => ({ offset, head: null })),
  ].sort((a, b) => a.offset - b.offset);
}

/** The narrowest the bar can be so that nothing in it collides. */
export function leastWidth(content: BarContent, pad: number, chordScale: number, sizes: Measures): number {
  const { space, chordSize, leastColumn } = sizes;
  const { ticks } = content.bar;
  let scale = 0;
  const need = (from: number, to: number, pixels: number): void => {
    if (to > from) scale = Math.max(scale, pixels / (to - from));
  };
  const events = eventsOf(content);
  events.forEach((event, place) => {
    const next = events[place + 1];
    const dot = event.head?.piece.dots === 1 ? 0.8 * space : 0;
    const own = halfHead(space) + dot + 0.4 * space;
    if (next) {
      const room = own + signWidth(next.head?.sign ?? null, space) + halfHead(space);
      need(event.offset, next.offset, Math.max(leastColumn, room));
    } else need(event.offset, ticks, Math.max(leastColumn, own + tail(space)));
  });
  content.chords.forEach((chord, place) => {
    const width = chordWidth(chord.runs, chordSize * chordScale) + chordGap;
    const next = content.chords[place + 1];
    if (next) need(chord.offset, next.offset, width);
    else need(chord.offset, ticks, width - halfHead(space) + tail(space));
  });
  return pad + ticks * scale - tail(space);
}

/** Widths that add up to `total`, in proportion to the weights but never under the least widths. */
export function shareOut(
  total: number,
  least: readonly number[],
  weights: readonly number[],
): readonly number[] {
  const fixed = least.map(() => false);
  for (;;) {
    let room = total;
    let weight = 0;
    least.forEach((width, index) => {
      if (fixed[index]) room -= width;
      else weight += weights[index]!;
    });
    const unit = weight === 0 ? 0 : room / weight;
    const short = least.findIndex((width, index) => !fixed[index] && weights[index]! * unit < width - 1e-9);
    if (short < 0) return least.map((width, index) => (fixed[index] ? width : weights[index]! * unit));
    fixed[short] = true;
  }
}

/** Bars a line: four where there is room, else two, else one. */
export function barsPerSystem(width: number): number {
  if (width >= 620) return 4;
  return width >= 270 ? 2 : 1;
}

const isWhole = ({ bar }: BarContent): boolean => bar.ticks >= barTicks(bar.meter);

/** Runs of bars that begin a new line: sections and choruses start on the left. */
function stretches(contents: readonly BarContent[]): readonly BarContent[][] {
  const runs: BarContent[][] = [];
  for (const content of contents) {
    const run = runs.at(-1);
    if (run === undefined || content.section !== null || content.startsChorus) runs.push([content]);
    else run.push(content);
  }
  return runs;
}

/** Cuts a stretch into lines of so many whole bars; an incomplete bar does not count. */
function cut(run: readonly BarContent[], count: number): readonly BarContent[][] {
  const lines: BarContent[][] = [];
  let whole = count;
  for (const content of run) {
    if (whole >= count) {
      lines.push([]);
      whole = 0;
    }
    lines.at(-1)!.push(content);
    if (isWhole(content)) whole += 1;
  }
  // A bar of silence left over at the end has no line of its own.
  const [last, before] = [lines.at(-1), lines.at(-2)];
  if (before && last?.length === 1 && last[0]!.rests === 'bar') before.push(...lines.pop()!);
  return lines;
}

/** Breaks the piece into lines of music that fit the width, with fewer bars a line where they do not. */
export function breakSystems(
  contents: readonly BarContent[],
  width: number,
  sizes: Measures,
): readonly SystemBars[] {
  const { space } = sizes;
  const perLine = barsPerSystem(width);

  const fit = (line: readonly BarContent[], count: number): readonly SystemBars[] => {
    const first = line[0]!;
    const head = headWidth(first.bar.key.fifths, first.meter !== null, space);
    const warning = warningWidth(contents[line.at(-1)!.bar.index + 1], line.at(-1)!, space);
    const room = width - head - warning - engravingMargin;
    const bars = line.map((content, place) => ({
      pad: padOf(content, space),
      prefix: place === 0 ? 0 : prefixOf(content, contents[content.bar.index - 1], space),
    }));
    const leastAt = (chordScale: number): readonly number[] =>
      line.map((content, place) => {
        const { pad, prefix } = bars[place]!;
        return prefix + leastWidth(content, pad, chordScale, sizes);
      });
    const sum = (numbers: readonly number[]): number => numbers.reduce((total, one) => total + one, 0);
    const chordScale = sum(leastAt(1)) <= room ? 1 : tightChords;
    const least = leastAt(chordScale);
    if (sum(least) > room && line.length > 1) {
      const fewer = Math.max(1, Math.floor(count / 2));
      return cut(line, fewer).flatMap((part) => fit(part, fewer));
    }
    const weights = line.map(({ bar }) => bar.ticks as number);
    const full = barTicks(first.bar.meter) * count;
    const total = Math.min(room, (room * sum(weights)) / full);
    const widths = shareOut(Math.max(sum(least), total), least, weights);
    return [
      {
        from: first.bar.index,
        to: line.at(-1)!.bar.index,
        chordScale,
        headWidth: head,
        warningWidth: warning,
        bars: bars.map((bar, place) => ({ ...bar, width: widths[place]! })),
      },
    ];
  };

  return stretches(contents).flatMap((run) => cut(run, perLine).flatMap((line) => fit(line, perLine)));
}

/** Half the thick bar line reaches over the last bar's edge. */
export const engravingMargin = 2;
