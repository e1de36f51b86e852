// Every term of the melody: what it counts, which way it points, how large it is, and where it is nothing.
//
// Sizes are written out here as they are meant to be, not read from the data, so that a turned sign or another weight fails.
// Those of walking steps and chord degrees are moved by `npm run fit`: a new fit changes them here, too, knowingly.
import { describe, expect, it } from 'vitest';
import { soundingMidi } from '../../../src/music';
import { readChart } from '../../../src/pipeline/1-chart';
import { makeTimeline, type Slot } from '../../../src/pipeline/2-timeline';
import {
  approachFeature,
  degreeContext,
  degreeFeature,
  denialFeature,
  intervalFeature,
  leadsIntoTarget,
  openingFeature,
  registerFeature,
  toneClass,
} from '../../../src/pipeline/5-line/features';

const slotsOf = (text: string): readonly Slot[] =>
  makeTimeline(readChart(`Key: C\n${text}`).chart, { choruses: 1, tempo: null }).timeline!.slots;

/** The second of four beats on C6, where nothing begins and nothing is led into. */
const plain = slotsOf('[A] | C6 | C6 |\n')[1]!;
const slot = (changes: Partial<Slot> = {}): Slot => ({ ...plain, ...changes });
const into: Partial<Slot> = { nextIsDownbeat: true };

