// The work on the desk: one immutable study with its history, and the line computed for it. Views read the getters and
// call the verbs; nothing else changes the document.
import type { Key } from '../music';
import type { Hand, HandPosition, Instrument, Placement } from '../instrument';
import type {
  Chart,
  Explanation,
  Impossible,
  Line,
  Problem,
  Timeline,
  WalkResult,
  WishInConflict,
} from '../pipeline';
import type { BarRange } from '../playback';
import type { Answered, Ask } from '../worker';
import * as verbs from './document';
import type { Study } from './document';
import { closeGroup, historyOf, record, redo, undo, type History } from './history';
import { extendRange, firstPlayed, fitRange } from './loop';
import { instrumentOf, requestOf } from './request';
import { titleOf } from './titles';

/** A timeline and the line over it, as last found. */
export interface ShownLine {
  readonly timeline: Timeline;
  readonly line: Line;
}

/** The side of a worker client that the studio uses. */
export interface Asker<Name extends 'walk' | 'explain'> {
  request(ask: Ask<Name>): void;
}

/** Makes an asker that answers through the two functions. */
export type Connect<Name extends 'walk' | 'explain'> = (
  onanswer: (answered: Answered<Name>) => void,
  onfailure: (message: string) => void,
) => Asker<Name>;

export interface StudioParts {
  readonly study: Study;
  readonly connect: Connect<'walk'>;
  /** Explanations come after the line, from a thread of their own. */
  readonly connectExplainer: Connect<'explain'>;
  readonly now: () => number;
  /** Called after every change of the document, undo and redo included. */
  readonly onchange?: (study: Study) => void;
}

/** What is known about every choice, and the line it is about. */
interface Explained {
  readonly line: Line;
  readonly explanation: Explanation;
}

export class Studio {
  readonly #parts: StudioParts;
  readonly #source: Asker<'walk'>;
  readonly #explainer: Asker<'explain'>;
  #history = $state.raw<History<Study>>(historyOf(verbs.newStudy('')));
  #result = $state.raw<WalkResult | null>(null);
  #shown = $state.raw<ShownLine | null>(null);
  #explained = $state.raw<Explained | null>(null);
  #isSolving = $state(false);
  #failure = $state<string | null>(null);
  #selected = $state<number | null>(null);
  #bars = $state.raw<BarRange | null>(null);

  readonly #instrument = $derived(instrumentOf(this.study));
  readonly #hand: Hand = $derived({ span: this.study.span });

