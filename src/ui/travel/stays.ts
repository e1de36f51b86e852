// Stays: how long the stopped hand keeps to one region of the neck.
import { isOpenString, regionOf, type Region } from '../../instrument';
import { ticksPerQuarter } from '../../music';
import { textWidth, xOfTick, type SystemLayout } from '../../notation';
import type { Line } from '../../pipeline/5-line';
import type { NeckScale } from './scale';
import { stayLabelSize, stayText } from './words';

/** A run of stopped notes in one region that is worth showing. */
export interface ShownStay {
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
export function notableStays(line: Line): readonly ShownStay[] {
  const runs: { region: Region; ticks: number; fromTick: number; toTick: number }[] = [];
  let isFree = true;
  for (const note of line.notes) {
    if (isOpenString(note.placement)) {
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
  stays: readonly ShownStay[],
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
