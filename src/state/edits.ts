// The verbs by which the work on the desk is changed. Each is one act that can be undone; names of groups say which acts in
// quick succession are one.
import { numberOfBar, pitchClassOf, soundingMidi, ticksPerQuarter, type BarNumber, type Key } from '../music';
import {
  lowestPitch,
  type HandPosition,
  type Instrument,
  type Placement,
  type Region,
  type StringNumber,
} from '../instrument';
import {
  keptOf,
  type Line,
  type LineNote,
  type LineShape,
  type OwnFingering,
  type OwnLine,
  type OwnNote,
  type Pin,
  type Timeline,
  type WishInConflict,
} from '../pipeline';
import type { BarRange } from '../playback';
import * as verbs from './document';
import type { Study } from './document';
import * as keeping from './keeping';
import { plainRows, type PlainInput, type PlainName, type PlainSettings } from '../pipeline';
import * as ownNotes from './own-notes';
import type { OwnPlace } from './own-notes';
import type { Setup } from './setup';

/** A timeline and the line over it, as last found. */
export interface ShownLine {
  readonly timeline: Timeline;
  readonly line: Line;
}

/** A note shorter than this, in ticks, is not split. */
const shortestSplit = 60;

type OwnEdit = (notes: readonly OwnNote[], place: OwnPlace) => readonly OwnNote[];

