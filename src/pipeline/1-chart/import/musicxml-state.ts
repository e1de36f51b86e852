// What holds from one place of a part to the next: divisions, meter, key, clef, transposition.
import {
  churchModeOf,
  keyOfFifths,
  ticksPerQuarter,
  type ChurchMode,
  type Key,
  type Meter,
  type Mode,
} from '../../../music';
import { parseMeter } from '../meter';
import type { ImportProblems } from './problems';
import { childNamed, childrenNamed, numberOf, textOf, type XmlNode } from './xml';

/** What must be added to the written pitch for the sound. */
export interface PartTranspose {
  /** Steps of the scale, without octaves. */
  readonly diatonic: number;
  /** Semitones, without octaves. */
  readonly chromatic: number;
  readonly octaves: number;
}

/** A key as a file gives it; the mode may be missing. */
export interface FileKey {
  readonly fifths: number;
  readonly mode: Mode | ChurchMode | null;
}

const modeNames: Readonly<Record<string, Mode>> = {
  major: 'major',
  ionian: 'major',
  minor: 'minor',
  aeolian: 'minor',
};

export class PartState {
  divisions = 1;
  meter: Meter = { beats: 4, unit: 4 };
  key: FileKey | null = null;
  transposition: PartTranspose = { diatonic: 0, chromatic: 0, octaves: 0 };
  /** An octave sign at the clef, which leaves the pitches as they sound. */
  clefOctave = 0;
  /** Bars that each repeat sign of this stretch covers; null outside such a stretch. */
  measureRepeat: 1 | 2 | null = null;

  constructor(private readonly problems: ImportProblems) {}

  /** A length in divisions, in ticks; not yet whole. */
  ticksOf(divisions: number): number {
    return (divisions * ticksPerQuarter) / this.divisions;
  }

  /** Octaves between page and sound. A clef with an octave sign has done it already. */
  get soundingOctaves(): number {
    const { octaves } = this.transposition;
    return this.clefOctave !== 0 && Math.sign(octaves) === Math.sign(this.clefOctave) ? 0 : octaves;
  }

  /** Takes in an <attributes> element. */
  read(attributes: XmlNode): void {
    const divisions = numberOf(attributes, 'divisions');
    if (divisions !== undefined && divisions > 0) this.divisions = divisions;
    const key = childNamed(attributes, 'key');
    if (key) this.readKey(key);
    const time = childNamed(attributes, 'time');
    if (time) this.readTime(time);
    const clef = childNamed(attributes, 'clef');
    if (clef) this.clefOctave = numberOf(clef, 'clef-octave-change') ?? 0;
    const transpose = childNamed(attributes, 'transpose');
    if (transpose) this.readTranspose(transpose);
    for (const style of childrenNamed(attributes, 'measure-style')) {
      const repeat = childNamed(style, 'measure-repeat');
      if (!repeat) continue;
      const bars = Number(repeat.text) === 2 ? 2 : 1;
      this.measureRepeat = repeat.attributes['type'] === 'start' ? bars : null;
    }
  }

  private readKey(node: XmlNode): void {
    const fifths = numberOf(node, 'fifths');
    if (fifths === undefined || !Number.isInteger(fifths) || Math.abs(fifths) > 12) {
      this.problems.addOnce('key-unread', node, { text: textOf(node, 'fifths') ?? 'none' });
      return;
    }
    const word = textOf(node, 'mode')?.toLowerCase() ?? '';
    this.key = { fifths, mode: modeNames[word] ?? churchModeOf(word) ?? null };
  }

  private readTime(node: XmlNode): void {
    const beats = childrenNamed(node, 'beats').map(({ text }) => text);
    const units = childrenNamed(node, 'beat-type').map(({ text }) => text);
    if (beats.length === 0) return;
    // "3+2" in one signature or in two.
    const sum = beats
      .join('+')
      .split('+')
      .reduce((total, part) => total + Number(part), 0);
    const isOneUnit = units.every((unit) => unit === units[0]);
    const meter = isOneUnit ? parseMeter(`${sum}/${units[0] ?? ''}`) : undefined;
    if (meter) this.meter = meter;
    else this.problems.addOnce('meter-unread', node, { text: `${beats.join('+')}/${units.join('+')}` });
  }

  private readTranspose(node: XmlNode): void {
    const chromatic = Math.round(numberOf(node, 'chromatic') ?? 0);
    const diatonic = Math.round(numberOf(node, 'diatonic') ?? (chromatic * 7) / 12);
    const within = Math.trunc(chromatic / 12);
    this.transposition = {
      chromatic: chromatic - 12 * within,
      diatonic: diatonic - 7 * within,
      octaves: Math.round(numberOf(node, 'octave-change') ?? 0) + within,
    };
  }
}

/** The key of that signature, within seven accidentals. */
export const keyOf = (fifths: number, mode: Mode | ChurchMode): Key =>
  mode === 'major' || mode === 'minor' ? keyOfFifths(fifths, mode) : keyOfFifths(fifths, 'major', mode);
