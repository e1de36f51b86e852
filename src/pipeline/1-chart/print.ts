// A chart as written back to text, tidy: what readChart reads as the same chart again.
import { parseChord, printKey, type Key, type Meter } from '../../music';
import { goesOnUnder, repeatsInsideEnding } from './brackets';
import { usualPasses } from './endings';
import { isSameMeter, meterText } from './meter';
import { chordsText, pickupText } from './print-chords';
import { readChart } from './read';
import { similesOf } from './similes';
import { cleanName, isRehearsalLetter, isSectionName } from './words';
import type { Chart, ChartBar, ChartHeader } from './types';

const barsInLine = 4;

const keyText = (key: Key): string => (key.mode === 'minor' || key.church ? printKey(key) : key.tonic);

/** A name of several words, or one that would be read as something else, stands in quotation marks. */
function partsText(parts: readonly string[]): string {
  const isPlain = (part: string): boolean => /^[^ ,\u2013"-]+$/u.test(part) && !/^[x×]\d{1,2}$/iu.test(part);
  const isRun = parts.length === 1 && /^[A-Z]{2,16}$/u.test(parts[0]!);
  return parts.map((part) => (isPlain(part) && !isRun ? part : `"${part}"`)).join(' ');
}

function headerLines({ title, key, meter, tempo, feel, parts }: ChartHeader): readonly string[] {
  return [
    ...(title === '' ? [] : [`Title: ${title}`]),
    ...(key === null ? [] : [`Key: ${keyText(key)}`]),
    `Meter: ${meterText(meter)}`,
    ...(tempo === null ? [] : [`Tempo: ${tempo}`]),
    `Feel: ${feel}`,
    ...(parts.length === 0 ? [] : [`Form: ${partsText(parts)}`]),
  ];
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

/** True for the first bar behind an ending. */
const endsBefore = (bars: readonly ChartBar[], index: number): boolean =>
  bars[index]!.ending === null && (bars[index - 1]?.ending ?? null) !== null;

/** What stands before the chords of a bar, its bar line first. */
function openingText(bars: readonly ChartBar[], index: number, meter: Meter, stops: boolean): string {
  const bar = bars[index]!;
  const before = bars[index - 1];
  const isNewEnding = bar.ending !== null && !goesOnUnder(before, bar);
  const passes = isNewEnding ? passesText(bar.ending) : '';
  const line = repeatsInsideEnding(bars, index)
    ? `|${passes} |:`
    : `${bar.repeatStart ? '|:' : '|'}${passes}`;
  const changes = [
    ...(stops && endsBefore(bars, index) ? ['{bracket ends}'] : []),
    ...(bar.pickup ? [pickupText(bar)] : []),
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

/** @param stops says where every ending ends */
function barLines(chart: Chart, stops: boolean): readonly string[] {
  const { bars, header } = chart;
  const passes = usualPasses(bars);
  const similes = similesOf(bars);
  const isSaid = (index: number): boolean => similes[index] === 'said';
  const lines: string[] = [];
  let line = '';
  let closing = '';
  let inLine = 0;
  bars.forEach((bar, index) => {
    const before = bars[index - 1];
    if (bar.section !== null) lines.push(...(index > 0 ? [''] : []), sectionLine(bar.section));
    if (!isSaid(index)) {
      const simile = similes[index];
      const chords = typeof simile === 'number' ? '%'.repeat(simile) : chordsText(bar);
      const opening = openingText(bars, index, before?.meter ?? header.meter, stops);
      line = appended(line, closing, `${opening} ${chords}`);
      closing = '';
    }
    line = [line, ...signsText(bar)].join(' ');
    closing = closingText(bar, index === bars.length - 1, passes.get(index) ?? 2);
    inLine += 1;
    if (breaksAfter(bars, index, inLine >= barsInLine && !isSaid(index + 1))) {
      lines.push(`${line} ${closing === '' ? '|' : closing}`);
      line = '';
      closing = '';
      inLine = 0;
    }
  });
  return lines;
}

/**
 * Chart text in our own tidy form. Reading it gives the same chart again, spans and typed spellings apart.
 */
export function printChart(chart: Chart): string {
  const print = (stops: boolean): string =>
    [...headerLines(chart.header), '', ...barLines(chart, stops), ''].join('\n');
  const plain = print(false);
  if (chart.bars.every(({ ending }) => ending === null)) return plain;
  // Only odd files need to say where a bracket ends.
  const read = readChart(plain).chart.bars;
  const isSame = chart.bars.every(({ ending }, index) => ending?.join() === read[index]?.ending?.join());
  return isSame ? plain : print(true);
}
