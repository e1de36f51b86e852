// The hand's way along the neck as geometry: time across, on the axis of the staff; the neck up and down, in true
// millimetres with the nut on top.
import {
  regionBounds,
  regionOf,
  regions,
  stopDistance,
  type HandPosition,
  type Instrument,
  type Region,
} from '../../instrument';
import { ticksPerQuarter } from '../../music';
import { textWidth, xOfTick, type SystemLayout } from '../../notation';
import type { Line, LineNote } from '../../pipeline/5-line';
import { stayLabelSize, stayText } from './words';

/** Where positions stand on a strip. */
export interface NeckScale {
  readonly height: number;
  /** y of the first finger in a position; halves between positions are allowed. */
  readonly y: (position: number) => number;
  readonly bands: readonly { readonly region: Region; readonly y: number; readonly height: number }[];
}

/** The strip ends at least here, so that the octave has room for its name. */
const leastEnd = 15;

/** One scale for all strips of the lines shown, so that heights compare. */
export function neckScale(
  instrument: Pick<Instrument, 'length'>,
  lines: readonly (Line | null)[],
  height: number,
): NeckScale {
  let end = leastEnd;
  for (const line of lines) {
    for (const { placement } of line?.notes ?? []) end = Math.max(end, placement.position + 1);
  }
  const whole = stopDistance(instrument, end);
  const y = (position: number): number => (stopDistance(instrument, position) / whole) * height;
  const bands = regions.map((region, place) => {
    const top = place === 0 ? 0 : y(regionBounds(region).from - 0.5);
    const next = regions[place + 1];
    const bottom = next === undefined ? height : y(regionBounds(next).from - 0.5);
    return { region, y: top, height: bottom - top };
  });
  return { height, y, bands };
}

const isOpen = ({ placement }: LineNote): boolean => placement.finger === '0';

/** Where the hand is when a note begins; an open string that carries it starts where it came from. */
const startOf = (note: LineNote): HandPosition => note.carry?.from ?? note.placement.position;

export const segmentKinds = ['stay', 'ride', 'glide', 'shift', 'pivot'] as const;
/**
 * What the hand does until the next note: stays on a stopped note, rests or glides while an open string rings, shifts bare
 * or pivots at the end of a stopped note.
 */
export type SegmentKind = (typeof segmentKinds)[number];

export interface Segment {
  readonly kind: SegmentKind;
  /** SVG path, to be stroked. */
  readonly path: string;
}

export interface Mark {
  /** Index of the note in its line. */
  readonly note: number;
  readonly x: number;
  readonly y: number;
  readonly isOpen: boolean;
}

export interface Travel {
  readonly segments: readonly Segment[];
  readonly marks: readonly Mark[];
}

/** Share of the time to the next note that a bare shift takes: our assumption, within the usual 25 to 40 % of a beat. */
const shiftShare = 0.33;

const n = (value: number): string => value.toFixed(1);

function kindOf(note: LineNote, next: LineNote | undefined): SegmentKind {
  const moves = next !== undefined && startOf(next) !== startOf(note);
  if (isOpen(note)) return moves ? 'glide' : 'ride';
  if (!moves) return 'stay';
  return next.move.kind === 'pivot' ? 'pivot' : 'shift';
}

function pathOf(kind: SegmentKind, x1: number, y1: number, x2: number, y2: number): string {
  switch (kind) {
    case 'stay':
    case 'ride':
      return `M${n(x1)} ${n(y1)}H${n(x2)}`;
    case 'glide': {
      const middle = (x1 + x2) / 2;
      return `M${n(x1)} ${n(y1)}C${n(middle)} ${n(y1)} ${n(middle)} ${n(y2)} ${n(x2)} ${n(y2)}`;
    }
    case 'shift':
    case 'pivot':
      return `M${n(x1)} ${n(y1)}H${n(x2 - (x2 - x1) * shiftShare)}L${n(x2)} ${n(y2)}`;
  }
}

