// How long each study was played, kept on this device and nowhere else.
import * as v from 'valibot';
import { addToDays, readDays, weekBeside, writeDays, type WeekBeside } from './practice-days';
import type { TextStorage } from './preferences';

const rowSchema = v.object({
  id: v.pipe(v.string(), v.maxLength(200)),
  seconds: v.pipe(v.number(), v.minValue(0)),
  day: v.pipe(v.string(), v.maxLength(10)),
  onDay: v.pipe(v.number(), v.minValue(0)),
});
type Row = Readonly<v.InferOutput<typeof rowSchema>>;

/** Seconds of playing. */
export interface Practised {
  readonly today: number;
  readonly total: number;
}

/** The day as the clock on the wall has it. Put together here: asking the browser's languages would cost some pictures. */
export const dayOf = (now: Date): string =>
  [
    String(now.getFullYear()).padStart(4, '0'),
    String(now.getMonth() + 1).padStart(2, '0'),
    String(now.getDate()).padStart(2, '0'),
  ].join('-');

export const practiceKey = 'ramble.practice';
/** Studies remembered; those played longest ago give way. */
const mostRows = 500;

function read(storage: TextStorage | null): readonly Row[] {
  try {
    const rows: unknown = JSON.parse(storage?.getItem(practiceKey) ?? '[]');
    return Array.isArray(rows)
      ? rows.flatMap((row) => {
          const result = v.safeParse(rowSchema, row);
          return result.success ? [result.output] : [];
        })
      : [];
  } catch {
    return [];
  }
}

/** Both together; of the day the later of the two counts. Days compare as text. */
function sumOf(a: Row, b: Row): Row {
  const day = a.day > b.day ? a.day : b.day;
  const onDay = [a, b].reduce((sum, row) => sum + (row.day === day ? row.onDay : 0), 0);
  return { id: a.id, seconds: a.seconds + b.seconds, day, onDay };
}

/** Adds up the playing by study. What lies in the storage is read again before each addition: other tabs count, too. */
export class PracticeLog {
  readonly #storage: TextStorage | null;
  readonly #today: () => string;
  #rows: readonly Row[] = $state.raw([]);

  /** `today`: the day as the person counts it, such as "2030-02-28". */
  constructor(storage: TextStorage | null, today: () => string) {
    this.#storage = storage;
    this.#today = today;
    this.#rows = read(storage);
  }

  add(id: string, seconds: number): void {
    if (seconds <= 0) return;
    const day = this.#today();
    this.#addRow({ id, seconds, day, onDay: seconds });
    writeDays(this.#storage, addToDays(readDays(this.#storage), day, seconds));
  }

  /** This week's minutes beside the usual week's, as they are now. */
  week(): WeekBeside {
    return weekBeside(readDays(this.#storage), this.#today());
  }

  /** What was played under one id goes on under another, as when a study is saved for the first time. */
  move(from: string, to: string): void {
    const row = from === to ? undefined : this.#take(from);
    if (row) this.#addRow({ ...row, id: to });
  }

  /** Forgets a study; the function that is returned brings its time back. */
  forget(id: string): () => void {
    const row = this.#take(id);
    return () => {
      if (row) this.#addRow(row);
    };
  }

  of(id: string): Practised {
    const row = this.#rows.find((one) => one.id === id);
    return { today: row?.day === this.#today() ? row.onDay : 0, total: row?.seconds ?? 0 };
  }

  /** As they are now: another tab may have written. */
  #present(): readonly Row[] {
    return this.#storage ? read(this.#storage) : this.#rows;
  }

  /** Adds a row to what is there under its id. */
  #addRow(row: Row): void {
    const rows = this.#present();
    const before = rows.find(({ id }) => id === row.id);
    this.#write([before ? sumOf(before, row) : row, ...rows.filter((other) => other !== before)]);
  }

  /** Takes a row out. */
  #take(id: string): Row | undefined {
    const rows = this.#present();
    const found = rows.find((row) => row.id === id);
    if (found) this.#write(rows.filter((row) => row !== found));
    return found;
  }

  #write(rows: readonly Row[]): void {
    this.#rows = rows.slice(0, mostRows);
    try {
      this.#storage?.setItem(practiceKey, JSON.stringify(this.#rows));
    } catch {
      // A browser without room forgets the minutes; playing goes on.
    }
  }
}
