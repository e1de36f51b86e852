// The work on the desk: one immutable study with its history, and the line computed for it. Views read the getters and
// call the verbs; nothing else changes the document.
import type { BarIndex } from '../music';
import type { Hand, Instrument } from '../instrument';
import {
  barMarks,
  goesRound,
  keptOf,
  type Chart,
  type Explanation,
  type Impossible,
  type Line,
  type Problem,
  type Timeline,
  type WalkResult,
} from '../pipeline';
import type { BarRange } from '../playback';
import type { Answered, Progress } from '../worker';
import type { Asker, StudioParts } from './asking';
import { carryOver, type HeldBefore } from './carry-over';
import { Chosen } from './chosen.svelte';
import * as verbs from './document';
import type { LessonNames, Study } from './document';
import { Edits, type ShownLine } from './edits';
import { amend, closeGroup, historyOf, record, redo, undo, type History } from './history';
import * as keeping from './keeping';
import { LentLine, type TakePlace } from './lent-line.svelte';
import { pinsAlong } from './pins-along';
import { instrumentOf, requestOf } from './request';
import { handIn } from './setup';
import { titleOf } from './titles';

/** How long a line may be worked out, in milliseconds, before it is shown how far that has come. */
const quietTime = 1_000;

/** What is known about every choice, and the line it is about. */
interface Explained {
  readonly line: Line;
  readonly explanation: Explanation;
}

export class Studio extends Edits {
  readonly #parts: StudioParts;
  readonly #source: Asker<'walk'>;
  readonly #explainer: Asker<'explain'>;
  #history = $state.raw<History<Study>>(historyOf(verbs.newStudy('')));
  #result = $state.raw<WalkResult | null>(null);
  #shown = $state.raw<ShownLine | null>(null);
  readonly #lent = new LentLine();
  #explained = $state.raw<Explained | null>(null);
  #isExplaining = $state(false);
  #isSolving = $state(false);
  /** When the work under way began, and how far it has come where it takes long. */
  #began = 0;
  #progress = $state.raw<Progress | null>(null);
  /** The person stopped the work on the present study. */
  #isStopped = $state(false);
  #failure = $state<string | null>(null);
  readonly #chosen = new Chosen();
  /** The version of the study that holds the notes shown for it. */
  #settled: Study | null = null;
  /** What was held before a run of typing began, so that a chord half typed costs no bar and no pin. */
  #beforeTyping: HeldBefore | null = null;
  /** The study was put on the desk and has not been answered yet. */
  #isFresh = true;

  readonly #instrument = $derived(instrumentOf(this.study));
  readonly #hand: Hand = $derived(handIn(this.study));

