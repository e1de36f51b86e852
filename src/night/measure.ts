// What a line comes to at its tempo: minutes by region and arm, the longest stay, ink for the strip.
import { secondsOf, type Bpm, type Ticks } from '../music';
import {
  armZones,
  isOpenString,
  regionOf,
  regions,
  type ArmZone,
  type HandPosition,
  type Region,
} from '../instrument';
import type { HandReport, Line, Timeline } from '../pipeline';
import type { HandInk, InkColumn, Measure, Minutes, Stay } from './types';

/** A record of numbers by name. */
export const byName = <Name extends string>(
  names: readonly Name[],
  valueOf: (name: Name) => number,
): Readonly<Record<Name, number>> =>
  Object.fromEntries(names.map((name) => [name, valueOf(name)])) as Record<Name, number>;

export const noMeasure: Measure = {
  length: 0,
  byRegion: byName(regions, () => 0),
  open: 0,
  rests: 0,
  apart: 0,
  byArm: byName(armZones, () => 0),
  notes: 0,
  bareShifts: 0,
  crossings: 0,
  travel: 0,
  longestStay: null,
};

/** Stays in order: runs of stopped notes in one region. A rest or an open string frees the hand and ends one. */
export function staysOf(line: Line, tempo: Bpm): readonly Stay[] {
  const stays: Stay[] = [];
  let end = -1;
  for (const note of line.notes) {
    if (isOpenString(note.placement)) {
      end = -1;
      continue;
    }
    const region = regionOf(note.placement.position);
    const seconds = secondsOf(note.ticks, tempo);
    const last = stays.at(-1);
    if (last && end === note.tick && last.region === region)
      stays[stays.length - 1] = { ...last, seconds: last.seconds + seconds };
    else stays.push({ region, from: secondsOf(note.tick, tempo), seconds });
    end = note.tick + note.ticks;
  }
  return stays;
}

export const longerStay = (a: Stay | null, b: Stay | null): Stay | null =>
  !a || (b && b.seconds > a.seconds) ? b : a;

const minutesPerBeat = (tempo: Bpm): number => 1 / tempo;

/** Minutes of stopped notes by region. */
export const minutesOf = ({ byRegion }: HandReport, tempo: Bpm, walked: number): Minutes =>
  byName(
    regions,
    (region) => (byRegion.find((row) => row.region === region)?.beats ?? 0) * minutesPerBeat(tempo) * walked,
  );

/** @param walked the part of the tune's time that is walked; everything that is counted is counted in that part */
export function measureOf(timeline: Timeline, line: Line, walked: number): Measure {
  const { tempo } = timeline;
  const { report } = line;
  const minutes = (beats: number): number => beats * minutesPerBeat(tempo) * walked;
  const length = secondsOf(timeline.ticks, tempo) / 60;
  const open = report.byRegion.find(({ region }) => region === 'open')?.beats ?? 0;
  const inZone = (zone: ArmZone): number => report.byArm.find((row) => row.zone === zone)?.beats ?? 0;
  const travel = report.bareDistance.total + report.coveredDistance.total;
  return {
    length,
    byRegion: minutesOf(report, tempo, walked),
    open: minutes(open),
    rests: Math.max(0, length * walked - minutes(report.beats)),
    apart: length * (1 - walked),
    byArm: byName(armZones, (zone) => minutes(inZone(zone))),
    notes: line.notes.length * walked,
    bareShifts: report.bareShifts * walked,
    crossings: report.crossings * walked,
    travel: (travel / 1000) * walked,
    longestStay: walked === 0 ? null : staysOf(line, tempo).reduce(longerStay, null),
  };
}

/** A tune without a line: its time passes, and the hand is not planned for. */
export const unwalked = (timeline: Timeline | null): Measure => {
  const length = timeline ? secondsOf(timeline.ticks, timeline.tempo) / 60 : 0;
  return { ...noMeasure, length, apart: length };
};

const sumByName = <Name extends string>(
  a: Readonly<Record<Name, number>>,
  b: Readonly<Record<Name, number>>,
): Readonly<Record<Name, number>> => byName(Object.keys(a) as Name[], (name) => a[name] + b[name]);

export const addMeasures = (a: Measure, b: Measure): Measure => ({
  length: a.length + b.length,
  byRegion: sumByName<Region>(a.byRegion, b.byRegion),
  open: a.open + b.open,
  rests: a.rests + b.rests,
  apart: a.apart + b.apart,
  byArm: sumByName<ArmZone>(a.byArm, b.byArm),
  notes: a.notes + b.notes,
  bareShifts: a.bareShifts + b.bareShifts,
  crossings: a.crossings + b.crossings,
  travel: a.travel + b.travel,
  longestStay: longerStay(a.longestStay, b.longestStay),
});

/** Seconds of a column: as fine as a strip over three hours can show. */
const inkSeconds = 10;

/** The hand from the start of a tune to where its walked part ends. */
export function handInkOf(timeline: Timeline, line: Line, walked: number): HandInk {
  const { tempo } = timeline;
  const end = secondsOf(timeline.ticks, tempo) * walked;
  const columns = Array.from({ length: Math.ceil(end / inkSeconds) }, () => new Map<HandPosition, number>());
  const lay = (from: number, to: number, position: HandPosition): void => {
    for (let at = Math.floor(from / inkSeconds); at * inkSeconds < to; at++) {
      const inside = Math.min(to, (at + 1) * inkSeconds) - Math.max(from, at * inkSeconds);
      const column = columns[at];
      if (column && inside > 0) column.set(position, (column.get(position) ?? 0) + inside / inkSeconds);
    }
  };
  for (const note of line.notes) {
    if (isOpenString(note.placement)) continue;
    const from = secondsOf(note.tick, tempo);
    const to = secondsOf((note.tick + note.ticks) as Ticks, tempo);
    lay(from, Math.min(to, end), note.placement.position);
  }
  return {
    seconds: inkSeconds,
    columns: columns.map((column): InkColumn =>
      [...column].sort(([a], [b]) => a - b).map(([position, share]) => ({ position, share })),
    ),
  };
}
