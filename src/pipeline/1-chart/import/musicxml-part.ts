// One part of a score to sketched bars: time, chords, signs, repeats and, for the bass, its notes.
import type { ImportProblems } from './problems';
import { sketchBar, type SketchBar } from './sketch';
import {
  headingOf,
  offsetOf,
  readDirection,
  readSound,
  settleOpenJumps,
  type Heading,
  type OpenJumps,
} from './musicxml-directions';
import { endingPasses } from './signs';
import { sharedPlaces } from './shared-places';
import { readHarmony } from './musicxml-harmony';
import { readNote, type MeasureNote } from './musicxml-notes';
import { PartState, keyOf, type FileKey, type PartTranspose } from './musicxml-state';
import { childNamed, childrenNamed, numberOf, spanOf, textOf, type XmlNode } from './xml';

export interface PartReading {
  readonly bars: readonly SketchBar[];
  /** Bar by bar, every voice. */
  readonly notes: readonly (readonly MeasureNote[])[];
  readonly heading: Heading;
  /** In force in the first bar; null when the part names none. */
  readonly firstKey: FileKey | null;
  readonly transposition: PartTranspose;
}

class PartReader {
  private readonly state: PartState;
  private readonly bars: SketchBar[] = [];
  private readonly notes: MeasureNote[][] = [];
  private readonly heading = headingOf();
  private readonly openJumps: OpenJumps = new Map();
  private firstKey: FileKey | null = null;
  /** Place in the measure in ticks, not yet whole. */
  private cursor = 0;
  private furthest = 0;
  private lastOnset = 0;
  /** Where the first note or rest of the measure that begins at a tick ends. */
  private noteEnds = new Map<number, number>();

  constructor(private readonly problems: ImportProblems) {
    this.state = new PartState(problems);
  }

  private get tick(): number {
    return Math.round(this.cursor);
  }

  measure(node: XmlNode): void {
    const number = node.attributes['number'] ?? String(this.bars.length + 1);
    const { state } = this;
    const keyBefore = state.key;
    // What stands at the head of the measure holds for all of it.
    const head = node.children.findIndex(({ name }) => /^(note|harmony|forward|backup)$/.test(name));
    const attributes = node.children
      .slice(0, head < 0 ? undefined : head)
      .find(({ name }) => name === 'attributes');
    if (attributes) state.read(attributes);
    const bar = sketchBar(number, state.meter, spanOf(node));
    this.readKeyChange(bar, keyBefore);
    this.bars.push(bar);
    this.notes.push([]);
    this.cursor = 0;
    this.furthest = 0;
    this.noteEnds = new Map();
    for (const child of node.children) {
      if (child !== attributes) this.child(child, bar);
    }
    bar.length = Math.round(this.furthest);
    this.shareTime(bar);
    bar.simile = state.measureRepeat;
  }

  /** Chords at one place share the time of the note under them. */
  private shareTime(bar: SketchBar): void {
    const shared = sharedPlaces(bar.chords, this.noteEnds, bar.length);
    if (shared.count > 0)
      this.problems.add('harmony-shared', bar.span, { bar: bar.number, count: shared.count });
    bar.chords = shared.chords;
  }

  private readKeyChange(bar: SketchBar, before: FileKey | null): void {
    const { key } = this.state;
    if (key === null || (before?.fifths === key.fifths && before.mode === key.mode)) return;
    if (this.bars.length === 0) this.firstKey = key;
    else bar.keyChange = keyOf(key.fifths, key.mode ?? before?.mode ?? 'major');
  }

  private child(node: XmlNode, bar: SketchBar): void {
    switch (node.name) {
      case 'note':
        return this.note(node, bar);
      case 'backup':
        return this.move(-(numberOf(node, 'duration') ?? 0));
      case 'forward':
        return this.move(numberOf(node, 'duration') ?? 0);
      case 'attributes':
        return this.state.read(node);
      case 'harmony': {
        const tick = this.placeOf(node);
        const chord = readHarmony(node, tick, bar.number, this.problems);
        if (chord) bar.chords.push(chord);
        return;
      }
      case 'direction':
        return readDirection(node, bar, this.placeOf(node), this.heading, this.openJumps);
      case 'sound':
        return readSound(node, bar, this.placeOf(node), this.heading, this.openJumps);
      case 'barline':
        return this.barline(node, bar);
    }
  }

  /** Where an element stands, its own offset included. */
  private placeOf(node: XmlNode): number {
    return Math.max(0, Math.round(this.cursor + this.state.ticksOf(offsetOf(node))));
  }

  private move(divisions: number): void {
    this.cursor = Math.max(0, this.cursor + this.state.ticksOf(divisions));
    this.furthest = Math.max(this.furthest, this.cursor);
  }

  private note(node: XmlNode, bar: SketchBar): void {
    const isChordNote = childNamed(node, 'chord') !== undefined;
    const duration = childNamed(node, 'grace') ? 0 : Math.max(0, numberOf(node, 'duration') ?? 0);
    if (!isChordNote) this.lastOnset = this.cursor;
    const start = Math.round(this.lastOnset);
    const end = Math.round(this.lastOnset + this.state.ticksOf(duration));
    if (duration > 0 && !this.noteEnds.has(start)) this.noteEnds.set(start, end);
    const note = readNote(node, start, Math.max(1, end - start), this.state);
    if (note) this.notes.at(-1)!.push(note);
    else if (note === null) this.problems.addOnce('line-range', node, { bar: bar.number });
    if (!isChordNote) this.move(duration);
  }

  private barline(node: XmlNode, bar: SketchBar): void {
    const isLeft = node.attributes['location'] === 'left';
    const style = textOf(node, 'bar-style');
    const repeat = childNamed(node, 'repeat');
    const direction = repeat?.attributes['direction'];
    if (isLeft && style === 'light-light') {
      const before = this.bars.at(-2);
      if (before) before.doubleBar = true;
    }
    if (!isLeft && (style === 'light-light' || (style === 'light-heavy' && direction === undefined))) {
      bar.doubleBar = true;
    }
    if (direction === 'forward') bar.repeatStart = true;
    if (direction === 'backward') {
      bar.repeatEnd = true;
      const times = Number(repeat?.attributes['times']);
      if (Number.isInteger(times) && times > 0) bar.times = Math.min(times, 99);
    }
    if (childNamed(node, 'segno')) bar.segno = true;
    if (childNamed(node, 'coda')) bar.coda ??= this.tick;
    for (const ending of childrenNamed(node, 'ending')) this.endingMark(ending, bar);
  }

  private endingMark(node: XmlNode, bar: SketchBar): void {
    const type = node.attributes['type'];
    if (type !== 'start') {
      bar.endingStops = type === 'discontinue' ? 'open' : 'closed';
      return;
    }
    const text = node.attributes['number'] ?? '';
    const passes = endingPasses(text);
    if (passes.length === 0)
      this.problems.add('ending-unread', node, { bar: bar.number, text: node.text || text });
    else bar.opensEnding = passes;
  }

  finish(): PartReading {
    settleOpenJumps(this.openJumps, this.bars);
    const { bars, notes, heading, firstKey } = this;
    return { bars, notes, heading, firstKey, transposition: this.state.transposition };
  }
}

/** Reads the measures of one part, in order. */
export function readPart(measures: readonly XmlNode[], problems: ImportProblems): PartReading {
  const reader = new PartReader(problems);
  for (const measure of measures) reader.measure(measure);
  return reader.finish();
}