const at = (text: string): number => {
  const [, letter, sign, octave] = /^([A-G])([b#]?)(\d)$/.exec(text)!;
  const natural = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 }[letter!]!;
  return 12 * (Number(octave) + 1) + natural + (sign === 'b' ? -1 : sign === '#' ? 1 : 0);
};
const pitch = (text: string) => soundingMidi(at(text));
const step = (feature: typeof intervalFeature, one: Slot, semitones: number): number =>
  feature.amount(one, soundingMidi(45), soundingMidi(45 + semitones));

describe('the walking step', () => {
  it.each([
    ['the same note again', {}, 0, 1.5],
    ['a semitone', {}, 1, -1],
    ['a tone, down as up', {}, -2, -1],
    ['a third', {}, 3, -0.3],
    ['a fifth', {}, 7, 0],
    ['a seventh, down as up', {}, -11, 3],
    ['an octave', {}, 12, 1],
    ['more than an octave', {}, 13, 3.5],
    ['far more than an octave, down', {}, -24, 3.5],
    ['the same note again into a bar', into, 0, 3.094],
    ['a semitone into a bar', into, -1, 1.018],
    ['a fifth into a new chord', { nextIsChange: true }, 7, 4.239],
    ['a semitone into a new chord on a new bar', { ...into, nextIsChange: true }, 1, 1.018],
    ['half of it out of a dead note', { articulation: 'ghost' }, -2, -0.5],
    ['half of it between long notes', { isSustained: true }, 0, 0.75],
    ['a fifth of it in a pattern', { confinedTo: 'root and fifth' }, 12, 0.2],
  ] as const)('%s', (_what, changes, semitones, amount) => {
    expect(step(intervalFeature, slot(changes as Partial<Slot>), semitones)).toBeCloseTo(amount, 9);
  });

  it.each([
    ['ghost', 0, -2.2],
    ['ghost', 2, 1.2],
    ['ghost', -2, 1.2],
    ['ghost', 3, 0.6],
    ['ghost', -12, 0.6],
    ['drop', 0, 2],
    ['drop', 1, 3],
    ['drop', -1, 1],
    ['drop', -2, 1],
    ['drop', -3, -0.6],
    ['drop', -12, -0.6],
    ['drop', -13, 2],
    ['triplet', 0, 0.4],
    ['triplet', 5, 1.8],
    ['triplet', -2, 0.4],
    ['triplet', -3, -0.6],
    ['triplet', -13, 2],
  ] as const)('into a %s by %d: %d, into a bar too', (nextArticulation, semitones, amount) => {
    expect(step(intervalFeature, slot({ nextArticulation }), semitones)).toBe(amount);
    expect(step(intervalFeature, slot({ nextArticulation, ...into }), semitones)).toBe(amount);
  });

  it('on a pedal strikes the bass again, and nothing else', () => {
    const [first] = slotsOf('[A] | C6 | F/C |\n');
    const pedal = slot({
      isPedal: true,
      harmony: first!.harmony,
      nextHarmony: slotsOf('| F/C |\n')[0]!.harmony,
    });
    const between = (one: Slot, from: string, to: string): number =>
      intervalFeature.amount(one, pitch(from), pitch(to));
    expect(between(pedal, 'C2', 'C2')).toBe(-1);
    expect(between(pedal, 'C2', 'C3')).toBe(1);
    expect(between(pedal, 'F2', 'F2')).toBe(1.5);
    expect(between(slot({ ...pedal, isPedal: undefined } as never), 'C2', 'C2')).toBe(1.5);
    expect(between({ ...pedal, nextHarmony: slotsOf('| F6 |\n')[0]!.harmony }, 'C2', 'C2')).toBe(1.5);
    expect(between({ ...pedal, harmony: slotsOf('| F6 |\n')[0]!.harmony }, 'C2', 'C2')).toBe(1.5);
  });
});

describe('the approach', () => {
  it.each([
    ['from a semitone below', into, 1, -1.693],
    ['from a semitone above', into, -1, -2.414],
    ['from a tone below', into, 2, 1.415],
    ['from a tone above', into, -2, 0.144],
    ['from further', into, 3, 0],
    ['from the note itself', into, 0, 0],
    ['into a new chord', { nextIsChange: true }, 1, -1.693],
    ['into neither', {}, 1, 0],
    ['into a dead note', { ...into, nextArticulation: 'ghost' }, 1, 0],
    ['out of a dead note, which is the approach again', { ...into, articulation: 'ghost' }, 1, -1.693],
    ['out of a drop', { ...into, articulation: 'drop' }, -1, -1.207],
    ['of a long note', { ...into, isSustained: true }, -1, -1.207],
    ['in a pattern', { ...into, confinedTo: 'root and fifth' }, -1, -0.4828],
  ] as const)('%s', (_what, changes, semitones, amount) => {
    expect(step(approachFeature, slot(changes as Partial<Slot>), semitones)).toBeCloseTo(amount, 9);
  });

  it('is led into where a bar or a chord begins', () => {
    const both = [false, true];
    const asked = both.flatMap((nextIsDownbeat) =>
      both.map((nextIsChange) => leadsIntoTarget(slot({ nextIsDownbeat, nextIsChange }))),
    );
    expect(asked).toEqual([false, true, true, true]);
  });
});

describe('what a pitch is in its chord', () => {
  const classes = (chord: string, notes: string): string =>
    notes
      .split(' ')
      .map((note) => toneClass(slotsOf(`| ${chord} |\n`)[0]!.harmony, pitch(`${note}2`)))
      .join(' ');

  it.each([
    ['C6', 'C E G A D Db', 'root third fifth seventh scale chrom'],
    ['Cm7', 'C Eb G Bb', 'root third fifth seventh'],
    ['C7sus4', 'C F G Bb', 'root third fifth seventh'],
    ['C9', 'C D E', 'root scale third'],
    ['Csus2', 'C D G', 'root third fifth'],
    ['C13', 'A', 'scale'],
    // The bass takes the part of the root, which then supports like a fifth.
    ['C6/G', 'G C E', 'root fifth third'],
    ['Dm7/G', 'G D F', 'root fifth third'],
  ])('%s: %s are %s', (chord, notes, expected) => {
    expect(classes(chord, notes)).toBe(expected);
  });

  it('is a note of the scale or none where there is no chord', () => {
    const harmony = { ...plain.harmony, chord: null };
    expect(toneClass(harmony, pitch('C2'))).toBe('scale');
    expect(toneClass(harmony, pitch('Db2'))).toBe('chrom');
    expect(toneClass({ ...harmony, scale: null }, pitch('C2'))).toBe('chrom');
  });
});

describe('where a slot stands', () => {
  it.each([
    ['section', { phrase: 'top', isChange: false }],
    ['section', { phrase: 'section', isChange: true }],
    ['four bars', { phrase: 'four bars', isChange: true, strength: 3 }],
    ['b1', { phrase: 'four bars', isChange: false, strength: 3 }],
    ['change', { phrase: 'inside', isChange: true, strength: 2 }],
    ['b1', { phrase: 'inside', strength: 3 }],
    ['b1', { phrase: 'inside', strength: 0, articulation: 'anticipation' }],
    ['b2', { phrase: 'inside', strength: 1 }],
    ['b2', { phrase: 'inside', strength: 0 }],
    ['b3', { phrase: 'inside', strength: 2 }],
    ['b4', { phrase: 'inside', strength: 1, nextIsDownbeat: true }],
    ['b4', { phrase: 'inside', strength: 2, nextIsDownbeat: true }],
  ] as const)('%s: %o', (context, changes) => {
    expect(degreeContext(slot(changes as Partial<Slot>))).toBe(context);
  });
});

describe('the chord degree', () => {
  const top: Partial<Slot> = { phrase: 'top' };
  const change: Partial<Slot> = { isChange: true };
  const long: Partial<Slot> = { isSustained: true };
  const pattern: Partial<Slot> = { confinedTo: 'root and fifth' };
  it.each([
    ['the root where a section begins', top, 'C2', -2.283],
    ['a third there', top, 'E2', -3.403],
    ['a note outside there', top, 'Db2', 3.55],
    ['the root of a new chord in other four bars', { ...change, phrase: 'four bars' as const }, 'C2', -2.262],
    ['its seventh', { ...change, phrase: 'four bars' as const }, 'A2', 2.793],
    ['the root of a new chord elsewhere', change, 'C2', -1.465],
    ['its fifth', change, 'G2', -0.006],
    ['a note of the scale on a downbeat', { strength: 3 as const }, 'D2', -2.033],
    ['a note outside there', { strength: 3 as const }, 'Db2', 9],
    ['the root on a second beat', {}, 'C2', 0.922],
    ['a note of the scale there', {}, 'D2', -3.039],
    ['the fifth on a third beat', { strength: 2 as const }, 'G2', 0.321],
    ['a note outside on the last beat', into, 'Db2', 0.609],
    ['a dead note outside', { articulation: 'ghost' as const }, 'Db2', 1.5],
    ['a dead note inside', { articulation: 'ghost' as const }, 'C2', 0],
    ['a long root of a new chord', { ...long, ...change }, 'C2', -2.6],
    ['a long seventh of a new chord', { ...long, ...change }, 'A2', 2.2],
    ['a long fifth on a downbeat', { ...long, strength: 3 as const }, 'G2', -1.4],
    ['a long fifth later', long, 'G2', -2],
    ['a long note outside later', long, 'Db2', 3],
    ['the root that opens a pattern', { ...pattern, ...change }, 'C2', -4],
    ['the fifth that opens it', { ...pattern, strength: 3 as const }, 'G2', 0],
    ['the fifth on a beat of it', pattern, 'G2', -1],
    ['the root on a beat of it', pattern, 'C2', -0.4],
    ['the root off the beat', { ...pattern, strength: 0 as const }, 'C2', -0.5],
    ['what a pin asks for in it', pattern, 'E2', 0],
  ])('%s', (_what, changes, note, amount) => {
    expect(degreeFeature.amount(slot(changes), pitch(note))).toBe(amount);
  });
});

describe('the first note of the form', () => {
  it.each([
    ['the root', { phrase: 'top' }, 'C2', 0],
    ['the fifth', { phrase: 'top' }, 'G2', 1.5],
    ['the third', { phrase: 'top' }, 'E2', 14],
    ['a note outside', { phrase: 'top' }, 'Db2', 14],
    ['a third where a later section begins', { phrase: 'section' }, 'E2', 0],
    ['a third of a pattern', { phrase: 'top', confinedTo: 'root and fifth' }, 'E2', 0],
  ] as const)('%s', (_what, changes, note, amount) => {
    expect(openingFeature.amount(slot(changes as Partial<Slot>), pitch(note))).toBe(amount);
  });
});

describe('what denies the chord', () => {
  const altered = slotsOf('| C7b9 |\n')[0]!.harmony;
  const target: Partial<Slot> = { isTarget: true };
  it.each([
    ['a semitone over the root on a target', target, 'Db2', 14],
    ['the fourth over a major third there', target, 'F2', 14],
    ['the fourth between targets', { strength: 2 as const }, 'F2', 0],
    ['a note of the chord', target, 'E2', 0],
    [
      'the ninth beside a flat ninth in the middle of the bar',
      { harmony: altered, strength: 2 as const },
      'D2',
      14,
    ],
    ['the same on a weak beat', { harmony: altered, strength: 1 as const }, 'D2', 0],
    ['the flat ninth itself', { harmony: altered, strength: 2 as const }, 'Db2', 0],
  ])('%s', (_what, changes, note, amount) => {
    expect(denialFeature.amount(slot(changes), pitch(note))).toBe(amount);
  });
});

describe('the register', () => {
  it.each([
    ['E1', -1.031],
    ['F#1', -1.031],
    ['G1', -0.245],
    ['E2', -0.851],
    ['G2', 0.141],
    ['G3', -1.037],
    ['C5', -1.037],
    ['C1', -1.031],
  ])('of %s costs %d', (note, amount) => {
    expect(registerFeature.amount(plain, pitch(note))).toBe(amount);
  });
});
