import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toMidi, toMusicXml, toText } from '../../../src/export';
import {
  allPlacements,
  defaultHand,
  defaultInstrument,
  findInstrument,
  findLivingPlace,
  handPosition,
  isHoldable,
  isOnExtension,
  liesIn,
  makeHand,
  parsePosition,
  positionName,
  regionOf,
  thumbOf,
  type Placement,
  type StringNumber,
} from '../../../src/instrument';
import { bpm, makeKey, noteName, seconds, soundingMidi, ticks, barNumber } from '../../../src/music';
import {
  makeCostModel,
  makeMoveContext,
  stretchFeature,
  thumbFollows,
  type Line,
} from '../../../src/pipeline';
import type { Slot } from '../../../src/pipeline/2-timeline';
import { fingerBothWays, fingerLine, type GivenNote, type GivenRequest } from '../../../src/pipeline/given';
import { choices, fingered, givenRequest, noLimits, notesOf } from './lines';

const half = parsePosition('half')!;

/** Cost of a fingering term by term, from the features alone. */
function costOf(placements: readonly Placement[], tempo: number): number {
  const model = makeCostModel({ instrument: defaultInstrument, hand: defaultHand }, bpm(tempo));
  const stretch = stretchFeature(model.player, bpm(tempo));
  const slot = { ticks: ticks(480) } as Slot;
  const beat = seconds(60 / tempo);
  const context = makeMoveContext(defaultInstrument, beat, beat, seconds(0));
  let total = 0;
  placements.forEach((one, index) => {
    for (const { amount } of model.hold) total += Math.round(amount(model.player, one) * 1000);
    total += Math.round(stretch.amount(slot, one) * 1000);
    const before = placements[index - 1];
    if (before) for (const { amount } of model.move) total += Math.round(amount(context, before, one) * 1000);
  });
  return total;
}

/** The cheapest fingering by trying every one. */
function leastOfAll(pitches: readonly number[], tempo: number): number {
  const table = allPlacements(defaultInstrument, defaultHand, { highestPosition: 12 });
  let least = Number.POSITIVE_INFINITY;
  const extend = (chosen: readonly Placement[]): void => {
    if (chosen.length === pitches.length) {
      least = Math.min(least, costOf(chosen, tempo));
      return;
    }
    const before = chosen.at(-1);
    for (const one of table) {
      const canFollow = before ? thumbFollows({ rest: seconds(0) }, before, one) : thumbOf(one) === 0;
      if (one.midi === pitches[chosen.length]! && canFollow) extend([...chosen, one]);
    }
  };
  extend([]);
  return least;
}

