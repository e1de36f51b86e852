// The lesson that lies on the sheet in place of the study's line, with what it changed of the line before it. The study
// remembers its names and is otherwise left as it is; every change of it, and leaving, gives its line back.
import type { Chart, Line, Problem, Round, Timeline, WalkResult } from '../pipeline';
import type { LessonNames, Study } from './study';
import type { Studio } from './studio.svelte';

/** A line that can be laid on the sheet. */
export interface SheetLine {
  readonly chart: Chart;
  readonly problems: readonly Problem[];
  readonly timeline: Timeline;
  readonly line: Line;
}

export interface OpenLesson {
  /** "Lean below on Block". */
  readonly name: string;
  /** What the line does, as a sentence. */
  readonly says: string;
  readonly after: SheetLine;
  /** The line that it was made from, and the name of its layer; null where it stands by itself. */
  readonly before: { readonly name: string; readonly of: SheetLine } | null;
  /** Indices of notes that are other than before. */
  readonly changed: readonly number[];
  /** What a study remembers it by; null where it has no names to be made from again. */
  readonly names: LessonNames | null;
  /** How many of the others are held otherwise. */
  readonly heldOtherwise: number;
  /** Thousandths that it may cost more than the least line there is; 0 where it is that line, or none is the least. */
  readonly over: number;
  /** What became other than in the same lesson before the study's last change; null where it is not made again. */
  readonly again: { readonly notes: number; readonly fingers: number } | null;
}

/** A round, and the version of the study that it was made for. */
export interface MadeRound {
  readonly round: Round;
  readonly of: Study;
}

export const lessonSides = ['after', 'before'] as const;
export type LessonSide = (typeof lessonSides)[number];

const asResult = ({ chart, problems, timeline, line }: SheetLine): WalkResult => ({
  chart,
  problems,
  timeline,
  line,
  impossible: null,
  timings: {},
});

type Desk = Pick<Studio, 'isLesson' | 'showLesson' | 'keepLesson'>;

export class LessonSheet {
  readonly #studio: Desk;
  #open: OpenLesson | null = $state.raw(null);
  #side: LessonSide = $state('after');
  /** It is being made again, for what has changed of the study. */
  #isRemade = $state(false);
  #round: MadeRound | null = $state.raw(null);

  constructor(studio: Desk) {
    this.#studio = studio;
  }

  /** What lies on the sheet; null when the study's own line does. */
  get open(): OpenLesson | null {
    return this.#studio.isLesson ? this.#open : null;
  }
  get side(): LessonSide {
    return this.#side;
  }
  /** Notes to be marked on the sheet: those that changed, while the lesson itself is seen. */
  get marked(): readonly number[] {
    return this.open && this.#side === 'after' ? this.open.changed : [];
  }

  /** The last round that was made; null before one was. */
  get round(): MadeRound | null {
    return this.#round;
  }
  keepRound(round: MadeRound | null): void {
    this.#round = round;
  }

  get isRemade(): boolean {
    return this.open !== null && this.#isRemade;
  }
  remake(isUnderWay: boolean): void {
    this.#isRemade = isUnderWay;
  }

  lay(lesson: OpenLesson): void {
    const side = lesson.again && this.open ? this.#side : 'after';
    this.#open = lesson;
    this.#isRemade = false;
    this.show(side);
    this.#studio.keepLesson(lesson.names);
  }

  /** Shows, and plays, the lesson or the line before it. */
  show(side: LessonSide): void {
    const open = this.#open;
    if (!open) return;
    this.#side = open.before ? side : 'after';
    this.#studio.showLesson(asResult(this.#side === 'before' && open.before ? open.before.of : open.after));
  }

  /** Gives the study's line back. */
  leave(): void {
    this.#studio.showLesson(null);
    this.#studio.keepLesson(null);
    this.#open = null;
  }
}
