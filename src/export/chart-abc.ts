// A chart as written, as ABC 2.1: chord symbols over rests, four bars a line.
import { barGrid, ticksPerQuarter, writtenValues, type Key } from '../music';
import {
  isSameMeter,
  meterText,
  goesOnUnder,
  repeatsInsideEnding,
  type Chart,
  type ChartBar,
  type ChartChord,
  type ChartHeader,
} from '../pipeline/1-chart';
import { silenceGoesOn } from './silence';

/** L:1/8, so that the common lengths are whole numbers. */
const unitTicks = ticksPerQuarter / 2;
const barsInLine = 4;
/** An instruction that only our reader knows: the bracket of an ending closes although no bar line says so. */
const endingStop = '[I:ramble-ending-stop]';
/** One more: the bar repeats one bar before it, or two; its chords are written out. */
const simileSign = 'ramble-simile';
/** Another: the repeat goes back over a double bar line, at which other readers let it begin. */
const pastDouble = '[I:ramble-repeat-past-double]';

/** One line of text, with the signs escaped that ABC gives a meaning. */
const oneLine = (text: string): string =>
  text
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ')
    .trim()
    .replace(/[\\%]/g, '\\$&');

/** The same within quotation marks. */
const quoted = (text: string): string => `"${oneLine(text).replace(/"/g, '\\"')}"`;

const keyText = (key: Key | null): string =>
  key === null ? 'none' : `${key.tonic}${key.church?.slice(0, 3) ?? (key.mode === 'minor' ? 'm' : '')}`;

/** Parts are letters in ABC; longer names stand in quotation marks, which our reader knows. */
const partsText = (parts: readonly string[]): string =>
  parts.map((part) => (/^[A-Za-z]$/.test(part) ? part : `"${oneLine(part).replace(/"/g, '')}"`)).join('.');

function headerLines({ title, key, meter, tempo, feel, parts }: ChartHeader): string[] {
  return [
    'X:1',
    `T:${oneLine(title)}`,
    `M:${meterText(meter)}`,
    'L:1/8',
    ...(tempo === null ? [] : [`Q:1/4=${Math.round(tempo * 1000) / 1000}`]),
    `R:${feel}`,
    ...(parts.length === 0 ? [] : [`P:${partsText(parts)}`]),
    `K:${keyText(key)}`,
  ];
}

function greatestDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestDivisor(b, a % b);
}

function restText(ticks: number): string {
  const divisor = greatestDivisor(ticks, unitTicks);
  const [top, bottom] = [ticks / divisor, unitTicks / divisor];
  return `z${top === 1 ? '' : top}${bottom === 1 ? '' : `/${bottom}`}`;
}

/** The symbol, and before it as an annotation the scale that was asked for. */
function symbolText({ chord, optional, scale, alternates }: ChartChord): string {
  const symbol = chord?.symbol ?? 'N.C.';
  const all = [optional && chord !== null ? `(${symbol})` : symbol, ...alternates.map((one) => one.symbol)];
  return `${scale === undefined ? '' : `"^{${scale}}"`}"${all.join(';')}"`;
}

/** Every chord over rests of written note values; a place off the beats is a fraction that adds up all the same. */
function chordsText(bars: readonly ChartBar[], place: number): string {
  const bar = bars[place]!;
  const symbol = (chord: ChartChord): string =>
    chord.offset === 0 && silenceGoesOn(bars, place) ? '' : symbolText(chord);
  const length = bar.chords.reduce((sum, chord) => sum + chord.length, 0);
  if (bar.chords.length === 1) return `${symbol(bar.chords[0]!)}${restText(length)}`;
  const stretches = bar.chords.map((chord) => ({
    start: chord.offset,
    end: chord.offset + chord.length,
    isRest: true,
  }));
  const pieces = writtenValues(stretches, barGrid(bar.meter, length, bar.pickup));
  return bar.chords
    .map((chord, index) => {
      const rests = pieces[index]!.map(({ start, end }) => restText(end - start));
      return `${symbol(chord)}${rests.join(' ')}`;
    })
    .join(' ');
}

