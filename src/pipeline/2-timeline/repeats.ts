// Repeats and endings as a tree, and the tree played out. Safe on any nonsense: what does not pair is played straight on.
import { goesOnUnder, repeatsInsideEnding, type ChartBar } from '../1-chart';

/** Bars of one ending and the passes it is for. */
interface Ending {
  readonly passes: readonly number[];
  readonly body: Piece[];
}
interface Repeat {
  readonly kind: 'repeat';
  readonly body: Piece[];
  readonly endings: Ending[];
  times: number;
}
/** A bar by its index, or a stretch that is played several times. */
type Piece = number | Repeat;

/** Deepest nesting of repeat signs; deeper ones are played straight on. */
const deepest = 8;

/** A stretch being built: the repeat it opened (none for the whole), and where its pieces go now. */
interface Frame {
  readonly opened: boolean;
  readonly repeat: Repeat;
  /** The ending being filled, null while the common part is. */
  ending: Ending | null;
  /** Pieces of `repeat.body` before this one stand outside an implied repeat. */
  settled: number;
}

const newFrame = (opened: boolean): Frame => ({
  opened,
  repeat: { kind: 'repeat', body: [], endings: [], times: 1 },
  ending: null,
  settled: 0,
});

class TreeBuilder {
  private readonly frames: Frame[] = [newFrame(false)];

  constructor(
    private readonly bars: readonly ChartBar[],
    /** An implied repeat does not go back before this bar (pickup, introduction). */
    private readonly from: number,
  ) {}

  build(): readonly Piece[] {
    this.bars.forEach((bar, index) => {
      const opened = bar.ending !== null && !goesOnUnder(this.bars[index - 1], bar) ? bar.ending : null;
      const isInside = repeatsInsideEnding(this.bars, index);
      if (opened !== null && isInside) this.openEnding(opened);
      if (bar.repeatStart && this.frames.length <= deepest) this.frames.push(newFrame(true));
      if (opened !== null && !isInside) this.openEnding(opened);
      this.target().push(index);
      if (index === this.from - 1) this.top().settled = this.top().repeat.body.length;
      if (this.top().ending !== null) this.maybeClose(index);
      else if (bar.repeatEnd !== null) {
        this.closePlain(bar.repeatEnd);
        if (this.top().ending !== null) this.maybeClose(index);
      }
    });
    while (this.frames.length > 1) this.splice(this.frames.pop()!);
    return this.wholeOf(this.frames[0]!);
  }

  private top(): Frame {
    return this.frames.at(-1)!;
  }

  private target(): Piece[] {
    const { ending, repeat } = this.top();
    return ending === null ? repeat.body : ending.body;
  }

  private openEnding(passes: readonly number[]): void {
    if (!this.top().opened) this.isolate(this.top());
    const frame = this.top();
    const ending: Ending = { passes, body: [] };
    frame.repeat.endings.push(ending);
    frame.ending = ending;
  }

  /** Makes what stands since the last closed repeat the body of one of its own. */
  private isolate(frame: Frame): void {
    const inner = newFrame(true);
    inner.repeat.body.push(...frame.repeat.body.splice(frame.settled));
    this.frames.push(inner);
  }

  /** After a bar under an ending: does the group of endings go on, or is the repeat complete? */
  private maybeClose(index: number): void {
    const bar = this.bars[index]!;
    const next = this.bars[index + 1];
    const frame = this.top();
    if (next !== undefined && goesOnUnder(bar, next)) return;
    if (bar.repeatEnd !== null) frame.repeat.times = Math.max(frame.repeat.times, bar.repeatEnd);
    const another =
      next !== undefined &&
      next.ending !== null &&
      (!next.repeatStart || repeatsInsideEnding(this.bars, index + 1)) &&
      !next.ending.includes(1);
    if (!another) this.finish();
  }

  private closePlain(times: number): void {
    if (!this.top().opened) this.isolate(this.top());
    this.top().repeat.times = times;
    this.finish();
  }

  private finish(): void {
    if (this.frames.length === 1) return;
    const { repeat } = this.frames.pop()!;
    this.target().push(repeat);
    const outer = this.top();
    if (outer.ending === null) outer.settled = outer.repeat.body.length;
  }

  /** A repeat that was never closed is played straight on. */
  private splice(frame: Frame): void {
    this.target().push(...this.wholeOf(frame));
  }

  private wholeOf({ repeat }: Frame): readonly Piece[] {
    return repeat.endings.length === 0 ? repeat.body : [repeat];
  }
}

/** What to play of the repeats. */
export type RepeatsWish = 'all' | 'last pass only';

/** Bars in the order they are played, as indices; at most `most`. */
export function expandRepeats(
  bars: readonly ChartBar[],
  wish: RepeatsWish,
  most: number,
  from = 0,
): readonly number[] {
  const order: number[] = [];
  let steps = most * 100;
  const play = (pieces: readonly Piece[]): void => {
    for (const piece of pieces) {
      if (order.length >= most) return;
      if (typeof piece === 'number') order.push(piece);
      else playRepeat(piece);
    }
  };
  const playRepeat = ({ body, endings, times }: Repeat): void => {
    const named = endings.flatMap(({ passes }) => passes);
    // Endings without any repeat sign: nothing sends the player back, so all of them are played in turn.
    const last = times === 1 ? 1 : Math.max(times, ...named);
    for (let pass = wish === 'all' ? 1 : last; pass <= last && order.length < most; pass += 1) {
      if ((steps -= 1) < 0) return;
      play(body);
      if (times === 1) endings.forEach((ending) => play(ending.body));
      else play(endings.find(({ passes }) => passes.includes(pass))?.body ?? []);
    }
  };
  play(new TreeBuilder(bars, from).build());
  return order.slice(0, most);
}
