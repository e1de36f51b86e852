// A line from a file: its notes become text that can be changed, its key, meter and title come along.
import {
  givenLimits,
  meterText,
  printNotes,
  saysNothing,
  type GivenReading,
  type PrintedPlace,
  type Problem,
} from '../../pipeline';
import type { LineAsk } from '../../worker';
import { makeKey, noteName, printKey } from '../../music';
import { mostOpenedBytes, noParts, ReadingDesk, type ConnectReader, type LineParts } from '..';
import { mostTitle, type BothWaysWish } from './wish';

/** Endings that the file chooser offers. */
export const lineFileEndings = ['.mid', '.midi', '.musicxml', '.xml', '.mxl', '.abc', '.txt'] as const;

export type LineFileFault = 'too large' | 'no notes' | 'no bass' | 'not read';

/** What to put there, with what is to be said about it; or why there is nothing. */
export type OpenedLine =
  | {
      readonly kind: 'opened';
      readonly wish: Partial<BothWaysWish>;
      readonly count: number;
      readonly parts: LineParts;
      readonly problems: readonly Problem[];
    }
  | {
      readonly kind: 'refused';
      readonly fault: LineFileFault;
      /** What could be taken instead, where the file has parts. */
      readonly parts: LineParts;
      readonly problems: readonly Problem[];
    };

/** What the notes say of the hand; nothing when none of them does. */
function placesOf(notes: readonly PrintedPlace[]): readonly PrintedPlace[] {
  if (notes.every(saysNothing)) return [];
  return notes
    .slice(0, givenLimits.notes)
    .map(({ string, finger, otherFingers }) => ({ string, finger, otherFingers }));
}

/** What is to be done with a line that was read. Never throws. */
export function lineOpened({ notes, frame, printed, problems, ...reading }: GivenReading): OpenedLine {
  const parts: LineParts = { names: reading.parts, taken: reading.part };
  if (notes.length === 0) {
    const fault = parts.names.length > 0 ? 'no bass' : 'no notes';
    // The parts are offered to be chosen from: nobody has to ask for one by its number.
    const told = fault === 'no bass' ? problems.filter(({ code }) => code !== 'line-no-bass') : problems;
    return { kind: 'refused', fault, parts, problems: told };
  }
  const key = frame.key ?? makeKey(noteName('C'), 'major');
  return {
    kind: 'opened',
    wish: {
      source: 'own',
      own: printNotes(notes, key),
      ownPrinted: placesOf(printed ?? []),
      ownTitle: (frame.title ?? '').trim().slice(0, mostTitle),
      ownKey: printKey(key),
      ownMeter: meterText(frame.meter ?? { beats: 4, unit: 4 }),
    },
    count: notes.length,
    parts,
    // Which of several was taken stands in the choice of parts.
    problems: problems.filter(({ code }) => code !== 'midi-part'),
  };
}

export type ConnectLine = (
  ...told: Parameters<ConnectReader<'readLine'>>
) => ReturnType<ConnectReader<'readLine'>> & { dispose(): void };

export class LineOpener {
  readonly #desk: ReadingDesk<'readLine'>;
  #dispose: () => void = () => undefined;

  constructor(connect: ConnectLine) {
    this.#desk = new ReadingDesk((...told) => {
      const reader = connect(...told);
      this.#dispose = () => reader.dispose();
      return reader;
    });
  }

  /** Ends its thread; a later file starts another. */
  close(): void {
    this.#desk.giveUp();
    this.#dispose();
  }

  /** Null when a later one was opened meanwhile. Never rejects. */
  async open({ file, part }: LineAsk): Promise<OpenedLine | null> {
    const refused = (fault: LineFileFault): OpenedLine => ({
      kind: 'refused',
      fault,
      parts: noParts,
      problems: [],
    });
    if (file.length > mostOpenedBytes) return refused('too large');
    const reading = await this.#desk.read({ file, part });
    if (reading === 'superseded') return null;
    return reading === 'failed' ? refused('not read') : lineOpened(reading);
  }
}