/** Signs of the form: those the standard has as decorations, the rest as texts over the staff. */
function signs(bar: ChartBar): string {
  return [
    ...(bar.simile === null ? [] : [`[I:${simileSign} ${bar.simile}]`]),
    ...(bar.segno ? ['!segno!'] : []),
    ...(bar.coda ? ['!coda!'] : []),
    ...(bar.toCoda ? ['!dacoda!'] : []),
    ...(bar.fine ? ['!fine!'] : []),
    ...(bar.jump === null ? [] : [/^D\.[CS]\.$/.test(bar.jump) ? `!${bar.jump}!` : quoted(`^${bar.jump}`)]),
  ].join('');
}

/** What stands between the bar line and the chords. */
function opening({ bars, header }: Chart, index: number): string {
  const bar = bars[index]!;
  const before = bars[index - 1];
  const meter = before?.meter ?? header.meter;
  const keepsMeter = isSameMeter(meter, bar.meter);
  const repeat = bar.repeatStart ? ['|:'] : [];
  const ending = bar.ending === null || goesOnUnder(before, bar) ? [] : [`[${bar.ending.join(',')}`];
  return [
    ...(repeatsInsideEnding(bars, index) ? [...ending, ...repeat] : [...repeat, ...ending]),
    ...(keepsMeter ? [] : [`[M:${meterText(bar.meter)}]`]),
    ...(bar.keyChange === null ? [] : [`[K:${keyText(bar.keyChange)}]`]),
  ].join(' ');
}

/** True when a repeat that nothing opens closes with this bar, and a double bar line stands in it. */
function repeatsPastDouble(bars: readonly ChartBar[], index: number): boolean {
  const last = bars[index]!;
  if (last.repeatEnd === null || (last.ending !== null && !last.ending.includes(1))) return false;
  for (let at = index; at >= 0; at -= 1) {
    const bar = bars[at]!;
    if (at < index && bar.repeatEnd !== null) return false;
    if (at < index && bar.doubleBar) return true;
    if (bar.repeatStart) return false;
  }
  return false;
}

/** The bar line after a bar; colons tell how often a stretch is played, one for each time but the last. */
function closing(bars: readonly ChartBar[], index: number): string {
  const bar = bars[index]!;
  const next = bars[index + 1];
  const isLast = next === undefined;
  const colons = bar.repeatEnd === null ? '' : ':'.repeat(Math.max(1, bar.repeatEnd - 1));
  const line = bar.doubleBar ? (isLast ? '|]' : '||') : '|';
  const endsQuietly =
    bar.ending !== null && bar.repeatEnd === null && !bar.doubleBar && next?.ending === null;
  const instruction = repeatsPastDouble(bars, index)
    ? `${pastDouble} `
    : endsQuietly && next.section === null
      ? `${endingStop} `
      : '';
  return `${instruction}${colons}${line}`;
}

/**
 * The chart as an ABC tune that `importText` reads back as the same chart. Chords stand over rests of their length;
 * bars of a simile are written out under a sign.
 */
export function chartToAbc(chart: Chart): string {
  const { bars, header } = chart;
  const lines = headerLines(header);
  let line: string[] = [];
  for (const [index, bar] of bars.entries()) {
    const next = bars[index + 1];
    if (bar.section !== null) lines.push(`P:${oneLine(bar.section)}`);
    line.push(opening(chart, index), `${signs(bar)}${chordsText(bars, index)}`, closing(bars, index));
    const isFull = line.length >= 3 * barsInLine;
    if (isFull || next === undefined || next.section !== null) {
      lines.push(line.filter(Boolean).join(' '));
      line = [];
    }
  }
  return [...lines, ''].join('\n');
}
