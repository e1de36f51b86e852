// The hand report: where the hand was, how it moved, and what was hardest. An estimate of geometry, nothing more.
import { millimetres, seconds, ticksPerQuarter, type BarNumber, type Ticks } from '../../music';
import {
  armZoneOf,
  armZones,
  difficulty,
  isOpenString,
  movementTime,
  positionName,
  regionOf,
  regions,
  spanShares,
  stopInterval,
  type HandPosition,
  type Instrument,
  type Mover,
  type Region,
} from '../../instrument';
import { isOverHeel, stretchShare, takesTime, type HandOnBass } from './features';
import type { Distances, HandReport, HoldEase, LineNote, Move, MoveKind } from './types';

const beatsOf = (length: Ticks): number => length / ticksPerQuarter;

function sumBeats(notes: readonly LineNote[]): number {
  return notes.reduce((sum, note) => sum + beatsOf(note.ticks), 0);
}

function byRegion(notes: readonly LineNote[], beats: number): HandReport['byRegion'] {
  const stopped = notes.filter(({ placement }) => !isOpenString(placement));
  const row = (region: Region | 'open', own: readonly LineNote[]): HandReport['byRegion'][number] => {
    const sum = sumBeats(own);
    return { region, beats: sum, share: beats === 0 ? 0 : sum / beats };
  };
  return [
    ...regions.map((region) =>
      row(
        region,
        stopped.filter((note) => regionOf(note.placement.position) === region),
      ),
    ),
    row(
      'open',
      notes.filter(({ placement }) => isOpenString(placement)),
    ),
  ];
}

function byPosition(notes: readonly LineNote[]): HandReport['byPosition'] {
  const beats = new Map<HandPosition, number>();
  for (const note of notes) {
    if (isOpenString(note.placement)) continue;
    const { position } = note.placement;
    beats.set(position, (beats.get(position) ?? 0) + beatsOf(note.ticks));
  }
  return [...beats]
    .sort(([a], [b]) => a - b)
    .map(([position, sum]) => ({ position, numeral: positionName(position), beats: sum }));
}

function byArm(notes: readonly LineNote[], { instrument }: HandOnBass): HandReport['byArm'] {
  const stopped = notes.filter(({ placement }) => !isOpenString(placement));
  const all = sumBeats(stopped);
  return armZones
    .map((zone) => {
      const beats = sumBeats(
        stopped.filter(({ placement }) => armZoneOf(instrument, placement.position) === zone),
      );
      return { zone, beats, share: all === 0 ? 0 : beats / all };
    })
    .filter(({ beats }) => beats > 0);
}

function distancesOf(notes: readonly LineNote[], kind: MoveKind): Distances {
  const own = notes.filter(({ move }) => move.kind === kind).map(({ move }) => move.distance);
  const total = own.reduce((sum, one) => sum + one, 0);
  return {
    total: millimetres(total),
    mean: millimetres(own.length === 0 ? 0 : total / own.length),
    longest: millimetres(Math.max(0, ...own)),
  };
}

function holdsOf(notes: readonly LineNote[], player: HandOnBass): Readonly<Record<HoldEase, number>> {
  const holds = { relaxed: 0, comfortable: 0, practical: 0 };
  for (const { placement } of notes) {
    if (isOpenString(placement)) continue;
    const share = stretchShare(player, placement);
    if (share > spanShares.comfortable) holds.practical++;
    else if (share > spanShares.relaxed) holds.comfortable++;
    else holds.relaxed++;
  }
  return holds;
}

const countCrossings = (notes: readonly LineNote[]): number =>
  notes.filter(({ placement }, index) => index > 0 && notes[index - 1]!.placement.string !== placement.string)
    .length;

/** A stay is a run of stopped notes in one region; an open string frees the hand and ends it. */
function longestStay(notes: readonly LineNote[]): HandReport['longestStay'] {
  let longest: HandReport['longestStay'] = null;
  let current: { readonly region: Region; beats: number; readonly fromBar: BarNumber } | undefined;
  for (const note of notes) {
    if (isOpenString(note.placement)) {
      current = undefined;
      continue;
    }
    const region = regionOf(note.placement.position);
    if (current?.region !== region) current = { region, beats: 0, fromBar: note.bar };
    current.beats += beatsOf(note.ticks);
    if (!longest || current.beats > longest.beats) longest = { ...current };
  }
  return longest;
}

/** A move as it is told: under open strings from the last stopped place to the next one. */
function toldMove({ move, carry }: LineNote, instrument: Instrument, mover?: Mover): Move {
  if (carry === null || (carry.from === move.from && carry.to === move.to)) return move;
  const { from, to } = carry;
  const pressure = movementTime(instrument, from, to, mover) / move.time;
  return { ...move, from, to, distance: stopInterval(instrument, from, to), pressure };
}

/** The move with the greatest pressure, pivots counted. */
function hardestMove(
  notes: readonly LineNote[],
  { instrument, hand }: HandOnBass,
): HandReport['hardestMove'] {
  let hardest: LineNote | null = null;
  for (const note of notes)
    if (takesTime(note.move) && note.move.pressure > (hardest?.move.pressure ?? 0)) hardest = note;
  if (!hardest) return null;
  const { bar, beat } = hardest;
  const move = toldMove(hardest, instrument, hand.mover);
  const bits = difficulty(instrument, move.from, move.to, hand.mover);
  const needed = seconds(move.pressure * move.time);
  return { bar, beat, semitones: move.to - move.from, bits, needed, move };
}

/** Shifts on which one finger slides from stop to stop along one string. */
function countSameFinger(notes: readonly LineNote[]): number {
  return notes.filter((note, index) => {
    const before = notes[index - 1];
    return (
      before !== undefined &&
      note.move.kind === 'bare shift' &&
      !isOpenString(before.placement) &&
      note.placement.finger === before.placement.finger &&
      note.placement.string === before.placement.string
    );
  }).length;
}

export function makeReport(notes: readonly LineNote[], player: HandOnBass): HandReport {
  const beats = sumBeats(notes);
  const countMoves = (kind: LineNote['move']['kind']): number =>
    notes.filter((note) => note.move.kind === kind).length;
  const holds = holdsOf(notes, player);
  return {
    beats,
    byRegion: byRegion(notes, beats),
    byPosition: byPosition(notes),
    byArm: byArm(notes, player),
    bareShifts: countMoves('bare shift'),
    coveredShifts: countMoves('covered shift'),
    bareDistance: distancesOf(notes, 'bare shift'),
    coveredDistance: distancesOf(notes, 'covered shift'),
    pivots: countMoves('pivot'),
    stretches: holds.practical,
    holds,
    crossings: countCrossings(notes),
    heelJumps: notes.filter(({ move }) => isOverHeel(player.instrument, move)).length,
    sameFingerShifts: countSameFinger(notes),
    longestStay: longestStay(notes),
    hardestMove: hardestMove(notes, player),
  };
}
