// What wishes add to the cost of a line: which way, how much, and where nothing. Sizes are written out as they are meant.
import { describe, expect, it } from 'vitest';
import { soundingMidi } from '../../../src/music';
import { readChart } from '../../../src/pipeline/1-chart';
import { makeTimeline, type Lean, type Slot } from '../../../src/pipeline/2-timeline';
import { wishedPitchFeatures, wishedStepFeature } from '../../../src/pipeline/5-line/features';

const { slots } = makeTimeline(readChart('Key: C\n[A] | C6 | Dm7 |\n').chart, {
  choruses: 1,
  tempo: null,
}).timeline!;
const first = slots[0]!;
const inner = slots[1]!;
const leaning = (slot: Slot, lean: Partial<Lean>): Slot => ({
  ...slot,
  lean: { bold: 0, leaps: 0, outside: 0, goal: null, ...lean },
});
const pitchCost = (name: string, slot: Slot, midi: number): number =>
  wishedPitchFeatures.find((one) => one.name === name)!.amount(slot, soundingMidi(midi));
const stepCost = (slot: Slot, from: number, to: number): number =>
  wishedStepFeature.amount(slot, soundingMidi(from), soundingMidi(to));

const [C, Db, D, E, G, A] = [36, 37, 38, 40, 43, 45];

describe('plain or bold', () => {
  it.each([
    ['plain takes the root where a chord begins', -1, first, C, -1.6],
    ['plain would not have the third there', -1, first, E, 0.5],
    ['plain takes the fifth between', -1, inner, G, -0.8],
    ['plain stays in the chord', -1, inner, Db, 0.9],
    ['bold would not have the root where a chord begins', 1, first, C, 1.3],
    ['bold takes the third there', 1, first, E, -0.7],
    ['bold takes what lies outside between', 1, inner, Db, -0.4],
    ['half as bold is half of it', 0.5, first, C, 0.65],
    ['nothing is asked', 0, first, C, 0],
  ])('%s', (_what, bold, slot, midi, cost) => {
    expect(pitchCost('plain or bold', leaning(slot, { bold }), midi)).toBeCloseTo(cost, 9);
  });
});

describe('inside or outside', () => {
  it.each([
    ['inside shuns what lies outside', -1, inner, Db, 1.6],
    ['inside would rather have chord notes than the scale', -1, inner, D, 0.5],
    ['inside takes chord notes', -1, inner, G, -0.2],
    ['outside takes what lies outside', 1, inner, Db, -1.2],
    ['outside takes the scale', 1, inner, D, -0.3],
    ['outside leaves chord notes', 1, inner, E, 0.4],
    ['what opens a bar or a chord stays as it is', 1, first, Db, 0],
  ])('%s', (_what, outside, slot, midi, cost) => {
    expect(pitchCost('inside or outside', leaning(slot, { outside }), midi)).toBeCloseTo(cost, 9);
  });
});

describe('steps or leaps', () => {
  it.each([
    ['steps takes a semitone', -1, C, Db, -0.7],
    ['steps takes a tone', -1, D, C, -0.7],
    ['steps would not have a third', -1, C, E, 0.5],
    ['steps shuns a fifth', -1, C, G, 1.2],
    ['steps shuns an octave', -1, C, C + 12, 1.5],
    ['leaps takes a third', 1, C, E, -0.5],
    ['leaps takes a sixth', 1, C, A, -0.9],
    ['leaps takes an octave', 1, C, C + 12, -0.7],
    ['leaps would not have a tone', 1, C, D, 0.8],
    ['neither likes the same note again', 1, C, C, 0.5],
  ])('%s', (_what, leaps, from, to, cost) => {
    expect(stepCost(leaning(inner, { leaps }), from, to)).toBeCloseTo(cost, 9);
  });
});

describe('a height wished for', () => {
  it('costs the square of the distance in half octaves, up to a bound', () => {
    const at = (midi: number): number => pitchCost('height wished for', leaning(inner, { goal: 40 }), midi);
    expect(at(40)).toBe(0);
    expect(at(46)).toBeCloseTo(1.1, 9);
    expect(at(37)).toBeCloseTo(0.275, 9);
    expect(at(28)).toBe(4);
  });
});

describe('notes that are not free', () => {
  it.each([
    ['a ghost', { articulation: 'ghost' }],
    ['a note of a pattern', { confinedTo: 'root and fifth' }],
  ] as const)('%s bears no wish', (_what, mark) => {
    const slot = { ...leaning(inner, { bold: 1, leaps: 1, outside: 1 }), ...mark };
    expect(pitchCost('plain or bold', slot, C)).toBe(0);
    expect(pitchCost('inside or outside', slot, Db)).toBe(0);
    expect(stepCost(slot, C, G)).toBe(0);
  });
});

describe('where nothing is wished for', () => {
  it.each(['plain or bold', 'inside or outside', 'height wished for'])('%s costs nothing', (name) => {
    for (const slot of [inner, leaning(inner, {})])
      for (const midi of [C, Db, E]) expect(pitchCost(name, slot, midi)).toBe(0);
  });
  it('nor do steps or leaps', () => {
    for (const slot of [inner, leaning(inner, {})]) expect(stepCost(slot, C, G)).toBe(0);
  });
});
