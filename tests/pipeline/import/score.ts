// MusicXML written by hand, piece by piece, and what is read from it in short.
import { makeTimeline } from '../../../src/pipeline';
import { importText, type ImportReading } from '../../../src/pipeline/1-chart/import';

interface Part {
  readonly measures: readonly string[];
  readonly listed?: string;
  readonly id?: string;
}

export const publicDoctype =
  '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">';

export function score(parts: readonly Part[], head = '', doctype = ''): string {
  const list = parts.map(
    ({ listed = '<part-name>Lead</part-name>' }, index) =>
      `<score-part id="P${index + 1}">${listed}</score-part>`,
  );
  const bodies = parts.map(({ measures }, index) => {
    const numbered = measures.map((content, at) => `<measure number="${at + 1}">${content}</measure>`);
    return `<part id="P${index + 1}">${numbered.join('\n')}</part>`;
  });
  return `<?xml version="1.0"?>${doctype}\n<score-partwise version="4.0">${head}<part-list>${list.join('')}</part-list>${bodies.join('')}</score-partwise>`;
}

export const attributes = (
  more = '',
  meter = '<time><beats>4</beats><beat-type>4</beat-type></time>',
): string =>
  `<attributes><divisions>2</divisions><key><fifths>0</fifths><mode>major</mode></key>${meter}${more}</attributes>`;
export const rest = (duration: number): string =>
  `<note><rest/><duration>${duration}</duration><voice>1</voice></note>`;
export const note = (pitch: string, duration: number, more = ''): string => {
  const [, step, alter, octave] = /^([A-G])([#b]?)(\d)$/.exec(pitch)!;
  const accidental = alter === '#' ? '<alter>1</alter>' : alter === 'b' ? '<alter>-1</alter>' : '';
  return `<note><pitch><step>${step}</step>${accidental}<octave>${octave}</octave></pitch><duration>${duration}</duration><voice>1</voice>${more}</note>`;
};
export const harmony = (root: string, kind: string, more = '', type = ''): string =>
  `<harmony${type}><root><root-step>${root[0]}</root-step>${root[1] === 'b' ? '<root-alter>-1</root-alter>' : root[1] === '#' ? '<root-alter>1</root-alter>' : ''}</root>${kind}${more}</harmony>`;
export const dominant = '<kind text="7">dominant</kind>';
export const degree = (value: number, alter: number, type: string): string =>
  `<degree><degree-value>${value}</degree-value><degree-alter>${alter}</degree-alter><degree-type>${type}</degree-type></degree>`;
export const direction = (words: string, sound = ''): string =>
  `<direction><direction-type><words>${words}</words></direction-type>${sound}</direction>`;
export const barline = (location: string, content: string): string =>
  `<barline location="${location}">${content}</barline>`;
export const backward = '<bar-style>light-heavy</bar-style><repeat direction="backward"/>';
export const forward = '<bar-style>heavy-light</bar-style><repeat direction="forward"/>';

/** Bars of one chord each, on A, B, C and so on. */
export function form(bars: readonly (readonly [root: string, before: string, after: string])[]): string {
  return score([
    {
      measures: bars.map(
        ([root, before, after], index) =>
          `${index === 0 ? attributes() : ''}${before}${harmony(root, dominant)}${rest(8)}${after}`,
      ),
    },
  ]);
}

export const symbolsOf = ({ chart }: ImportReading): string[][] =>
  chart.bars.map(({ chords }) => chords.map(({ chord }) => chord?.symbol ?? 'N.C.'));

export function played(reading: ImportReading): string {
  const { timeline } = makeTimeline(reading.chart, { choruses: 1, tempo: null });
  return timeline!.bars
    .map(({ chords }) => chords.map(({ chord }) => chord?.symbol ?? 'N.C.').join(' '))
    .join(' ');
}

export const codes = ({ problems }: ImportReading): string[] => problems.map(({ code }) => code);

export const listed = '<part-name>Double Bass</part-name>';
export const clef = '<clef><sign>F</sign><line>4</line></clef>';
export const transposed = '<transpose><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>';
/** A bass clef that sounds an octave lower than it is written. */
export const sounding = clef + transposed;
export const back = (duration: number): string => `<backup><duration>${duration}</duration></backup>`;
export const inVoice = (voice: number, text: string): string =>
  text.replaceAll('<voice>1', `<voice>${voice}`).replaceAll('\n', '');

/** A bass part of these measures; a quarter is 2 divisions. */
export const bass = (...measures: string[]): ImportReading =>
  importText(score([{ listed, measures: [`${attributes(sounding)}${measures[0]}`, ...measures.slice(1)] }]));
/** Notes as bar, tick, length and MIDI pitch. */
export const placed = ({ line }: ImportReading): number[][] =>
  (line ?? []).map(({ bar, offset, ticks, midi }) => [bar, offset, ticks, midi]);
/** A part of one voice with chords. */
export const part = (...measures: string[]): ImportReading => importText(score([{ measures }]));
/** A bar of C7. */
export const c7 = `${harmony('C', dominant)}${rest(8)}`;
