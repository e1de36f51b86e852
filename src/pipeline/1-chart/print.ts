// A chart as written back to text, tidy: what readChart reads as the same chart again.
import { parseChord, printKey, type Chord, type Key, type Meter } from '../../music';
import { goesOnUnder, repeatsInsideEnding } from './brackets';
import { usualPasses } from './endings';
import { barTicks, beatTicks, beatsInBar, isSameMeter, meterText, shareEvenly, shortTicks } from './meter';
import { cleanName, isRehearsalLetter, isSectionName } from './words';
import type { Chart, ChartBar, ChartChord, ChartHeader } from './types';

const barsInLine = 4;

const keyText = (key: Key): string => (key.mode === 'minor' || key.church ? printKey(key) : key.tonic);

function headerLines({ title, key, meter, tempo, feel, parts }: ChartHeader): readonly string[] {
  return [
    ...(title === '' ? [] : [`Title: ${title}`]),
    ...(key === null ? [] : [`Key: ${keyText(key)}`]),
    `Meter: ${meterText(meter)}`,
    ...(tempo === null ? [] : [`Tempo: ${tempo}`]),
    `Feel: ${feel}`,
    ...(parts.length === 0 ? [] : [`Form: ${parts.join(' ')}`]),
  ];
}

const symbolText = (chord: Chord | null): string => chord?.symbol ?? 'N.C.';

function chordText({ chord, optional, scale, alternates }: ChartChord): string {
  const symbol = optional && chord !== null ? `(${chord.symbol})` : symbolText(chord);
  return [scale === undefined ? symbol : `${symbol}{${scale}}`, ...alternates.map(symbolText)].join(';');
}

/** Offsets on the grid of short notes, so that what was imported off the grid comes to the nearest place. */
function onGrid(chords: readonly ChartChord[], length: number, short: number): readonly ChartChord[] {
  const places = chords.map(({ offset }) => Math.round(offset / short) * short);
  return chords.flatMap((chord, index) => {
    const offset = index === 0 ? 0 : places[index]!;
    const end = places[index + 1] ?? Math.max(Math.round(length / short) * short, short);
    return end > offset ? [{ ...chord, offset, length: end - offset }] : [];
  });
}

/** A chord and the slashes after it; a dot makes what it follows short. */
function withSlashes(chord: ChartChord, beat: number, short: number): string {
  const beats = Math.floor(chord.length / beat);
  const shorts = Math.round((chord.length - beats * beat) / short);
  const slashes = [
    ...Array.from({ length: Math.max(beats - 1, 0) }, () => '/'),
    ...Array.from({ length: beats === 0 ? Math.max(shorts - 1, 0) : shorts }, () => '/.'),
  ];
  return [chordText(chord), ...(beats === 0 ? ['.'] : []), ...slashes].join(' ');
}

function chordsText(bar: ChartBar): string {
  const { meter, pickup } = bar;
  const beat = beatTicks(meter);
  const short = shortTicks(meter);
  const length = bar.chords.reduce((sum, chord) => sum + chord.length, 0);
  const chords = onGrid(bar.chords, length, short);
  const units = chords.length > beatsInBar(meter) ? barTicks(meter) / short : beatsInBar(meter);
  const even = shareEvenly(units, chords.length).map((unit) => (unit * barTicks(meter)) / units);
  const isEven = !pickup && chords.every((chord, index) => chord.length === even[index]);
  if (isEven) return chords.map(chordText).join(' ');
  return chords.map((chord) => withSlashes(chord, beat, short)).join(' ');
}

/** A name that would read as a chord in brackets stands before a colon instead, if it can. */
function sectionLine(section: string): string {
  const name = cleanName(section);
  const readsAsChord = !isRehearsalLetter(name) && !isSectionName(name) && parseChord(name).kind === 'chord';
  if (!readsAsChord) return `[${name}]`;
  return /^\p{L}[\p{L} ]{0,23}\d?$/u.test(name) ? `${name}:` : `[Part ${name}]`;
}

/** "1-3,5" for 1, 2, 3 and 5. */
function passesText(passes: readonly number[]): string {
  const runs: { from: number; to: number }[] = [];
  for (const pass of passes) {
    const last = runs.at(-1);
    if (last !== undefined && pass === last.to + 1) last.to = pass;
    else runs.push({ from: pass, to: pass });
  }
  const texts = runs.map(({ from, to }) =>
    from === to ? `${from}` : `${from}${to - from > 1 ? '-' : ','}${to}`,
  );
  return texts.join(',');
}

