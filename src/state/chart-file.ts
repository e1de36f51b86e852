// A file, or a text from the clipboard, as chart text: what replaces the changes when somebody opens a tune.
import { saysNothing, type FileReading, type OwnLine, type OwnNote, type Problem } from '../pipeline';
import type { ReadAsk } from '../worker';
import { studyRange } from './document';
import { mostOwnNotes } from './own-text';
import { mostOpenedBytes, noParts, ReadingDesk, type ConnectReader, type LineParts } from './reading';

/** Endings that the file chooser offers. */
export const chartFileEndings = ['.txt', '.musicxml', '.xml', '.mxl', '.abc', '.mid', '.midi'] as const;

export type ChartFileFault = 'too large' | 'no chart' | 'no chords' | 'which part' | 'too long' | 'not read';

/** Chart text to put in place, with what is to be said about it; or why there is none. */
export type OpenedChart =
  | {
      readonly kind: 'opened';
      readonly text: string;
      /** The line that the file has beside its changes; null for none. */
      readonly own: OwnLine | null;
      /** There is no chord in the file, only its line. */
      readonly isBare: boolean;
      readonly parts: LineParts;
      readonly problems: readonly Problem[];
    }
  | {
      readonly kind: 'refused';
      readonly fault: ChartFileFault;
      /** What a line could be taken from. */
      readonly parts: LineParts;
      readonly problems: readonly Problem[];
    };

/** A file, or a text as it was pasted. */
export type ChartSource = ReadAsk['source'];

/** What is refused before anything is read of it; null for what is worth reading. */
export function refusedUnread(source: ChartSource): OpenedChart | null {
  return source.length > mostOpenedBytes
    ? { kind: 'refused', fault: 'too large', parts: noParts, problems: [] }
    : null;
}

/** The line of a file as one's own: the fingers that stand there, where any do, else ours. */
function ownOf(line: FileReading['line']): OwnLine | null {
  const notes = (line ?? [])
    .slice(0, mostOwnNotes)
    .map(({ bar, offset, ticks, midi, string, finger, otherFingers }): OwnNote => ({
      ...{ bar, at: offset, ticks, midi, string, finger, otherFingers },
    }));
  if (notes.length === 0) return null;
  return { notes, fingering: notes.every(saysNothing) ? 'ours' : 'theirs' };
}

/** What is said of files without chord symbols. */
const chordless: ReadonlySet<string> = new Set(['score-no-chords', 'score-line-only']);

/** What is to be done with a source that was read. Chart text in a file is kept as it is written. Never throws. */
export function openedAs(reading: FileReading): OpenedChart {
  const { kind, chart, line, text, problems } = reading;
  const parts: LineParts = { names: reading.parts, taken: reading.part };
  const refused = (fault: ChartFileFault): OpenedChart => ({ kind: 'refused', fault, parts, problems });
  // Which of its parts is the line is asked, not guessed; there is nothing else in the file.
  if (kind === 'midi' && parts.names.length > 0 && parts.taken === null)
    return { kind: 'refused', fault: 'which part', parts, problems: [] };
  if (chart.bars.length === 0) return refused('no chart');
  const own = ownOf(line);
  const isBare = kind === 'midi' || problems.some(({ code }) => chordless.has(code));
  // Bars without a single chord or note would take the place of changes with nothing.
  if (isBare && !own) return refused(parts.names.length > 1 ? 'which part' : 'no chords');
  if (text.length > studyRange.chartText.most) return refused('too long');
  // The editor tells of what is wrong in chart text by itself; what is said of a line concerns no changes.
  const ofChanges = problems.filter(
    ({ code }) => !code.startsWith('line-') && code !== 'midi-part' && !chordless.has(code),
  );
  return { kind: 'opened', text, own, isBare, parts, problems: kind === 'text' ? [] : ofChanges };
}

/** True for a text that is a whole file of another kind, MusicXML or ABC; any other is pasted as it is. */
export const isFileText = (text: string): boolean =>
  /^\s*<(?:\?xml|!DOCTYPE|score-)/.test(text) || (/^X:\s*\d*\s*$/m.test(text) && /^K:/m.test(text));

/** Opens files in a thread of their own. */
export class ChartOpener {
  readonly #desk: ReadingDesk<'read'>;

  constructor(connect: ConnectReader<'read'>) {
    this.#desk = new ReadingDesk(connect);
  }

  /**
   * Null when a later one was opened meanwhile. Never rejects.
   * @param part that the line is taken from, counted from 1; null for the one that is clearly the bass
   */
  async open(source: ChartSource, part: number | null = null): Promise<OpenedChart | null> {
    const refused = refusedUnread(source);
    if (refused) return refused;
    const reading = await this.#desk.read({ source, part });
    if (reading === 'superseded') return null;
    return reading === 'failed'
      ? { kind: 'refused', fault: 'not read', parts: noParts, problems: [] }
      : openedAs(reading);
  }
}
