// A chart as written, as MusicXML 4.0: a lead sheet of chord symbols with its repeats, endings, jumps and sections.
import { barGrid, barTicks, straightRatio, writtenValues, type Chord, type Piece } from '../music';
import {
  feelText,
  goesOnUnder,
  isSameMeter,
  isStraight,
  type Chart,
  type ChartBar,
  type ChartChord,
} from '../pipeline/1-chart';
import {
  above,
  barStyle,
  bassClef,
  divisions,
  keyElement,
  metronomeType,
  rehearsalDirection,
  scoreDocument,
  soundElement,
  timeElement,
  wordsType,
} from './musicxml-common';
import { harmonyWriter, type HarmonyWriter } from './musicxml-harmony';
import { noteElement } from './musicxml-note';
import { silenceGoesOn } from './silence';
import { swingElement, usualSwing } from './swing-mark';
import { tag, tagWith, type XmlElement } from './xml';

const lengthOf = (bar: ChartBar): number => bar.chords.reduce((sum, { length }) => sum + length, 0);

/** Slashes rather than rests, in programs that know them. */
const slashes = tag('measure-style', tagWith('slash', { type: 'start', 'use-stems': 'no' }));

/** The sign over a run of bars that repeat what is before them; the bars themselves are written out. */
function simileStyle(bar: ChartBar, before: ChartBar | undefined): XmlElement[] {
  const was = before?.simile ?? null;
  if (bar.simile === was) return [];
  if (bar.simile === null) return [tag('measure-style', tagWith('measure-repeat', { type: 'stop' }))];
  const { simile } = bar;
  return [
    tag(
      'measure-style',
      tagWith('measure-repeat', { type: 'start', slashes: String(simile) }, String(simile)),
    ),
  ];
}

function attributesElement(chart: Chart, index: number): XmlElement[] {
  const bar = chart.bars[index]!;
  const before = chart.bars[index - 1];
  const key = bar.keyChange ?? (before === undefined ? chart.header.key : null);
  const keepsMeter = before !== undefined && isSameMeter(before.meter, bar.meter);
  const children = [
    ...(before === undefined ? [tag('divisions', String(divisions))] : []),
    ...(key === null ? [] : [keyElement(key)]),
    ...(keepsMeter ? [] : [timeElement(bar.meter)]),
    ...(before === undefined ? [bassClef, slashes] : []),
    ...simileStyle(bar, before),
  ];
  return children.length === 0 ? [] : [tag('attributes', ...children)];
}

const opensEnding = (bars: readonly ChartBar[], index: number): boolean =>
  bars[index]!.ending !== null && !goesOnUnder(bars[index - 1], bars[index]!);

const closesEnding = (bars: readonly ChartBar[], index: number): boolean => {
  const next = bars[index + 1];
  return (
    bars[index]!.ending !== null &&
    (next === undefined || next.ending === null || opensEnding(bars, index + 1))
  );
};

function leftBarline(bars: readonly ChartBar[], index: number): XmlElement[] {
  const bar = bars[index]!;
  const number = bar.ending?.join(', ') ?? '';
  const children = [
    ...(bar.repeatStart ? [tag('bar-style', 'heavy-light')] : []),
    ...(opensEnding(bars, index) ? [tagWith('ending', { number, type: 'start' }, `${number}.`)] : []),
    ...(bar.repeatStart ? [tagWith('repeat', { direction: 'forward' })] : []),
  ];
  return children.length === 0 ? [] : [tagWith('barline', { location: 'left' }, ...children)];
}

function rightBarline(bars: readonly ChartBar[], index: number): XmlElement[] {
  const bar = bars[index]!;
  const isLast = index === bars.length - 1;
  const style = bar.doubleBar
    ? [barStyle(isLast && bar.repeatEnd === null ? 'light-heavy' : 'light-light')]
    : bar.repeatEnd === null
      ? []
      : [barStyle('light-heavy')];
  const number = bar.ending?.join(', ') ?? '';
  const stop = bar.repeatEnd === null ? 'discontinue' : 'stop';
  const times = bar.repeatEnd === null || bar.repeatEnd === 2 ? {} : { times: String(bar.repeatEnd) };
  const children = [
    ...style,
    ...(closesEnding(bars, index) ? [tagWith('ending', { number, type: stop })] : []),
    ...(bar.repeatEnd === null ? [] : [tagWith('repeat', { direction: 'backward', ...times })]),
  ];
  return children.length === 0 ? [] : [tagWith('barline', { location: 'right' }, ...children)];
}

const sign = (name: 'segno' | 'coda', sound: string): XmlElement =>
  above(tag('direction-type', tag(name)), tagWith('sound', { [sound]: name }));

