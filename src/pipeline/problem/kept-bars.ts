// Which bars of a line that was shown stand where in the present form, and which of them still fit.
//
// A bar fits where it was made for the same chords, length and feel. When bars were put in or taken out, the bars that fit
// are found as the longest run of them in common, so that a line moves along with its chart.
import { barAfter, barIndex, indexOfBar, type BarIndex } from '../../music';
import type { Feel } from '../1-chart';
import type { TimelineBar } from '../2-timeline';
import type { KeptBar } from '../types';

/** Everything about a bar that its notes were made for, as text to compare. */
export function barMark(bar: TimelineBar, feel: Feel, isEnd: boolean): string {
  const chords = bar.chords
    .filter((one, index) => index === 0 || one.isChange)
    .map((one) => `${one.chord?.symbol ?? 'N.C.'}@${one.tick - bar.tick}`);
  return [feel, bar.ticks, ...(isEnd ? ['end'] : []), ...chords].join(' ');
}

/** The marks of all bars, in playing order. */
export const barMarks = (bars: readonly TimelineBar[], feel: Feel, isFinal: boolean): readonly string[] =>
  bars.map((bar, index) => barMark(bar, feel, isFinal && index === bars.length - 1));

/** Kept bars by the index of the bar they stand in now. */
export interface PlacedBars {
  /** Stay as they are. */
  readonly held: ReadonlyMap<BarIndex, KeptBar>;
  /** Of these the locked ones. */
  readonly locked: ReadonlySet<BarIndex>;
  /** Drawn anew, to come out otherwise. */
  readonly free: ReadonlyMap<BarIndex, KeptBar>;
  /** Bars whose last note may change, because what it leads to has. */
  readonly loose: ReadonlySet<BarIndex>;
  readonly lostLocks: number;
}

const fits = (kept: KeptBar, mark: string | undefined): boolean =>
  mark !== undefined && (kept.mark === undefined || kept.mark === mark);

/** Pairs of a longest common run of marks; time and room grow with the product of what differs. */
function commonRun(kept: readonly KeptBar[], marks: readonly string[]): (readonly [KeptBar, BarIndex])[] {
  let start = 0;
  while (start < kept.length && fits(kept[start]!, marks[start])) start += 1;
  let end = 0;
  const most = Math.min(kept.length, marks.length) - start;
  while (end < most && fits(kept[kept.length - 1 - end]!, marks[marks.length - 1 - end])) end += 1;
  const rows = kept.length - start - end;
  const columns = marks.length - start - end;
  const width = columns + 1;
  const lengths = new Uint16Array((rows + 1) * width);
  for (let i = rows - 1; i >= 0; i--) {
    for (let j = columns - 1; j >= 0; j--) {
      lengths[i * width + j] = fits(kept[start + i]!, marks[start + j])
        ? lengths[(i + 1) * width + j + 1]! + 1
        : Math.max(lengths[(i + 1) * width + j]!, lengths[i * width + j + 1]!);
    }
  }
  const pairs: [KeptBar, BarIndex][] = kept.slice(0, start).map((bar, place) => [bar, barIndex(place)]);
  for (let i = 0, j = 0; i < rows && j < columns;) {
    const below = lengths[(i + 1) * width + j]!;
    const beside = lengths[i * width + j + 1]!;
    if (fits(kept[start + i]!, marks[start + j]) && lengths[i * width + j]! > Math.max(below, beside)) {
      pairs.push([kept[start + i]!, barIndex(start + j)]);
      i += 1;
      j += 1;
    } else if (below >= beside) i += 1;
    else j += 1;
  }
  for (let i = end; i > 0; i--) pairs.push([kept[kept.length - i]!, barIndex(marks.length - i)]);
  return pairs;
}

/** Each bar where it stood, and a locked one there even when its chords have changed. */
function inPlace(kept: readonly KeptBar[], marks: readonly string[]): (readonly [KeptBar, BarIndex])[] {
  return kept.flatMap((bar) => {
    const index = indexOfBar(bar.bar);
    const stays = fits(bar, marks[index]) || (bar.hold === 'locked' && index < marks.length);
    return stays ? [[bar, index] as const] : [];
  });
}

/** Where kept bars stand in a form whose bars have these marks. */
export function placeKept(kept: readonly KeptBar[], marks: readonly string[]): PlacedBars {
  const fitting = kept.filter((bar) => fits(bar, marks[indexOfBar(bar.bar)])).length;
  const isMarked = kept.every(({ mark }) => mark !== undefined);
  // With as many bars as before each is where it was; only what is written in it may have changed.
  const mayHaveMoved = isMarked && fitting < kept.length && kept.length !== marks.length;
  const moved = mayHaveMoved ? commonRun(kept, marks) : [];
  const pairs = moved.length > fitting ? moved : inPlace(kept, marks);
  const held = new Map<BarIndex, KeptBar>();
  const free = new Map<BarIndex, KeptBar>();
  for (const [bar, index] of pairs) (bar.hold === 'free' ? free : held).set(index, bar);
  const locked = new Set([...held].flatMap(([index, { hold }]) => (hold === 'locked' ? [index] : [])));
  const loose = new Set(
    [...held.keys()].filter((index) => {
      const next = barAfter(index);
      return !locked.has(index) && next < marks.length && !held.has(next) && !free.has(next);
    }),
  );
  const locks = kept.filter(({ hold }) => hold === 'locked').length;
  return { held, locked, free, loose, lostLocks: locks - locked.size };
}