export abstract class Edits {
  abstract get study(): Study;
  /** Makes a study the present one: see `record` for groups and pauses. */
  protected abstract commit(next: Study, group?: string | null, pause?: number): void;
  /** A note of the line on show that belongs to the study. */
  protected noteAt(index: number): LineNote | undefined {
    return this.mine?.line.notes[index];
  }
  /** Where a moment on show stands in the bars as written; null where the study has no line of its own. */
  #ownPlace(tick: number): OwnPlace | null {
    const bar = this.study.own && this.mine?.timeline.bars.findLast((one) => one.tick <= tick);
    return bar && tick < bar.tick + bar.ticks ? { bar: bar.chartBar, at: tick - bar.tick } : null;
  }
  /** What is on show where it is in the study's own key: its notes can be pinned and moved. */
  protected abstract get mine(): ShownLine | null;
  /** Semitones that the player's own line sounds above what was written. */
  protected abstract get ownShift(): number;
  /** The bars chosen for playing over and over. */
  abstract get bars(): BarRange | null;
  abstract get instrument(): Instrument;

  setChartText(text: string): void {
    this.commit(verbs.setChartText(this.study, text), 'chart');
  }
  /** Another text at once, as a step of its own: from a file, or with a scale asked for. */
  replaceChartText(text: string): void {
    this.commit(verbs.setChartText(this.study, text));
  }
  /** Opens the changes of a file, to be walked. */
  openChart(text: string): void {
    this.commit(verbs.setChartText(verbs.setOwn(this.study, null), text));
  }
  /** Opens changes with a line of the player's own over them, as one step. */
  openOwn(text: string, own: OwnLine): void {
    this.commit(verbs.setOwn(verbs.setChartText(this.study, text), own));
  }
  /** Walks the changes in place of the player's own line. */
  leaveOwn(): void {
    this.commit(verbs.setOwn(this.study, null));
  }
  setOwnFingering(fingering: OwnFingering): void {
    this.commit(verbs.setOwnFingering(this.study, fingering));
  }
  /** Ticks of silence behind a note. */
  #restAfter(index: number): number {
    const note = this.noteAt(index)!;
    const next = this.noteAt(index + 1)?.tick ?? this.mine!.timeline.ticks;
    return Math.max(0, next - note.tick - note.ticks);
  }
  #editOwn(index: number, group: string | null, edit: OwnEdit): boolean {
    const note = this.noteAt(index);
    const place = note ? this.#ownPlace(note.tick) : null;
    if (place)
      this.commit(
        verbs.editOwn(this.study, (notes) => edit(notes, place)),
        group,
      );
    return place !== null;
  }
  /** Moves a note of the player's own line, wherever it comes again. @returns false where there is none */
  moveOwnNote(index: number, semitones: number): boolean {
    return this.#editOwn(index, 'own note', (notes, place) =>
      semitones === 0 ? notes : ownNotes.transposed(notes, place, semitones),
    );
  }
  /**
   * Moves a note of the player's own line in time, and as far up as it is said, as one step. It stays as long as it was, and
   * where it is where another begins.
   * @returns its index afterwards; null where there is none, or it stays
   */
  placeOwnNote(index: number, tick: number, semitones = 0): number | null {
    const to = this.#ownPlace(tick);
    const isFree = to !== null && !this.mine?.line.notes.some((note) => note.tick === tick);
    const isMoved =
      isFree &&
      this.#editOwn(index, 'own place', (notes, place) => {
        const higher = semitones === 0 ? notes : ownNotes.transposed(notes, place, semitones);
        return ownNotes.movedTo(higher, place, to);
      });
    const others = this.mine?.line.notes.filter((note) => note.index !== index) ?? [];
    return isMoved ? others.filter((note) => note.tick < tick).length : null;
  }
  /** Moves a note of the player's own line to the half of a beat before or after it. @returns false where it stays */
  shiftOwnNote(index: number, by: 1 | -1): boolean {
    const note = this.noteAt(index);
    const bar = note && this.mine?.timeline.bars.findLast((one) => one.tick <= note.tick);
    if (!note || !bar) return false;
    const at = ownNotes.stepFrom(note.tick - bar.tick, by);
    const tick = bar.tick + (by > 0 ? Math.min(at, bar.ticks) : at);
    const [before, after] = [this.noteAt(index - 1), this.noteAt(index + 1)];
    if (tick <= (before?.tick ?? -1) || tick >= (after?.tick ?? Infinity)) return false;
    return this.placeOwnNote(index, tick) !== null;
  }
  /** Makes a note of the player's own line longer or shorter by one kind of note. @returns false where there is none */
  lengthenOwnNote(index: number, by: 1 | -1): boolean {
    const note = this.noteAt(index);
    if (!note) return false;
    const size = { from: note.ticks, room: note.ticks + this.#restAfter(index) };
    return this.#editOwn(index, 'own length', (notes, place) => ownNotes.lengthened(notes, place, by, size));
  }
  /** @returns false where there is none */
  deleteOwnNote(index: number): boolean {
    return this.#editOwn(index, null, ownNotes.without);
  }
  /** One note more behind a note of the player's own line, as high: in the rest that follows, else in its second half. */
  addOwnNoteAfter(index: number): boolean {
    const note = this.noteAt(index);
    if (!note) return false;
    const end = note.tick + note.ticks;
    const rest = this.#restAfter(index);
    const half = Math.floor(note.ticks / 2);
    if (rest > 0) return this.addOwnNote(end, Math.min(rest, ticksPerQuarter), note.midi);
    return half >= shortestSplit && this.addOwnNote(note.tick + half, note.ticks - half, note.midi);
  }
  /**
   * One note more in the player's own line, wherever its bar comes again.
   * @param midi as it sounds on the sheet, which may be in another key than the line was written in
   */
  addOwnNote(tick: number, ticks: number, midi: number): boolean {
    const place = this.#ownPlace(tick);
    if (!place) return false;
    const note = { ...place, ticks, midi: soundingMidi(midi - this.ownShift) };
    this.commit(verbs.editOwn(this.study, (notes) => ownNotes.withNote(notes, note)));
    return true;
  }
  /**
   * The first note of a line that has none: the lowest tonic, a beat long, at the start of the chosen bars or of the music.
   * @returns false where there is no such line, or it has notes
   */
  addFirstOwnNote(): boolean {
    if (this.study.own?.notes.length !== 0) return false;
    const bar = this.mine?.timeline.bars[this.bars?.from ?? 0];
    if (!bar) return false;
    const lowest = lowestPitch(this.instrument);
    const up = (((pitchClassOf(bar.key.tonic) - lowest) % 12) + 12) % 12;
    return this.addOwnNote(bar.tick, Math.min(ticksPerQuarter, bar.ticks), lowest + up);
  }
  /** Changes a plain setting; numbers changed in quick succession, as a handle is dragged, are one step. */
  set<Name extends PlainName>(name: Name, value: PlainInput<Name>): void {
    this.commit(verbs.setPlain(this.study, name, value), plainRows[name].kind === 'number' ? name : null);
  }
  setShape(section: string | null, shape: LineShape | null): void {
    this.commit(verbs.setShape(this.study, section, shape));
  }
  setHeights(heights: ReadonlyMap<number, number | null>): void {
    this.commit(verbs.setHeights(this.study, heights), 'heights');
  }
  clearHeights(): void {
    this.setHeights(new Map(this.study.heights.map(({ bar }) => [bar, null])));
  }
  setKey(key: Key | null): void {
    this.commit(verbs.setKey(this.study, key));
  }
  setInstrument(id: string): void {
    this.commit(verbs.setInstrument(this.study, id));
  }
  /** Changes of the same part in quick succession are one step. */
  setSetup(part: Partial<Setup>): void {
    this.commit(verbs.setSetup(this.study, part), `setup ${Object.keys(part).join(' ')}`);
  }
  setBarred(positions: readonly HandPosition[]): void {
    this.commit(verbs.setBarred(this.study, positions));
  }
  toggleBarred(position: HandPosition): void {
    this.commit(verbs.toggleBarred(this.study, position));
  }
  /** Lets go of the pin at a moment, whether or not a note is shown there. */
  unpinAt(moment: Pick<Pin, 'bar' | 'beat'>): void {
    this.commit(verbs.unpin(this.study, moment));
  }
  unpinAll(): void {
    this.commit(verbs.unpinAll(this.study));
  }
  toggleString(string: StringNumber): void {
    this.commit(verbs.toggleString(this.study, string));
  }
  setShare(region: Region, share: number | null): void {
    this.commit(verbs.setShare(this.study, region, share), `share ${region}`);
  }
  liftLimits(): void {
    this.commit(verbs.liftLimits(this.study));
  }
  /** Locks bars or, when all of them are locked, unlocks them. */
  toggleLocked({ from, to }: BarRange): void {
    if (this.study.own) return;
    this.commit(keeping.toggleLocked(this.study, numberOfBar(from), numberOfBar(to)));
  }
  /** Other notes in some bars, given the rest; false when all of them are locked. */
  redraw({ from, to }: BarRange): boolean {
    // Notes of one's own are not drawn.
    if (this.study.own) return false;
    const next = keeping.redrawBars(this.study, numberOfBar(from), numberOfBar(to));
    if (next === this.study) return false;
    this.commit(next);
    return true;
  }
  star(name: string): void {
    this.commit(keeping.starTake(this.study, name));
  }
  /** Keeps a take that was drawn beside the study. */
  addStar(star: keeping.StarredTake): void {
    this.commit(keeping.addStar(this.study, star));
  }
  renameStar(index: number, name: string): void {
    this.commit(keeping.renameStar(this.study, index, name));
  }
  removeStar(index: number): void {
    this.commit(keeping.removeStar(this.study, index));
  }
  openStar(index: number): void {
    const opened = keeping.openStar(this.study, index);
    if (opened === this.study) return;
    const own = this.study.stars[index]?.own ?? null;
    this.commit({ ...opened, own, ...(own ? { kept: [], lesson: null } : {}) });
  }
  /** Makes a take that was drawn beside the study its own, with the settings it was drawn with. */
  useTake(take: Pick<keeping.StarredTake, 'seed' | 'kept'>, drawnAs: Partial<PlainSettings>): void {
    this.commit({ ...keeping.useTake(this.study, take), ...drawnAs, own: null });
  }
  /** One step, however many wishes stand in the way. */
  giveUp(...wishes: readonly WishInConflict[]): void {
    this.commit(verbs.giveUpAll(this.study, wishes));
  }
  newTake(): void {
    this.commit(verbs.newTake(this.study));
  }
  setTake(seed: number): void {
    this.commit(verbs.setTake(this.study, seed), 'take');
  }
  get stars(): readonly keeping.StarredTake[] {
    return this.study.stars;
  }
  /** Bars that stay as they are, in playing order from 1. */
  get locked(): readonly BarNumber[] {
    return keeping.lockedBars(this.study);
  }
  /** Holds the note of the line at an index as it is played, or in another way. */
  pin(index: number, placement?: Placement): void {
    const note = this.noteAt(index);
    if (note) this.commit(verbs.pinPlacement(this.study, note, placement ?? note.placement));
  }
  unpin(index: number): void {
    const note = this.noteAt(index);
    if (note) this.commit(verbs.unpin(this.study, note));
  }
  isPinned(index: number): boolean {
    const note = this.noteAt(index);
    return note !== undefined && verbs.pinAt(this.study, note) !== undefined;
  }
  /** Pins a way to play that was tried, with the notes around it as they were shown then. */
  pinWay(index: number, placement: Placement, tried: ShownLine): void {
    const note = this.noteAt(index);
    if (!note) return;
    const kept = keptOf(tried.line, tried.timeline, this.locked);
    this.commit({ ...verbs.pinPlacement(this.study, note, placement), kept });
  }
  /** Holds notes of another line over the same bars, each as it is played there. */
  pinNotes(notes: readonly LineNote[]): void {
    this.commit(notes.reduce((study, note) => verbs.pinPlacement(study, note, note.placement), this.study));
  }
  pinRole(index: number, role: NonNullable<Pin['role']>): void {
    const note = this.noteAt(index);
    if (note) this.commit(verbs.pinRole(this.study, note, role));
  }
  pinAt(index: number): Pin | undefined {
    const note = this.noteAt(index);
    return note && verbs.pinAt(this.study, note);
  }
}