/** The part of a line's way that falls into one system. */
export function travelIn(line: Line, system: Pick<SystemLayout, 'bars'>, scale: NeckScale): Travel {
  const firstBar = system.bars[0];
  const lastBar = system.bars.at(-1);
  if (firstBar === undefined || lastBar === undefined) return { segments: [], marks: [] };
  const endTick = lastBar.tick + lastBar.ticks;
  const endX = lastBar.x + lastBar.width;
  const segments: Segment[] = [];
  const marks: Mark[] = [];
  line.notes.forEach((note, index) => {
    if (note.tick < firstBar.tick || note.tick >= endTick) return;
    const next = line.notes[index + 1];
    const x = xOfTick(system, note.tick);
    const y = scale.y(startOf(note));
    const before = line.notes[index - 1];
    // The way in from the system before: whatever the hand did there is over by the end of that system.
    if (marks.length === 0 && before !== undefined) {
      segments.push({ kind: isOpen(before) ? 'ride' : 'stay', path: pathOf('stay', firstBar.x, y, x, y) });
    }
    marks.push({ note: index, x, y, isOpen: isOpen(note) });
    const kind = kindOf(note, next);
    const x2 = next !== undefined && next.tick < endTick ? xOfTick(system, next.tick) : endX;
    if (next !== undefined) segments.push({ kind, path: pathOf(kind, x, y, x2, scale.y(startOf(next))) });
  });
  return { segments, marks };
}

/** A run of stopped notes in one region that is worth showing. */
export interface Stay {
  readonly region: Region;
  readonly beats: number;
  readonly fromTick: number;
  readonly toTick: number;
  readonly isLongest: boolean;
}

/** Shorter runs are no stay worth a word, even where nothing is longer. */
const leastStay = 4;
/** A stay in the low region of at least so many beats is shown: camping. */
const campingBeats = 8;

/** The stays to shade: long ones low on the neck, and the longest of the line. An open string ends a stay. */
export function notableStays(line: Line): readonly Stay[] {
  const runs: { region: Region; ticks: number; fromTick: number; toTick: number }[] = [];
  let isFree = true;
  for (const note of line.notes) {
    if (isOpen(note)) {
      isFree = true;
      continue;
    }
    const region = regionOf(note.placement.position);
    const run = runs.at(-1);
    const end = note.tick + note.ticks;
    if (run === undefined || isFree || run.region !== region) {
      runs.push({ region, ticks: note.ticks, fromTick: note.tick, toTick: end });
    } else {
      run.ticks += note.ticks;
      run.toTick = end;
    }
    isFree = false;
  }
  const longest = Math.max(0, ...runs.map(({ ticks }) => ticks));
  const first = runs.find(({ ticks }) => ticks === longest);
  return runs.flatMap((run) => {
    const beats = run.ticks / ticksPerQuarter;
    const isLongest = run === first && beats >= leastStay;
    if (!isLongest && !(run.region === 'low' && beats >= campingBeats)) return [];
    return [{ region: run.region, beats, fromTick: run.fromTick, toTick: run.toTick, isLongest }];
  });
}

/** The part of a stay that falls into a system, in pixels. */
export interface StayShade {
  readonly x: number;
  readonly width: number;
  readonly y: number;
  readonly height: number;
  /** How long the stay is; null where there is no room to say it. */
  readonly label: { readonly text: string; readonly x: number; readonly y: number } | null;
}

/** Shades of the stays in one system, each over the band of its region. */
export function shadesIn(
  stays: readonly Stay[],
  system: Pick<SystemLayout, 'bars'>,
  scale: NeckScale,
): readonly StayShade[] {
  const firstTick = system.bars[0]?.tick ?? 0;
  const lastBar = system.bars.at(-1);
  const endTick = lastBar === undefined ? 0 : lastBar.tick + lastBar.ticks;
  return stays.flatMap((stay) => {
    const from = Math.max(stay.fromTick, firstTick);
    const to = Math.min(stay.toTick, endTick);
    const band = scale.bands.find(({ region }) => region === stay.region);
    if (to <= from || band === undefined) return [];
    const x = xOfTick(system, from) - 6;
    const width = xOfTick(system, to) - 6 - x;
    const text = stayText(stay.beats, stay.isLongest);
    const fits = textWidth(text, stayLabelSize, 'sans') + 8 <= width;
    // Beside the band: the hand's way is in it.
    const isLast = band.y + band.height >= scale.height - stayLabelSize;
    const y = isLast ? band.y - 4 : band.y + band.height + stayLabelSize;
    const label = fits ? { text, x: x + 4, y } : null;
    return [{ x, width, y: band.y, height: band.height, label }];
  });
}
