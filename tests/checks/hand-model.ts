// A second model of bass and left hand, written from the rules of the trade and the figures of the design, not from the
// program: only the figures of shared/weights/hand.json and the basses of shared/instruments are read. What both agree on has
// been worked out twice.
import instruments from '../../shared/instruments/instruments.json' with { type: 'json' };
import weights from '../../shared/weights/hand.json' with { type: 'json' };

export interface Hold {
  /** From the highest string, 1. */
  readonly string: number;
  readonly stop: number;
  readonly finger: string;
  readonly position: number;
  readonly shape: 'open' | 'closed' | 'extended' | 'thumb';
}

/** A hold with where the thumb is, in semitones from the nut. */
export interface Held extends Hold {
  readonly thumb: number;
}

/** Seconds around a step, and the beats of its second note. */
export interface Times {
  readonly first: number;
  readonly second: number;
  readonly rest: number;
  readonly beats: number;
}

export type Items = ReadonlyMap<string, number>;

type Shaped = readonly [finger: string, offset: number, shape: Hold['shape']];

interface BassRow {
  readonly id: string;
  readonly length: number;
  readonly heel: number;
  readonly highestStop: number;
  readonly strings: readonly number[];
  readonly fretted?: boolean;
  readonly extension?: { readonly string: number; readonly lowest: number };
}

const rows: readonly BassRow[] = instruments.rows;
export const bassIds = rows.map(({ id }) => id);

const practical = 0.92;
const comfortable = 0.73;
const relaxed = 0.55;
const octave = 12;

/** Where a way changes, when nothing is said, and within which bounds. */
const changes: Readonly<Record<string, readonly [usual: number, least: number, most: number]>> = {
  '1-2-3-4': [5, 1, 11],
  '3 for 4': [9, 5, 12],
  thumb: [10, 7, 12],
};

const closed: readonly Shaped[] = [
  ['1', 0, 'closed'],
  ['2', 1, 'closed'],
  ['4', 2, 'closed'],
];
const extended: readonly Shaped[] = [
  ['3', 2, 'extended'],
  ['4', 3, 'extended'],
];
const thumbed: readonly Shaped[] = [
  ['T', -2, 'thumb'],
  ['1', 0, 'thumb'],
  ['2', 1, 'thumb'],
  ['3', 2, 'thumb'],
];

const thousandths = (value: number): number => Math.floor(value * 1000 + 0.5);
const shaped = (pressure: number): number => pressure ** 2 / (1 + pressure);
const rank = (finger: string): number => 'T1234'.indexOf(finger);

export class HandModel {
  readonly bass: BassRow;
  private readonly way: string;
  private readonly from: number;

  constructor(
    id: string,
    private readonly span: number,
    way = '1-2-4 stretched',
    from?: number,
    private readonly homeAtOctave = false,
  ) {
    this.bass = rows.find((row) => row.id === id)!;
    this.way = this.bass.fretted && way === 'thumb' ? '1-2-4 stretched' : way;
    const [usual, least, most] = changes[this.way] ?? [0, 0, 0];
    this.from = Math.min(Math.max(from ?? usual, least), most);
  }

  at = (stop: number): number => this.bass.length * (1 - 2 ** (-stop / 12));
  private width = (position: number, semitones: number): number =>
    this.at(position + semitones) - this.at(position);
  private reaches = (position: number, semitones: number): boolean =>
    this.width(position, semitones) / this.span <= practical + 1e-12;

  /** What the hand may put down in a position. */
  shapes(position: number): readonly Shaped[] {
    const place = this.bass.fretted ? Math.min(position, octave - 1) : position;
    const { way, from } = this;
    if (place >= octave || (way === 'thumb' && place >= from)) {
      const lowest = way === 'thumb' ? from : octave;
      return thumbed.filter(([finger, offset]) => finger !== 'T' || position + offset >= lowest);
    }
    const within = (all: readonly Shaped[]): Shaped[] =>
      all.filter(([, offset]) => this.reaches(position, offset));
    const spread = this.reaches(position, 3);
    const firstTwo = closed.slice(0, 2);
    if (way === '1-2-3-4' && place >= from)
      return [...within(firstTwo), ...(spread ? extended : within([closed[2]!]))];
    if (way === '3 for 4' && place >= from) return within([...firstTwo, ['3', 2, 'closed']]);
    if (way === '1-3-4') return within([closed[0]!, ['3', 1, 'closed'], closed[2]!]);
    const stretches = (way === '1-2-4 stretched' || way === 'thumb') && spread;
    return [...within(closed), ...(stretches ? extended : [])];
  }

