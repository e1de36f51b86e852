// A file, or a text from the clipboard, as chart text: what replaces the changes when somebody opens a tune.
import { isMidi, printChart, type ImportReading, type Problem } from '../pipeline';
import type { Answered, Ask } from '../worker';
import { studyRange } from './document';

/** Files larger than this are not opened on the screen: the longest real charts are a fraction of it. */
export const mostChartFileBytes = 4 * 1024 * 1024;
/** Endings that the file chooser offers. */
export const chartFileEndings = ['.txt', '.musicxml', '.xml', '.mxl', '.abc'] as const;
/** Milliseconds that reading may take; the largest honest files take a few hundred. */
export const mostReadingTime = 20_000;

export type ChartFileFault = 'too large' | 'a line' | 'no chart' | 'too long' | 'not read';

/** Chart text to put in place, with what is to be said about it; or why there is none. */
export type OpenedChart =
  | { readonly kind: 'opened'; readonly text: string; readonly problems: readonly Problem[] }
  | { readonly kind: 'refused'; readonly fault: ChartFileFault; readonly problems: readonly Problem[] };

/** A file, or a text as it was pasted. */
export type ChartSource = Ask<'read'>;

/** What is refused before anything is read of it; null for what is worth reading. */
export function refusedUnread(source: ChartSource): OpenedChart | null {
  if (source.length > mostChartFileBytes) return { kind: 'refused', fault: 'too large', problems: [] };
  const isLine = typeof source !== 'string' && isMidi(source);
  return isLine ? { kind: 'refused', fault: 'a line', problems: [] } : null;
}

/** What is to be done with a source that was read. Chart text in a file is kept as it is written. Never throws. */
export function openedAs({ kind, chart, problems }: ImportReading, source: ChartSource): OpenedChart {
  const refused = (fault: ChartFileFault): OpenedChart => ({ kind: 'refused', fault, problems });
  if (chart.bars.length === 0) return refused('no chart');
  const text =
    kind === 'text' && typeof source !== 'string'
      ? new TextDecoder('utf-8').decode(source).replace(/\r\n?/g, '\n')
      : printChart(chart);
  if (text.length > studyRange.chartText.most) return refused('too long');
  // The editor tells of what is wrong in chart text by itself; what is said of a line concerns no changes.
  const ofChanges = problems.filter(({ code }) => !code.startsWith('line-'));
  return { kind: 'opened', text, problems: kind === 'text' ? [] : ofChanges };
}

/** True for a text that is a whole file of another kind, MusicXML or ABC; any other is pasted as it is. */
export const isFileText = (text: string): boolean =>
  /^\s*<(?:\?xml|!DOCTYPE|score-)/.test(text) || (/^X:\s*\d*\s*$/m.test(text) && /^K:/m.test(text));

/** The side of a worker client that reads files. */
export interface Reader {
  request(source: ChartSource): void;
  cancel(): void;
}
export type ConnectReader = (
  onanswer: (answered: Pick<Answered<'read'>, 'ask' | 'answer'>) => void,
  onfailure: (message: string) => void,
) => Reader;

interface Pending {
  readonly source: ChartSource;
  readonly settle: (opened: OpenedChart | null) => void;
  readonly timer: ReturnType<typeof setTimeout>;
}

/** Opens files in a thread of their own, so that no file can hold up the page. One at a time: the latest counts. */
export class ChartOpener {
  readonly #reader: Reader;
  #pending: Pending | null = null;

  constructor(connect: ConnectReader) {
    this.#reader = connect(
      ({ ask, answer }) => {
        // What was given up may still be answered before its worker ends.
        if (ask === this.#pending?.source) this.#finish(openedAs(answer, ask));
      },
      () => {
        this.#finish(notRead);
      },
    );
  }

  /** Null when a later one was opened meanwhile. Never rejects. */
  open(source: ChartSource): Promise<OpenedChart | null> {
    const refused = refusedUnread(source);
    if (refused) return Promise.resolve(refused);
    this.#finish(null);
    this.#reader.cancel();
    return new Promise((settle) => {
      const timer = setTimeout(() => {
        this.#reader.cancel();
        this.#finish(notRead);
      }, mostReadingTime);
      this.#pending = { source, settle, timer };
      this.#reader.request(source);
    });
  }

  #finish(opened: OpenedChart | null): void {
    const pending = this.#pending;
    if (!pending) return;
    this.#pending = null;
    clearTimeout(pending.timer);
    pending.settle(opened);
  }
}

const notRead: OpenedChart = { kind: 'refused', fault: 'not read', problems: [] };