describe('a given line', () => {
  it('keeps its notes, names and times, and every placement can be held', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 28, max: 60 }), { minLength: 1, maxLength: 24 }),
        fc.constantFrom('open' as const, 'usual' as const),
        (pitches, way) => {
          const notes = pitches.map((midi, index): GivenNote => ({
            midi: soundingMidi(midi),
            tick: ticks(index * 480),
            ticks: ticks(480),
          }));
          const { line } = fingered(notes, { way });
          expect(line.notes.map((note) => note.midi)).toEqual(pitches);
          expect(line.notes.map((note) => note.tick)).toEqual(notes.map((note) => note.tick));
          for (const { placement } of line.notes)
            expect(isHoldable(defaultInstrument, defaultHand, placement)).toBe(true);
          const items = line.notes.flatMap((note) => note.items.map((item) => item.amount as number));
          expect(items.reduce((sum, amount) => sum + amount, 0)).toBe(line.cost);
        },
      ),
      { numRuns: 12, seed: 9 },
    );
  });

  it('is fingered at the least cost there is, found by trying every fingering', () => {
    for (const [text, tempo] of [
      ['Bb1 C2 D2', 120],
      ['F#1 A2 C#2', 220],
      ['G2 Ab2 D3', 90],
    ] as const) {
      const notes = notesOf(text);
      const least = leastOfAll(
        notes.map((note) => note.midi),
        tempo,
      );
      expect(fingered(text, { tempo: bpm(tempo) }).line.cost).toBe(least);
    }
  });

  it('names notes as they were written, or as the key has them', () => {
    const names = (text: string): string[] => fingered(text).line.notes.map((note) => note.pitch.name);
    expect(names('F#1 E#2 Cb2 D#2')).toEqual(['F#', 'E#', 'Cb', 'D#']);
    const bare = notesOf('Bb1 Eb2').map(({ midi, tick, ticks: length }) => ({ midi, tick, ticks: length }));
    const inFlats = fingered(bare, { key: makeKey(noteName('Eb'), 'major') }).line;
    expect(inFlats.notes.map((note) => note.pitch.name)).toEqual(['Bb', 'Eb']);
  });

  it('stands in bars without chords that staff and files can show', () => {
    const { line, timeline } = fingered('F1 G1 A1 Bb1 C2:2 r:2 D2');
    expect(timeline!.bars).toHaveLength(3);
    expect(line.notes.map((note) => [note.bar, note.beat])).toEqual([
      [1, 1],
      [1, 2],
      [1, 3],
      [1, 4],
      [2, 1],
      [3, 1],
    ]);
    expect(line.notes[4]!.slot.restAfter).toBe(960);
    expect(toMusicXml(timeline!, line, { positionName })).toContain('<step>F</step>');
    expect(toMidi(timeline!, line).length).toBeGreaterThan(50);
    expect(toText(timeline!, line, { positionName, stringName: String })).toContain('half');
  });

  it('says of every note what the hand does', () => {
    const { line } = fingered('Bb1 C2 D2 G2 A2', { limits: { barredPositions: [half] } });
    for (const note of line.notes) expect(note.reason).toContain('is given');
  });
});

describe('wishes on a given line', () => {
  it('hold pins, barred strings, a longest stay and a place to live', () => {
    const scale = 'F1 G1 A1 Bb1 C2 D2 E2 F2';
    const pinned = fingered(scale, {
      pins: [{ bar: barNumber(1), beat: 3, string: 4 as StringNumber, finger: '1' }],
    });
    expect(choices(pinned.line)[2]).toBe('IV.1');
    const barred = fingered(scale, { limits: { ...noLimits, barredStrings: [3 as StringNumber] } });
    expect(barred.line.notes.some((note) => note.placement.string === 3)).toBe(false);
    const stay = { region: 'low' as const, beats: 1 };
    const { line } = fingered(scale, { way: 'usual', limits: { ...noLimits, stay } });
    const isLow = line.notes.map(
      ({ placement }) => placement.finger !== '0' && regionOf(placement.position) === 'low',
    );
    expect(isLow.some((low, index) => low && isLow[index + 1])).toBe(false);
    const place = findLivingPlace('block')!;
    const there = fingered('Bb1 C2 D2 Eb2 F2 G2 A2 Bb2', { limits: { ...noLimits, place } }).line;
    expect(there.notes.every((note) => liesIn(place, note.placement))).toBe(true);
  });

  it('hold a largest share of a region, or say that none can', () => {
    const text = 'Bb1 C2 D2 Eb2 F2 G2 A2 Bb2';
    const limits = (share: number): GivenRequest['limits'] => ({
      ...noLimits,
      shares: [{ region: 'low' as const, share }],
    });
    const lowShare = (line: Line): number => line.report.byRegion.find((one) => one.region === 'low')!.share;
    expect(lowShare(fingered(text, { way: 'usual' }).line)).toBeGreaterThan(0.5);
    expect(lowShare(fingered(text, { way: 'usual', limits: limits(0.25) }).line)).toBeLessThanOrEqual(0.25);
    const none = fingerLine(notesOf('F1 F#1'), givenRequest({ limits: limits(0) }));
    expect(none.line).toBeNull();
    expect(none.impossible!.message).toContain('at most 0 % in the low region');
  });

  it('that leave nothing are named: low F with half barred', () => {
    const result = fingerLine(notesOf('F1 G1 A1 Bb1'), givenRequest({ limits: { barredPositions: [half] } }));
    expect(result.line).toBeNull();
    expect(result.impossible!.message).toContain('half barred');
    expect(result.impossible!.message).toContain('Bar 1, beat 1');
    expect(result.impossible!.freeing).toEqual([half]);
    expect(result.impossible!.cheapest?.words).toBe('half barred');
  });

  it('only the wishes in the way are named, with a stay among them', () => {
    const stay = { region: 'low' as const, beats: 1 };
    const result = fingerLine(
      notesOf('F1 F#1'),
      givenRequest({ limits: { barredPositions: [handPosition(9)], stay } }),
    );
    expect(result.impossible!.conflict.map((wish) => wish.words)).toEqual([
      'no more than 1 beats in a row in the low region',
    ]);
  });

  it('a hand too small for the whole tone in half position plays it with the first finger instead, or says so', () => {
    const small = makeHand(90);
    const { line } = fingered('F1 G1 A1 Bb1', { hand: small });
    for (const { placement } of line.notes)
      expect(isHoldable(defaultInstrument, small, placement)).toBe(true);
  });
});