  /** Every way to hold a note up to a position; the thumb under the hand. */
  holds(midi: number, highest: number): Hold[] {
    const { strings, highestStop, extension } = this.bass;
    const found: Hold[] = [];
    strings.forEach((open, index) => {
      const string = index + 1;
      for (let position = 1; position <= highest; position++) {
        if (midi === open) found.push({ string, stop: 0, finger: '0', position, shape: 'open' });
        for (const [finger, offset, shape] of this.shapes(position)) {
          const stop = position + offset;
          if (open + stop === midi && stop <= highestStop)
            found.push({ string, stop, finger, position, shape });
        }
      }
    });
    if (extension && midi >= extension.lowest && midi < strings[extension.string - 1]!) {
      const stop = midi - strings[extension.string - 1]!;
      found.push({ string: extension.string, stop, finger: '1', position: stop, shape: 'closed' });
    }
    return found;
  }

  /** Places of the thumb with which a hold can be held. */
  thumbs({ position, shape }: Hold): number[] {
    const { heel } = this.bass;
    const off = [position - 1, position + 1].filter((place) => place >= 1 && place < heel);
    return shape === 'closed' && position >= 1 ? [position, ...off] : [position];
  }

  /** How the hand gets from one note to the next; null where the thumb cannot. */
  kind(a: Held, b: Held, rest: number): 'stay' | 'pivot' | 'bare' | 'covered' | null {
    const isFree = rest > 0 || a.finger === '0' || b.finger === '0';
    const isHome = b.thumb === b.position;
    const turn = b.position - a.position;
    if (turn === 0) return (isFree ? isHome : a.thumb === b.thumb) ? 'stay' : null;
    if (rest > 0 || b.finger === '0') return isHome ? 'covered' : null;
    const onNeck = a.shape !== 'thumb' && b.shape !== 'thumb' && a.finger !== '0';
    const towards = turn * (rank(b.finger) - rank(a.finger)) > 0;
    if (onNeck && Math.abs(turn) === 1 && towards && a.thumb === b.thumb) return 'pivot';
    return isHome ? 'bare' : null;
  }

  /** Movement time over the time there is, for a move that is none of a stay. */
  pressure(a: Held, b: Held, times: Times): number {
    const kind = this.kind(a, b, times.rest);
    const distance = Math.abs(this.at(a.position) - this.at(b.position));
    const target = this.bass.fretted
      ? this.at(b.position) - this.at(b.position - 1)
      : this.at(b.position + 0.15) - this.at(b.position - 0.15);
    const needed = (0.025 + 0.1 * Math.log2(distance / target + 1)) * (kind === 'pivot' ? 0.5 : 1);
    return needed / ((b.finger === '0' ? times.second : times.first * 0.33) + times.rest);
  }

  /** What holding a note costs. */
  holding(h: Held, seconds: number): Items {
    const { position: place, heavyString, stretch, pivot, openString } = weights;
    const items = new Map<string, number>();
    const add = (name: string, amount: number): void => {
      const rounded = thousandths(amount);
      if (rounded !== 0) items.set(name, rounded);
    };
    if (h.finger === '0') {
      add('open string', openString);
      return items;
    }
    const { heel, strings } = this.bass;
    const above = (position: number): number =>
      Math.max(0, h.position - (this.homeAtOctave ? octave : position));
    const up = h.position >= octave && !this.homeAtOctave ? place.octave : 0;
    add('high position', above(heel) * place.perSemitoneAboveHeel + up);
    const heavy = Math.max(0, 43 - strings[h.string - 1]!) / 5;
    add('heavy string high up', above(6) * heavy * heavyString.perSemitoneAndString);
    if (h.thumb !== h.position) add('thumb off its place', pivot.thumbOff);
    if (h.shape !== 'thumb') {
      const spread = this.width(h.position, h.shape === 'extended' ? 3 : h.stop - h.position) / this.span;
      const cost =
        Math.max(0, spread - relaxed) * stretch.overRelaxed +
        Math.max(0, spread - comfortable) * stretch.overComfortable;
      add('stretch', cost * Math.min(1, seconds / stretch.fullAfter));
    }
    return items;
  }