/** Tempo, feel and swing over the first bar. */
function headingDirections({ header }: Chart): XmlElement[] {
  const { feel, tempo } = header;
  // What bands swing depends on the tempo; without one only even eighths are known.
  const isKnown = tempo !== null || isStraight(feel);
  const swing = isKnown ? [swingElement(tempo === null ? straightRatio : usualSwing(feel, tempo))] : [];
  const sound =
    tempo === null ? swing.map((element) => tag('sound', element)) : [soundElement(tempo, ...swing)];
  return [above(wordsType(feelText(feel)), ...(tempo === null ? [] : [metronomeType(tempo)]), ...sound)];
}

function openingDirections(chart: Chart, index: number): XmlElement[] {
  const { section, segno, coda } = chart.bars[index]!;
  return [
    ...(section === null ? [] : [rehearsalDirection(section)]),
    ...(index === 0 ? headingDirections(chart) : []),
    ...(segno ? [sign('segno', 'segno')] : []),
    ...(coda ? [sign('coda', 'coda')] : []),
  ];
}

function closingDirections({ fine, toCoda, jump }: ChartBar): XmlElement[] {
  const direction = (words: string, sound: Readonly<Record<string, string>>): XmlElement =>
    above(wordsType(words), tagWith('sound', sound));
  return [
    ...(toCoda ? [direction('To Coda', { tocoda: 'coda' })] : []),
    ...(fine ? [direction('Fine', { fine: 'yes' })] : []),
    ...(jump === null
      ? []
      : [direction(jump, jump.startsWith('D.C.') ? { dacapo: 'yes' } : { dalsegno: 'segno' })]),
  ];
}

const restNote = (piece: Piece, isBarRest: boolean): XmlElement =>
  noteElement(
    { note: null, piece, tiedInto: false, tiedOn: false },
    { accidental: null, beams: [], isBarRest },
  );

/** The symbols of one place: the chord, and in their own elements what may be played instead. */
function harmonies({ chord, scale, alternates, optional }: ChartChord, write: HarmonyWriter): XmlElement[] {
  const alternate = (other: Chord): XmlElement => ({ ...write(other, 0), attributes: { type: 'alternate' } });
  const main = write(chord, 0);
  const bracket = tagWith('level', { parentheses: 'yes' }, 'optional');
  return [
    // Words over the chord, as MusicXML has no element for its scale.
    ...(scale === undefined ? [] : [above(wordsType(`{${scale}}`))]),
    optional ? { ...main, children: [...main.children, bracket] } : main,
    ...alternates.map(alternate),
  ];
}

function chordElements(bars: readonly ChartBar[], place: number, write: HarmonyWriter): XmlElement[] {
  const bar = bars[place]!;
  const length = lengthOf(bar);
  const [only] = bar.chords;
  const symbols = (chord: ChartChord): XmlElement[] =>
    chord.offset === 0 && silenceGoesOn(bars, place) ? [] : harmonies(chord, write);
  if (bar.chords.length === 1 && only) {
    const whole: Piece = { start: 0, end: length, value: null, tuplet: null };
    return [...symbols(only), restNote(whole, true)];
  }
  const grid = barGrid(bar.meter, length, place === 0 && length < barTicks(bar.meter));
  const stretches = bar.chords.map((chord) => ({
    start: chord.offset,
    end: chord.offset + chord.length,
    isRest: true,
  }));
  const pieces = writtenValues(stretches, grid);
  return bar.chords.flatMap((chord, index) => [
    ...symbols(chord),
    ...pieces[index]!.map((piece) => restNote(piece, false)),
  ]);
}

/**
 * The chart as a MusicXML document that `importText` reads back as the same chart. What MusicXML has no element for, the
 * order of parts and our name of the feel, stands in <miscellaneous>.
 */
export function chartToMusicXml(chart: Chart): string {
  const { bars, header } = chart;
  const write = harmonyWriter();
  const hasPickup = bars[0]?.pickup === true;
  const measures = bars.map((bar, index) => {
    const isPickup = index === 0 && hasPickup;
    return tagWith(
      'measure',
      { number: String(index + (hasPickup ? 0 : 1)), ...(isPickup ? { implicit: 'yes' } : {}) },
      ...leftBarline(bars, index),
      ...attributesElement(chart, index),
      ...openingDirections(chart, index),
      ...chordElements(bars, index, write),
      ...closingDirections(bar),
      ...rightBarline(bars, index),
    );
  });
  const fields = {
    feel: header.feel,
    ...(header.parts.length === 0 ? {} : { form: JSON.stringify(header.parts) }),
  };
  return scoreDocument(header.title, 'Chords', measures, fields);
}