  constructor(parts: StudioParts) {
    this.#parts = parts;
    this.#history = historyOf(parts.study);
    this.#source = parts.connect(
      (answered) => {
        this.#receive(answered);
      },
      (message) => {
        this.#isSolving = false;
        this.#failure = message;
      },
    );
    this.#explainer = parts.connectExplainer(
      (answered) => {
        this.#learn(answered);
      },
      // Without an explanation the line stands as it is; the panels leave the prices out.
      () => undefined,
    );
    this.#solve();
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
    return this.#result?.chart ?? null;
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
    return this.#shown;
  }
  /** Prices and elbow room for the shown line; null until they are known. */
  get explanation(): Explanation | null {
    return this.#explained !== null && this.#explained.line === this.#shown?.line
      ? this.#explained.explanation
      : null;
  }
  /** True while the shown line is not the one for the present study. */
  get isStale(): boolean {
    return this.#isSolving || (this.#result !== null && this.#result.line === null);
  }
  get isSolving(): boolean {
    return this.#isSolving;
  }
  /** Why the computation itself broke; null when it did not. */
  get failure(): string | null {
    return this.#failure;
  }
  /** Index of the note the person chose, null when none. */
  get selected(): number | null {
    return this.#selected;
  }
  /** The bars chosen for playing over and over. */
  get bars(): BarRange | null {
    return this.#bars;
  }

  setChartText(text: string): void {
    this.#commit(verbs.setChartText(this.study, text), 'chart');
  }
  setKey(key: Key | null): void {
    this.#commit(verbs.setKey(this.study, key));
  }
  setTempo(tempo: number | null): void {
    this.#commit(verbs.setTempo(this.study, tempo), 'tempo');
  }
  setChoruses(choruses: number): void {
    this.#commit(verbs.setChoruses(this.study, choruses), 'choruses');
  }
  setInstrument(id: string): void {
    this.#commit(verbs.setInstrument(this.study, id));
  }
  setStringLength(length: number | null): void {
    this.#commit(verbs.setStringLength(this.study, length), 'string length');
  }
  setSpan(span: number): void {
    this.#commit(verbs.setSpan(this.study, span), 'span');
  }
  setBarred(positions: readonly HandPosition[]): void {
    this.#commit(verbs.setBarred(this.study, positions));
  }
  toggleBarred(position: HandPosition): void {
    this.#commit(verbs.toggleBarred(this.study, position));
  }
  setLowStay(beats: number | null): void {
    this.#commit(verbs.setLowStay(this.study, beats), 'low stay');
  }
  setComfort(comfort: number): void {
    this.#commit(verbs.setComfort(this.study, comfort), 'comfort');
  }
  /** Holds the note of the line at an index as it is played, or in another way. */
  pin(index: number, placement?: Placement): void {
    const note = this.#shown?.line.notes[index];
    if (note) this.#commit(verbs.pinPlacement(this.study, note, placement ?? note.placement));
  }
  unpin(index: number): void {
    const note = this.#shown?.line.notes[index];
    if (note) this.#commit(verbs.unpin(this.study, note));
  }
  unpinAll(): void {
    this.#commit(verbs.unpinAll(this.study));
  }
  isPinned(index: number): boolean {
    const note = this.#shown?.line.notes[index];
    return note !== undefined && verbs.pinAt(this.study, note) !== undefined;
  }
  giveUp(wish: WishInConflict): void {
    this.#commit(verbs.giveUp(this.study, wish));
  }
  newTake(): void {
    this.#commit(verbs.newTake(this.study));
  }
  /** A new take because the music came round: a run of passes is one step of the history. */
  passTake(): void {
    this.#commit(verbs.newTake(this.study), 'passes', Number.POSITIVE_INFINITY);
  }
  setTake(seed: number): void {
    this.#commit(verbs.setTake(this.study, seed), 'take');
  }
  setTemperature(temperature: number): void {
    this.#commit(verbs.setTemperature(this.study, temperature), 'temperature');
  }
  undo(): void {
    this.#move(undo(this.#history));
  }
  redo(): void {
    this.#move(redo(this.#history));
  }
  /** Ends a drag or a run of typing: the next change is a step of its own. */
  endGesture(): void {
    this.#history = closeGroup(this.#history);
  }

  /** Puts another study on the desk, with a history of its own. */
  open(study: Study): void {
    this.#history = historyOf(study);
    this.#selected = null;
    this.#bars = null;
    this.#solve();
  }

  /** Asks once more after the computation broke. */
  solveAgain(): void {
    this.#solve();
  }

  select(index: number | null): void {
    const last = (this.#shown?.line.notes.length ?? 0) - 1;
    this.#selected = index === null || last < 0 ? null : Math.min(last, Math.max(0, index));
  }

  /** A click on a bar in playing order: see `extendRange`; `extend` takes all from the chosen bars to this one. */
  selectBar(bar: number, extend = false): void {
    const chosen = this.#bars;
    this.#bars =
      extend && chosen
        ? { from: Math.min(chosen.from, bar), to: Math.max(chosen.to, bar) }
        : extendRange(chosen, bar);
  }
  /** A click on a bar as written. */
  selectChartBar(chartBar: number): void {
    const timeline = this.#shown?.timeline;
    if (!timeline) return;
    const anchor = this.#bars?.from === this.#bars?.to ? this.#bars?.from : undefined;
    const bar =
      (anchor === undefined ? undefined : firstPlayed(timeline, chartBar, anchor)) ??
      firstPlayed(timeline, chartBar);
    if (bar !== undefined) this.selectBar(bar);
  }
  setBars(range: BarRange | null): void {
    this.#bars = fitRange(range, this.#shown?.timeline.bars.length ?? 0);
  }

  #commit(next: Study, group: string | null = null, pause?: number): void {
    this.#move(record(this.#history, next, group, this.#parts.now(), pause));
  }

  #move(history: History<Study>): void {
    if (history === this.#history) return;
    this.#history = history;
    this.#solve();
    this.#parts.onchange?.(history.present);
  }

  #solve(): void {
    this.#isSolving = true;
    this.#source.request(requestOf(this.study));
  }

  #receive({ ask, answer: result, isLatest }: Answered<'walk'>): void {
    this.#result = result;
    this.#failure = null;
    this.#isSolving = !isLatest;
    const { timeline, line } = result;
    if (!timeline || !line) return;
    this.#shown = { timeline, line };
    if (this.#selected !== null) this.select(this.#selected);
    this.#bars = fitRange(this.#bars, timeline.bars.length);
    if (isLatest) this.#explainer.request({ request: ask, result, room: false });
  }

  /** Prices first, as they are quick; then once more with elbow room. */
  #learn({ ask, answer: explanation }: Answered<'explain'>): void {
    const { line } = ask.result;
    if (!line || line !== this.#shown?.line || !explanation) return;
    this.#explained = { line, explanation };
    if (!ask.room) this.#explainer.request({ ...ask, room: true });
  }
}