  /** What a step costs; null where it cannot be. */
  moving(a: Held, b: Held, midis: readonly [number, number], times: Times): Items | null {
    const kind = this.kind(a, b, times.rest);
    if (kind === null) return null;
    const items = new Map<string, number>();
    const add = (name: string, amount: number): void => {
      const rounded = thousandths(amount);
      if (rounded !== 0) items.set(name, rounded);
    };
    this.addShifting(add, kind, a, b, times);
    addFingers(add, a, b, midis, times);
    addStrings(add, a, b, midis, times);
    return items;
  }

  private addShifting(add: Add, kind: string, a: Held, b: Held, times: Times): void {
    if (kind === 'stay') return;
    const { heel, fretted } = this.bass;
    const price = shaped(this.pressure(a, b, times));
    if (kind === 'pivot') add('pivot', weights.pivot.each + weights.pivot.pressure * price);
    else {
      add('shift', (kind === 'bare' ? weights.shift : weights.coveredShift) * price);
      add('every move', weights.everyMove);
      if (kind === 'covered' && [1, -1].includes(b.position - a.position))
        add('carry of a semitone', weights.semitoneCarry);
      if (a.position < heel !== b.position < heel) add('over the heel', weights.overHeel);
    }
    const { extension, half, first } = weights.position;
    add('low position', b.position < 1 ? extension : b.position === 1 ? half : b.position === 2 ? first : 0);
    if (kind === 'covered' && !fretted && b.position >= 1) {
      const away = Math.min(...[1, heel - 1, heel, octave].map((mark) => Math.abs(b.position - mark)));
      add('landing', weights.landing.perSemitone * Math.min(away, weights.landing.most));
    }
  }
}

type Add = (name: string, amount: number) => void;

function addFingers(add: Add, a: Held, b: Held, [low, high]: readonly [number, number], times: Times): void {
  const both = a.finger !== '0' && b.finger !== '0';
  const samePlace =
    a.string === b.string &&
    a.stop === b.stop &&
    (b.finger === '0' || (a.finger === b.finger && a.position === b.position));
  if (low === high && !samePlace) add('repeated note moved', weights.repeatMoved);
  if (b.finger !== '0' && a.position <= 2 && b.position <= 2 && !samePlace)
    add('camping', weights.camping[a.finger === '0' ? 'afterOpen' : 'afterStopped'] * times.beats);
  if (!both) return;
  if (a.finger === b.finger) {
    const { sameString, otherString } = weights.sameFingerShift;
    if (a.position !== b.position) add('same finger again', a.string === b.string ? sameString : otherString);
    else if (a.stop !== b.stop) add('same finger again', weights.sameFingerSlide);
    if (a.finger === '4' && a.position === b.position && a.string !== b.string)
      add('fourth finger across strings', weights.fourthAcross);
  }
  if (isCrossed(a, b)) add('crossed fingers', weights.crossedFingers);
}

/** Fingers or hand against the note on neighbouring semitones of a string. */
export function isCrossed(a: Hold, b: Hold): boolean {
  if (a.string !== b.string || a.finger === '0' || b.finger === '0') return false;
  const up = b.stop - a.stop;
  if (up !== 1 && up !== -1) return false;
  const hand = b.position - a.position;
  const fingers = rank(b.finger) - rank(a.finger);
  return hand * up < 0 || (Math.abs(hand) <= 1 && fingers * up < 0);
}

function addStrings(add: Add, a: Held, b: Held, [low, high]: readonly [number, number], times: Times): void {
  if (a.string === b.string) return;
  const { each, skipped, seconds, upward } = weights.crossing;
  const dear = b.string < a.string ? upward : 1;
  add('string crossing', each * dear);
  const over = Math.abs(a.string - b.string) - 1;
  if (over > 0) add('skipped string', (skipped * over * dear * seconds) / (times.first + times.rest));
  if (a.finger !== '0') return;
  if (b.finger === '0') add('open after open', weights.openAfterOpen);
  else if (times.rest === 0 && [1, 2, 6, 10, 11].includes(Math.abs(low - high) % octave)) {
    const isLast = b.finger === '4' || (b.finger === '3' && b.shape === 'thumb');
    if (over > 0 || isLast) add('open string rings on', weights.ringing);
  }
}