  constructor(parts: StudioParts) {
    super();
    this.#parts = parts;
    this.#history = historyOf(parts.study);
    this.#source = parts.connect(
      (answered) => {
        this.#receive(answered);
      },
      (message) => {
        this.#isSolving = false;
        this.#progress = null;
        this.#failure = message;
      },
      (progress) => {
        if (parts.now() - this.#began >= quietTime) this.#progress = progress;
      },
    );
    this.#explainer = parts.connectExplainer(
      (answered) => {
        this.#learn(answered);
      },
      // Without an explanation the line stands as it is; the panels leave the prices out.
      () => {
        this.#isExplaining = false;
      },
    );
    const { study, answer } = parts;
    if (answer) this.#receive({ ask: requestOf(study), answer, isLatest: true });
    else this.#solve();
  }

  /** Readies the worker for the first change of a study whose line was known beforehand. */
  prepare(): void {
    if (this.#parts.answer && !this.#isSolving) this.#source.prepare?.(requestOf(this.#parts.study));
  }

  get study(): Study {
    return this.#history.present;
  }
  get canUndo(): boolean {
    return this.#history.past.length > 0;
  }
  get canRedo(): boolean {
    return this.#history.future.length > 0;
  }
  get instrument(): Instrument {
    return this.#instrument;
  }
  get hand(): Hand {
    return this.#hand;
  }
  /** As written, in the key asked for; null until the first answer. */
  get chart(): Chart | null {
    return (this.#lent.result ?? this.#result)?.chart ?? null;
  }
  get title(): string {
    return this.chart?.header.title ?? titleOf(this.study.chartText) ?? '';
  }
  get problems(): readonly Problem[] {
    return this.#result?.problems ?? [];
  }
  get impossible(): Impossible | null {
    return this.#result?.impossible ?? null;
  }
  /** The last line that could be found; it stays while another is sought or none exists. */
  get shown(): ShownLine | null {
    return this.#lent.shown ?? this.#shown;
  }
  protected get mine(): ShownLine | null {
    return this.isAway ? null : this.shown;
  }
  protected get ownShift(): number {
    return this.#result?.ownShift ?? 0;
  }
  /** The player's own line as it would be held with the other of its two fingerings; null where there are not two. */
  get otherFingers(): Line | null {
    return (this.mine && !this.#lent.isThere && this.#result?.otherFingers) || null;
  }
  /** The line on show is a lesson. */
  get isLesson(): boolean {
    return this.#lent.kind === 'lesson';
  }
  /** The line on show is a take that was drawn beside the study, laid on the sheet. */
  get isLaid(): boolean {
    return this.#lent.kind === 'laid';
  }
  /** The line on show goes round as it is, whatever each pass is to bring. */
  get isFixed(): boolean {
    return this.isLesson || this.isLaid || this.#lent.kind === 'heard';
  }
  /** The line on show is not the study's own: it is practised in another key, a lesson, or a take drawn beside it. */
  get isAway(): boolean {
    return this.#lent.isThere && this.#lent.kind !== 'take';
  }
  /** Prices and elbow room for the shown line; null until they are known. */
  get explanation(): Explanation | null {
    return this.#explained !== null && this.#explained.line === this.shown?.line
      ? this.#explained.explanation
      : null;
  }
  /** The explanation of the shown line is on its way. */
  get isExplaining(): boolean {
    return this.#isExplaining && this.explanation === null;
  }
  /** True while the shown line is not the one for the present study. */
  get isStale(): boolean {
    const isWithoutLine = this.#result !== null && this.#result.line === null;
    return !this.#lent.isThere && (this.#isSolving || this.#isStopped || isWithoutLine);
  }
  get isSolving(): boolean {
    return this.#isSolving;
  }
  /** How far the work on a line has come that takes over a second; null otherwise. */
  get progress(): Progress | null {
    return this.#progress;
  }
  /** True once the work on the present study was stopped: what is shown is an earlier line. */
  get isStopped(): boolean {
    return this.#isStopped;
  }
  /** Why the computation itself broke; null when it did not. */
  get failure(): string | null {
    return this.#failure;
  }
  /** Index of the note the person chose, null when none. */
  get selected(): number | null {
    return this.#chosen.note;
  }
  /** The bars chosen for playing over and over. */
  get bars(): BarRange | null {
    return this.#chosen.bars;
  }

  /** Shows a line in another key while it is practised; the study stays as it is. Null gives it back. */
  showAway(result: WalkResult | null): void {
    // A lesson that was laid over another key stays.
    if (result !== null || !this.isLesson) this.#lent.lend(result, 'key');
  }
  /** Shows the line of a lesson; the line of the study stays as it is. Null gives it back. */
  showLesson(result: WalkResult | null): void {
    if (result !== null || this.isLesson) this.#lent.lend(result, 'lesson');
    this.#chosen.fit(this.shown);
  }
  /** Remembers the lesson on show, so that it lies there when the study is opened again; null for none. */
  keepLesson(lesson: LessonNames | null): void {
    this.#moveLesson(record(this.#history, verbs.setLesson(this.study, lesson), null, this.#parts.now()));
  }
  /** Plays, or shows, a take drawn beside the study, which stays as it is. Null gives back what was there before. */
  showTake(result: WalkResult | null, place: TakePlace): void {
    this.#lent.lay(result, place);
    this.#chosen.takeNote(this.selected, this.shown);
  }
  /** A new take because the music came round: a run of passes is one step of the history. */
  passTake(seed: number, result: WalkResult): void {
    this.#lent.lend(result, 'take');
    this.commit(verbs.setTake(this.study, seed), 'passes', Number.POSITIVE_INFINITY);
  }
  undo(): void {
    this.#beforeTyping = null;
    this.#move(undo(this.#history));
  }
  redo(): void {
    this.#beforeTyping = null;
    this.#move(redo(this.#history));
  }
  /** Ends a drag or a run of typing: the next change is a step of its own. */
  endGesture(): void {
    this.#history = closeGroup(this.#history);
  }

  /** Puts another study on the desk, with a history of its own. */
  open(study: Study): void {
    this.#history = historyOf(study);
    this.#beforeTyping = null;
    this.#isFresh = true;
    this.#lent.giveBack();
    this.#chosen.clear();
    this.#solve();
  }

  /** Gives up the work under way; the last line that was found stays. */
  stop(): void {
    if (!this.#isSolving) return;
    this.#source.cancel();
    this.#isSolving = false;
    this.#progress = null;
    this.#isStopped = true;
  }

  /** Asks once more after the computation broke or was stopped. */
  solveAgain(): void {
    this.#solve();
  }

  select(index: number | null): void {
    this.#chosen.takeNote(index, this.shown);
  }

  /** See `Chosen`. */
  selectBar(bar: BarIndex, extend = false): void {
    this.#chosen.takeBar(bar, extend);
  }
  selectChartBar(chartBar: number): void {
    if (this.#shown) this.#chosen.takeChartBar(chartBar, this.#shown.timeline);
  }
  setBars(range: BarRange | null): void {
    this.#chosen.takeBars(range, this.#shown?.timeline);
  }

  protected commit(next: Study, group: string | null = null, pause?: number): void {
    if (next === this.study) return;
    const recorded = record(this.#history, next, group, this.#parts.now(), pause);
    const goesOn = recorded.past === this.#history.past;
    const beforeTyping = goesOn ? this.#beforeTyping : null;
    const carried = carryOver(next, { before: this.study, marks: this.#marks(), beforeTyping });
    const { kept, pins } = carried;
    this.#beforeTyping = group === 'chart' ? (beforeTyping ?? { kept, pins }) : null;
    // A lesson stays where it is still the same that is asked for: it is made again.
    const lesson = verbs.asksSameLesson(this.study, next) ? carried.lesson : null;
    this.#move(amend(recorded, verbs.setLesson(carried, lesson)));
  }

  /** What the bars of the line shown for the present study were made for. */
  #marks(): readonly string[] | null {
    return this.#settled !== this.study || !this.#shown ? null : this.#marksOf(this.#shown.timeline);
  }
  #marksOf({ bars, feel }: Timeline): readonly string[] {
    return barMarks(bars, feel, !goesRound(this.study.ending));
  }

  #move(history: History<Study>): void {
    if (history === this.#history) return;
    if (verbs.haveSameLine(this.study, history.present)) {
      this.showLesson(null);
      this.#moveLesson(history);
      this.#recall();
      return;
    }
    const staysAsItIs = verbs.isOtherTempo(this.study, history.present);
    this.#history = history;
    this.#solve(staysAsItIs);
    this.#parts.onchange?.(history.present);
  }

  /** To a version of the study that has the same line. */
  #moveLesson(history: History<Study>): void {
    if (history === this.#history) return;
    if (this.#settled === this.study) this.#settled = history.present;
    this.#history = history;
    this.#parts.onchange?.(history.present);
  }

  /** The lesson that the study remembers, if any, is to be laid on the sheet again. */
  #recall(): void {
    if (this.study.lesson) this.#parts.onlesson?.(this.study.lesson);
  }

  /** The document keeps the notes it shows; that is no step of its own. */
  #keep(timeline: Timeline, line: Line, result: WalkResult): void {
    const { lostLocks = 0, lostNotes = 0, locked = [] } = result.keeping ?? {};
    if (lostLocks > 0) this.#parts.onlost?.('locked bars');
    else if (this.#isFresh && lostNotes > 0) this.#parts.onlost?.('notes');
    const wasFresh = this.#isFresh;
    this.#isFresh = false;
    const { study } = this;
    const kept = keeping.withKept(study, keptOf(line, timeline, locked));
    this.#history = amend(this.#history, kept);
    this.#settled = kept;
    // A study that was only opened is not saved for that.
    if (kept !== study && !wasFresh) this.#parts.onkept?.(kept);
  }

  /** Pins that lie elsewhere once the chart is read: the line is asked for anew with them there. */
  #takePinsAlong(timeline: Timeline): boolean {
    // What bars are made of is written out for the whole form: not for a study without pins, after each of its answers.
    const found = this.study.pins.length > 0 && pinsAlong(this.study, this.#marksOf(timeline));
    if (!found) return false;
    const { pins, kept, lostLocks } = found;
    if (lostLocks > 0) this.#parts.onlost?.('locked bars');
    this.#history = amend(this.#history, { ...this.study, pins, kept });
    this.#solve(true);
    return true;
  }

  /** @param staysAsItIs a lesson without names, such as a key of a round, stays on the sheet as it is */
  #solve(staysAsItIs = false): void {
    this.#isSolving = true;
    this.#isStopped = false;
    this.#progress = null;
    // A lesson that is made again stays until it is there.
    const isLeft = this.isLesson && !staysAsItIs && this.study.lesson === null;
    if (isLeft || this.isLaid) this.#lent.giveBack();
    this.#began = this.#parts.now();
    this.#source.request(requestOf(this.study));
    this.#recall();
  }

  #receive({ ask, answer: result, isLatest }: Answered<'walk'>): void {
    if (isLatest && result.timeline && this.#takePinsAlong(result.timeline)) return;
    this.#result = result;
    this.#failure = null;
    this.#isSolving = !isLatest;
    this.#progress = null;
    const { timeline, line } = result;
    if (!timeline || !line) return;
    this.#shown = { timeline, line };
    if (this.#lent.kind === 'take' && isLatest) this.#lent.giveBack();
    this.#chosen.takeNote(this.selected, this.shown);
    this.#chosen.takeBars(this.bars, timeline);
    if (!isLatest) return;
    this.#keep(timeline, line, result);
    const request = { ...ask, kept: this.study.kept };
    this.#isExplaining = true;
    this.#explainer.request({ request, result, room: false });
  }

  /** Prices first, as they are quick; then once more with elbow room. */
  #learn({ ask, answer: explanation }: Answered<'explain'>): void {
    const { line } = ask.result;
    if (!line || line !== this.#shown?.line) return;
    this.#isExplaining = false;
    if (!explanation) return;
    this.#explained = { line, explanation };
    if (!ask.room) this.#explainer.request({ ...ask, room: true });
  }
}