describe('notes that cannot be', () => {
  it.each([
    ['C1', 'below the lowest note'],
    ['C5', 'above the highest stop'],
  ])('%s: %s', (text, words) => {
    const { line, problems } = fingerLine(notesOf(text), givenRequest());
    expect(line).toBeNull();
    expect(problems[0]!.message).toContain(words);
  });

  it('overlap or last no time', () => {
    const note = (tick: number, length: number): GivenNote => ({
      midi: soundingMidi(40),
      tick: ticks(tick),
      ticks: ticks(length),
    });
    expect(fingerLine([note(0, 480), note(240, 480)], givenRequest()).problems[0]!.code).toBe('overlap');
    expect(fingerLine([note(0, 0)], givenRequest()).problems[0]!.code).toBe('no-length');
    expect(fingerLine([], givenRequest())).toEqual({
      problems: [],
      timeline: null,
      line: null,
      impossible: null,
    });
  });
});

describe('other basses', () => {
  it('a low C string plays C1 open; an extension plays it off the board, and the way back costs a shift', () => {
    const low = fingered('C1 G1 C2', { instrument: findInstrument('bass-low-c')! }).line;
    expect(low.notes[0]!.placement).toMatchObject({ string: 5, stop: 0 });
    const extended = fingered('C1 G1 C2', { instrument: findInstrument('bass-extension')! }).line;
    expect(isOnExtension(extended.notes[0]!.placement.position)).toBe(true);
    expect(extended.notes[1]!.move.kind).toBe('bare shift');
    expect(extended.notes[1]!.move.distance).toBeGreaterThan(300);
    expect(extended.report.hardestMove!.beat).toBe(2);
  });

  it('solo tuning is the orchestral fingering a tone higher', () => {
    const text = (step: number): GivenNote[] =>
      notesOf('F1 G1 A1 Bb1 C2 D2 E2 F2').map(({ midi, ...rest }) => ({
        midi: soundingMidi(midi + step),
        tick: rest.tick,
        ticks: rest.ticks,
      }));
    for (const way of ['open', 'usual'] as const) {
      const solo = fingered(text(2), { way, instrument: findInstrument('bass-solo')! }).line;
      expect(choices(solo)[0]).toBe('IV.1');
      if (way === 'usual') expect(choices(solo)).toEqual(choices(fingered(text(0), { way }).line));
    }
  });

  it('a C string above changes nothing for what lies below it', () => {
    const text = 'Bb1 C2 D2 Eb2 F2 G2 A2 Bb2';
    const four = fingered(text, { limits: { barredPositions: [half] } }).line;
    const five = fingered(text, {
      instrument: findInstrument('bass-high-c')!,
      limits: { barredPositions: [half], barredStrings: [1 as StringNumber] },
    }).line;
    expect(five.notes.map((note) => note.placement.string - 1)).toEqual(
      four.notes.map((note) => note.placement.string as number),
    );
    expect(five.cost).toBe(four.cost);
  });

  it('both ways come out of one question', () => {
    const { usual, open } = fingerBothWays(notesOf('Eb2 F2 G2 Ab2 Bb2 C3 D3 Eb3'), givenRequest());
    expect(usual.line!.notes.map((note) => note.midi)).toEqual(open.line!.notes.map((note) => note.midi));
    expect(choices(usual.line!)).not.toEqual(choices(open.line!));
  });
});
