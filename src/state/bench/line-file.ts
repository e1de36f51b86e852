// A line from a file laid on the bench: its notes become text that can be changed, its key, meter and title come along.
import {
  givenLimits,
  meterText,
  printNotes,
  saysNothing,
  type GivenReading,
  type PrintedPlace,
  type Problem,
} from '../../pipeline';
import { makeKey, noteName, printKey } from '../../music';
import { mostOpenedBytes, ReadingDesk, type ConnectReader } from '..';
import { mostTitle, type BenchWish } from './wish';

/** Endings that the file chooser offers. */
export const lineFileEndings = ['.mid', '.midi', '.musicxml', '.xml', '.mxl', '.abc', '.txt'] as const;

export type LineFileFault = 'too large' | 'no notes' | 'not read';

/** What to put on the bench, with what is to be said about it; or why there is nothing. */
export type OpenedLine =
  | {
      readonly kind: 'opened';
      readonly wish: Partial<BenchWish>;
      readonly count: number;
      readonly problems: readonly Problem[];
    }
  | { readonly kind: 'refused'; readonly fault: LineFileFault; readonly problems: readonly Problem[] };

/** What the notes say of the hand; nothing when none of them does. */
function placesOf(notes: readonly PrintedPlace[]): readonly PrintedPlace[] {
  if (notes.every(saysNothing)) return [];
  return notes
    .slice(0, givenLimits.notes)
    .map(({ string, finger, otherFingers }) => ({ string, finger, otherFingers }));
}

/** What is to be done with a line that was read. Never throws. */
export function lineOpened({ notes, frame, printed, problems }: GivenReading): OpenedLine {
  if (notes.length === 0) return { kind: 'refused', fault: 'no notes', problems };
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
    problems,
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
  async open(file: Uint8Array): Promise<OpenedLine | null> {
    if (file.length > mostOpenedBytes) return { kind: 'refused', fault: 'too large', problems: [] };
    const reading = await this.#desk.read(file);
    if (reading === 'superseded') return null;
    return reading === 'failed' ? { kind: 'refused', fault: 'not read', problems: [] } : lineOpened(reading);
  }
}