/** What stands before the chords of a bar, its bar line first. */
function openingText(bars: readonly ChartBar[], index: number, meter: Meter): string {
  const bar = bars[index]!;
  const before = bars[index - 1];
  const isNewEnding = bar.ending !== null && !goesOnUnder(before, bar);
  const passes = isNewEnding ? passesText(bar.ending) : '';
  const line = repeatsInsideEnding(bars, index)
    ? `|${passes} |:`
    : `${bar.repeatStart ? '|:' : '|'}${passes}`;
  const changes = [
    ...(bar.pickup ? ['{pickup}'] : []),
    ...(isSameMeter(bar.meter, meter) ? [] : [`{${meterText(bar.meter)}}`]),
    ...(bar.keyChange === null ? [] : [`{Key: ${keyText(bar.keyChange)}}`]),
    ...(bar.segno ? ['segno'] : []),
    ...(bar.coda && !/^coda$/iu.test(bar.section ?? '') ? ['coda'] : []),
  ];
  return [line, ...changes].join(' ');
}

/** Signs after the chords. */
const signsText = (bar: ChartBar): readonly string[] => [
  ...(bar.fine ? ['Fine'] : []),
  ...(bar.toCoda ? ['To Coda'] : []),
  ...(bar.jump === null ? [] : [bar.jump]),
];

/** The bar line after a bar where it is more than a plain one; empty else. */
function closingText(bar: ChartBar, isLast: boolean, usualPasses: number): string {
  const double = isLast ? '|]' : '||';
  const repeat =
    bar.repeatEnd === null ? [] : [bar.repeatEnd === usualPasses ? ':|' : `:| x${bar.repeatEnd}`];
  return [...repeat, ...(bar.doubleBar ? [double] : [])].join(' ');
}

/** Two pieces of a line; a plain bar line after a special one is dropped. */
function appended(line: string, closing: string, opening: string): string {
  if (closing === '' || line === '') return line === '' ? opening : `${line} ${opening}`;
  const isBare = opening.startsWith('|') && !opening.startsWith('|:');
  if (!isBare || /\d$/u.test(closing)) return `${line} ${closing} ${opening}`;
  return `${line} ${closing}${opening.slice(1)}`;
}

/** Lines are broken at sections, after four bars, and after an ending that no repeat sign closes, but not within one. */
function breaksAfter(bars: readonly ChartBar[], index: number, isFull: boolean): boolean {
  const bar = bars[index]!;
  const next = bars[index + 1];
  if (next === undefined || next.section !== null) return true;
  const isOpenEnding = bar.ending !== null && bar.repeatEnd === null;
  if (isOpenEnding && !goesOnUnder(bar, next)) return true;
  return isFull && !isOpenEnding && !goesOnUnder(bar, next);
}

/** Second bars of two-bar similes, which are said by the first. */
function saidByFirst(bars: readonly ChartBar[]): ReadonlySet<number> {
  const said = new Set<number>();
  bars.forEach(({ simile }, index) => {
    if (simile === 2 && bars[index - 1]?.simile === 2 && !said.has(index - 1)) said.add(index);
  });
  return said;
}

function barLines(chart: Chart): readonly string[] {
  const { bars, header } = chart;
  const passes = usualPasses(bars);
  const said = saidByFirst(bars);
  const lines: string[] = [];
  let line = '';
  let closing = '';
  let inLine = 0;
  bars.forEach((bar, index) => {
    const before = bars[index - 1];
    if (bar.section !== null) lines.push(...(index > 0 ? [''] : []), sectionLine(bar.section));
    if (!said.has(index)) {
      const chords = bar.simile === null ? chordsText(bar) : '%'.repeat(bar.simile);
      const opening = openingText(bars, index, before?.meter ?? header.meter);
      line = appended(line, closing, `${opening} ${chords}`);
      closing = '';
    }
    line = [line, ...signsText(bar)].join(' ');
    closing = closingText(bar, index === bars.length - 1, passes.get(index) ?? 2);
    inLine += 1;
    if (breaksAfter(bars, index, inLine >= barsInLine && !said.has(index + 1))) {
      lines.push(`${line} ${closing === '' ? '|' : closing}`);
      line = '';
      closing = '';
      inLine = 0;
    }
  });
  return lines;
}

/**
 * Chart text in our own tidy form. Reading it gives the same chart again, spans and typed spellings apart; places finer
 * than an eighth note (half a beat in short meters) come to the nearest one.
 */
export function printChart(chart: Chart): string {
  return [...headerLines(chart.header), '', ...barLines(chart), ''].join('\n');
}
