// Given lines on twelve basses, with spans, ways and barred positions: nothing that a hand cannot do, and nothing cheaper, by
// a second model written for these tests.
import { describe, expect, it } from 'vitest';
import { findInstrument, handPosition, makeHand, wayIds, type Hand, type WayId } from '../../src/instrument';
import { bpm, seededRandom, soundingMidi, ticks, type Random } from '../../src/music';
import { fingerLine, type GivenNote } from '../../src/pipeline/given';
import { handFigures } from '../../src/pipeline/5-line';
import { givenRequest } from '../pipeline/given/lines';
import { bassIds, HandModel } from './hand-model';
import { faultsOf, leastCost, playedOf } from './hand-rules';

/** A line that steps, leaps, repeats and rests among some pitches. */
function someNotes(random: Random, pitches: ReadonlySet<number>, count: number): GivenNote[] {
  const notes: GivenNote[] = [];
  let midi = [...pitches][Math.floor(random() * pitches.size)]!;
  let tick = 0;
  for (let index = 0; index < count; index++) {
    const length = [480, 480, 480, 240][Math.floor(random() * 4)]!;
    notes.push({ midi: soundingMidi(midi), tick: ticks(tick), ticks: ticks(length) });
    tick += length + (random() < 0.05 ? 240 : 0);
    const steps = [-1, 1, -1, 1, -2, 2, -2, 2, -3, 4, 5, -5, 7, -7, 0];
    const next = midi + steps[Math.floor(random() * steps.length)]!;
    midi = pitches.has(next) ? next : midi;
  }
  return notes;
}

const avoidSets = [[], [1], [1, 2], [4, 6], [3, 5, 7]] as const;

interface Case {
  readonly id: string;
  readonly span: number;
  readonly way: WayId;
  readonly tempo: number;
  readonly avoid: readonly number[];
  readonly notes: readonly GivenNote[];
}

/** Twelve basses in turn, everything else drawn. */
function cases(count: number, length: number): readonly Case[] {
  const random = seededRandom(20);
  return Array.from({ length: count }, (_, index): Case => {
    const id = bassIds[index % bassIds.length]!;
    const span = 110 + 10 * Math.floor(random() * 9);
    const way = wayIds[Math.floor(random() * wayIds.length)]!;
    const avoid = avoidSets[Math.floor(random() * avoidSets.length)]!;
    const model = new HandModel(id, span, way);
    const { strings } = model.bass;
    const [lowest, highest] = [Math.min(...strings), Math.max(...strings) + 10];
    const pitches = Array.from({ length: highest - lowest + 1 }, (_, above) => lowest + above);
    const playable = pitches.filter((midi) =>
      model.holds(midi, 12).some(({ position }) => !(avoid as readonly number[]).includes(position)),
    );
    return {
      ...{ id, span, way, avoid },
      tempo: [60, 120, 160, 220][Math.floor(random() * 4)]!,
      notes: someNotes(random, new Set(playable), length),
    };
  });
}

const handOf = ({ span, way }: Case): Hand => ({ ...makeHand(span), way: { id: way } });

const fingeredCase = (one: Case): ReturnType<typeof fingerLine> =>
  fingerLine(
    one.notes,
    givenRequest({
      instrument: findInstrument(one.id)!,
      hand: handOf(one),
      tempo: bpm(one.tempo),
      limits: { barredPositions: one.avoid.map((position) => handPosition(position)) },
    }),
  );

describe('fingerings on all basses', () => {
  it(
    'can be played note by note, 10,000 of them, and cost what the second model says',
    { timeout: 900_000 },
    () => {
      let notes = 0;
      const lines = cases(72, 140).flatMap((one) => {
        const { line } = fingeredCase(one);
        if (!line) return [];
        notes += line.notes.length;
        const model = new HandModel(one.id, one.span, one.way);
        expect({ ...one, notes: 0, faults: faultsOf(model, line, one.tempo, new Set(one.avoid)) }).toEqual({
          ...one,
          notes: 0,
          faults: [],
        });
        return [line];
      });
      expect(notes).toBe(72 * 140);
      const figures = handFigures(lines, new Set());
      expect(figures['pivots away']).toBe(0);
      expect(figures['crossed semitones']).toBe(0);
      expect(figures['pivots without thumb']).toBe(0);
      expect(lines.some(({ report }) => report.pivots > 0)).toBe(true);
    },
  );

  it('are the cheapest there are by the second model', { timeout: 900_000 }, () => {
    for (const one of cases(36, 12)) {
      const { line } = fingeredCase(one);
      const model = new HandModel(one.id, one.span, one.way);
      const top = Math.max(...model.bass.strings);
      const highest = Math.max(12, Math.max(...one.notes.map(({ midi }) => midi as number)) - top);
      const played = one.notes.map((note) => ({ ...note, string: 0, stop: 0, finger: '', position: 0 }));
      expect(line?.cost ?? null).toBe(leastCost(model, played, one.tempo, highest, new Set(one.avoid)));
      if (line) expect(playedOf(line)).toHaveLength(one.notes.length);
    }
  });
});
