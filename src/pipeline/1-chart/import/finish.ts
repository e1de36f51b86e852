// Sketched bars to the bars of a chart: split bars joined, lengths settled, chords carried on, endings and codas counted.
import type { Chord } from '../../../music';
import { diagnostics } from '../diagnostics';
import type { Draft } from '../draft';
import { settleEndings } from '../endings';
import { barTicks } from '../meter';
import type { ChartBar, ChartChord } from '../types';
import { endOfSoundingBefore } from '../similes';
import { cleanName, passesNamed } from '../words';
import type { ImportedNote } from './given';
import type { ImportProblems } from './problems';
import { endingsOf } from './reach';
import { chordsOf, plainBar, spreadChords, type SketchBar } from './sketch';

export interface FinishedBars {
  readonly bars: readonly ChartBar[];
  readonly notes: readonly ImportedNote[];
}

/** Nothing that could be jumped to or from stands between the two. */
function isOneBar(first: SketchBar, second: SketchBar): boolean {
  const full = barTicks(first.meter);
  const isSplit = first.length > 0 && second.length > 0 && first.length + second.length === full;
  const isOpen =
    !first.repeatEnd && first.endingStops === null && first.jump === null && !first.fine && !first.toCoda;
  const goesOn =
    !second.repeatStart &&
    second.section === null &&
    second.opensEnding === null &&
    second.coda === null &&
    !second.segno;
  return isSplit && isOpen && goesOn && second.keyChange === null && barTicks(second.meter) === full;
}

/** A bar that a double or dotted line cuts in two, as one. */
function joined(first: SketchBar, second: SketchBar): SketchBar {
  const later = <Timed extends { readonly tick: number }>(one: Timed): Timed => ({
    ...one,
    tick: one.tick + first.length,
  });
  return {
    ...second,
    number: first.number,
    span: first.span,
    length: first.length + second.length,
    chords: [...first.chords, ...second.chords.map(later)],
    scales: [...first.scales, ...second.scales.map(later)],
    notes: [...first.notes, ...second.notes.map((note) => ({ ...note, offset: note.offset + first.length }))],
    keyChange: first.keyChange,
    section: first.section,
    repeatStart: first.repeatStart,
    opensEnding: first.opensEnding,
    segno: first.segno,
    coda: first.coda,
  };
}

function joinSplitBars(sketches: readonly SketchBar[]): SketchBar[] {
  const bars: SketchBar[] = [];
  for (const [index, sketch] of sketches.entries()) {
    const before = bars.at(-1);
    // The first bar of all is a pickup, not the first half of a bar.
    if (index > 1 && before && isOneBar(before, sketch)) bars[bars.length - 1] = joined(before, sketch);
    else bars.push(sketch);
  }
  return bars;
}

/** The chords of the bars that a simile repeats, null when they are not there or not as long. */
function repeatedChords(
  bars: readonly ChartBar[],
  sketch: SketchBar,
  end: number,
): readonly ChartChord[] | null {
  const source = bars[end - (sketch.simile ?? 1)];
  if (source === undefined || source.pickup || barTicks(source.meter) !== barTicks(sketch.meter)) return null;
  return source.chords.map((chord) => ({ ...chord, span: null }));
}

/** The length of a bar, and whether it is a pickup. */
function lengthOf(
  sketch: SketchBar,
  isFirst: boolean,
  problems: ImportProblems,
): { length: number; pickup: boolean } {
  const full = barTicks(sketch.meter);
  const isShort = sketch.length > 0 && sketch.length < full;
  if (isFirst && isShort) return { length: sketch.length, pickup: true };
  if (isShort) problems.addOnce('bar-short', sketch.span, { bar: sketch.number });
  if (sketch.length > full) problems.addOnce('bar-long', sketch.span, { bar: sketch.number });
  return { length: full, pickup: false };
}

function fillBars(sketches: readonly SketchBar[], problems: ImportProblems): ChartBar[] {
  const bars: ChartBar[] = [];
  const endings = endingsOf(sketches, problems);
  let before: Chord | null = null;
  for (const [index, sketch] of sketches.entries()) {
    spreadChords(sketch);
    if (/^coda$/i.test(sketch.section ?? '')) sketch.coda ??= 0;
    const { length, pickup } = lengthOf(sketch, index === 0, problems);
    const repeats = sketch.simile !== null && sketch.chords.length === 0;
    const repeated = repeats ? repeatedChords(bars, sketch, endOfSoundingBefore(endings, index)) : null;
    if (repeats && repeated === null) {
      problems.add('simile-nothing', sketch.span, { bar: sketch.number });
      sketch.simile = null;
    }
    const chords: readonly ChartChord[] = repeated ?? chordsOf(sketch, before, length, problems);
    before = chords.at(-1)!.chord;
    bars.push({ ...plainBar(sketch, chords, pickup), ...endings[index]! });
  }
  return bars;
}

/** A chart has one coda; of two signs the first is the way out when nothing else says where that is. */
function settleCodas(
  sketches: readonly SketchBar[],
  drafts: readonly Draft[],
  problems: ImportProblems,
): void {
  const marked = sketches.flatMap(({ coda }, index) => (coda === null ? [] : [index]));
  const [first] = marked;
  if (first === undefined || marked.length === 1) return;
  for (const index of marked.slice(0, -1)) drafts[index]!.bar.coda = false;
  const sign = sketches[first]!;
  const way = drafts[sign.coda! > 0 ? first : first - 1];
  const isWayOut = marked.length === 2 && way !== undefined && !drafts.some(({ bar }) => bar.toCoda);
  if (isWayOut) way.bar.toCoda = true;
  problems.add(isWayOut ? 'coda-sign-read' : 'coda-twice', sign.span, { bar: sign.number });
}

/** A name as a text can say it; words for an ending would be read as one there. */
function sectionName(text: string | null): string | null {
  const name = cleanName(text ?? '');
  return passesNamed(name) === undefined ? name || null : `Part ${name}`;
}

function settle(
  sketches: readonly SketchBar[],
  bars: readonly ChartBar[],
  problems: ImportProblems,
): ChartBar[] {
  const drafts = bars.map((bar, index): Draft => {
    const sketch = sketches[index]!;
    return {
      bar: { ...bar, section: sectionName(bar.section) },
      // A text says where an ending ends by a new line.
      lineEnd: bar.ending?.join() !== bars[index + 1]?.ending?.join(),
      times: sketch.times,
    };
  });
  settleCodas(sketches, drafts, problems);
  const found = diagnostics();
  settleEndings(drafts, found);
  problems.take(found.list());
  return drafts.map(({ bar }) => bar);
}

/** Makes the bars of a chart; notes get the index of the bar that they begin in. */
export function finishBars(sketches: readonly SketchBar[], problems: ImportProblems): FinishedBars {
  const joinedBars = joinSplitBars(sketches);
  const bars = settle(joinedBars, fillBars(joinedBars, problems), problems);
  const notes = joinedBars.flatMap((sketch, bar) => sketch.notes.map((note) => ({ ...note, bar })));
  return { bars, notes };
}
