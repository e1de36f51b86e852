// Every term of the hand: what it counts, which way it points, how large it is, and where it is nothing.
//
// Sizes are written out here as they are meant to be, not read from the data, so that a turned sign or another weight fails.
// Those that `npm run fit` moves stand together in `fitted`: a new fit changes them here, too, knowingly.
import { describe, expect, it } from 'vitest';
import weights from '../../../shared/weights/hand.json' with { type: 'json' };
import {
  allPlacements,
  defaultHand,
  defaultInstrument,
  findInstrument,
  type Placement,
} from '../../../src/instrument';
import { bpm, keyNotes, makeKey, noteName, seconds, ticks } from '../../../src/music';
import {
  fingeringFeatures,
  holdFeatures,
  openOutsideFeature,
  shiftFeatures,
  stretchFeature,
  stringFeatures,
} from '../../../src/pipeline/5-line';
import type { Slot } from '../../../src/pipeline/2-timeline';
import { at, place } from './place';

const fitted = {
  everyMove: 0.31,
  semitoneCarry: 0.558,
  landing: 0.3,
  camping: 0.6,
  skipped: 0.774,
  ringing: 2,
  openString: -0.16,
} as const;

const moveFeatures = [...shiftFeatures, ...fingeringFeatures, ...stringFeatures];

function moveAmount(name: string, from: string, to: string, context = at(defaultInstrument)): number {
  const feature = moveFeatures.find((one) => one.name === name)!;
  return feature.amount(context, place(from, context.instrument), place(to, context.instrument));
}

function holdAmount(name: string, one: string, livesAtOctave = false): number {
  const feature = holdFeatures.find((other) => other.name === name)!;
  return feature.amount({ instrument: defaultInstrument, hand: defaultHand, livesAtOctave }, place(one));
}

/** MT = 25 ms + 100 ms a bit; bits of a semitone and of five up, at 15 cents either way (design figures 2.15 and 4.35). */
const bits = (semitones: number): number => {
  const width = 2 ** (0.15 / 12) - 2 ** (-0.15 / 12);
  return Math.log2(Math.abs(2 ** (semitones / 12) - 1) / width + 1);
};
const pressed = (pressure: number): number => (pressure * pressure) / (1 + pressure);
const bare = (semitones: number): number => pressed((0.025 + 0.1 * bits(semitones)) / (0.4 * 0.33));
const covered = (semitones: number): number => pressed((0.025 + 0.1 * bits(semitones)) / 0.4);

describe('terms of a move', () => {
  it.each([
    // feature, from, to, how much
    ['shift', 'G1@3', 'G4@8', 2.94 * bare(5)],
    ['shift', 'G1@3', 'D0@8', 1 * covered(5)],
    ['shift', 'G1@3', 'G4@3', 0],
    ['every move', 'G1@3', 'G4@8', fitted.everyMove],
    ['every move', 'G1@3', 'D0@8', fitted.everyMove],
    ['every move', 'G1@3', 'G4@3', 0],
    ['every move', 'G1@3', 'G4@4-', 0],
    ['carry of a semitone', 'G1@3', 'D0@4', fitted.semitoneCarry],
    ['carry of a semitone', 'D0@4', 'D0@3', fitted.semitoneCarry],
    ['carry of a semitone', 'G1@3', 'D0@5', 0],
    ['carry of a semitone', 'G1@3', 'G1@4', 0],
    ['carry of a semitone', 'G1@3', 'D0@3', 0],
    ['over the heel', 'G1@7', 'G1@8', 0.28],
    ['over the heel', 'G1@8', 'G4@6', 0.28],
    ['over the heel', 'G1@8', 'G1@10', 0],
    ['pivot', 'G1@3', 'G4@4-', 0.6 + 2.94 * pressed((0.025 + 0.1 * bits(1)) / 2 / (0.4 * 0.33))],
    ['pivot', 'G1@3', 'G4@4', 0],
    ['pivot', 'G1@3', 'G4@3', 0],
    ['low position', 'G1@5', 'G1@1', 1.68],
    ['low position', 'G1@5', 'D0@1', 1.68],
    ['low position', 'G1@5', 'G1@2', 0.42],
    ['low position', 'G1@1', 'D1@1', 0],
    ['low position', 'G1@2', 'G1@3', 0],
    ['landing', 'G1@3', 'D0@4', 3 * fitted.landing],
    ['landing', 'G1@3', 'D0@2', fitted.landing],
    ['landing', 'G1@3', 'D0@6', fitted.landing],
    ['landing', 'G1@3', 'D0@10', 2 * fitted.landing],
    ['landing', 'G1@3', 'D0@5', 2 * fitted.landing],
    ['landing', 'G1@3', 'D0@1', 0],
    ['landing', 'G1@3', 'D0@7', 0],
    ['landing', 'G1@3', 'D0@8', 0],
    ['landing', 'G1@3', 'D0@12', 0],
    ['landing', 'G1@3', 'D4@5', 0],
    ['landing', 'G1@4', 'D0@4', 0],
    ['same finger again', 'G1@3', 'G1@5', 3.64],
    ['same finger again', 'G1@3', 'D1@5', 1.4],
    ['same finger again', 'G1@3', 'D1@3', 0],
    ['same finger again', 'G1@3', 'G2@5', 0],
    ['fourth finger across strings', 'G4@3', 'D4@3', 0.3],
    ['fourth finger across strings', 'G1@3', 'D1@3', 0],
    ['fourth finger across strings', 'G4@3', 'G4@3', 0],
    ['fourth finger across strings', 'G4@3', 'D4@5', 0],
    ['fourth finger across strings', 'G1@3', 'D4@3', 0],
    ['fourth finger across strings', 'D4@3', 'G1@3', 0],
    ['crossed fingers', 'G1@6', 'G4@5', 4],
    ['crossed fingers', 'G4@5', 'G1@6', 4],
    ['crossed fingers', 'G2@4', 'G1@6', 0],
    ['crossed fingers', 'G1@4', 'G2@4', 0],
    ['crossed fingers', 'G4@4', 'G1@7', 0],
    ['crossed fingers', 'D1@6', 'G4@5', 0],
    ['repeated note moved', 'G0@4', 'D4@3', 2],
    ['repeated note moved', 'D4@3', 'G0@3', 2],
    ['repeated note moved', 'G1@5', 'G4@3', 2],
    ['repeated note moved', 'G1@5', 'G1@5', 0],
    ['repeated note moved', 'G0@5', 'G0@2', 0],
    ['repeated note moved', 'G1@5', 'G2@5', 0],
    ['camping', 'E1@1', 'A1@1', fitted.camping],
    ['camping', 'E1@1', 'A2@2', fitted.camping],
    ['camping', 'E1@1', 'E1@1', 0],
    ['camping', 'A0@1', 'E1@1', 0.15],
    ['camping', 'A0@3', 'E1@1', 0],
    ['camping', 'E1@1', 'A0@1', 0],
    ['camping', 'E1@1', 'A1@3', 0],
    ['string crossing', 'G1@3', 'D1@3', 0.07],
    ['string crossing', 'D1@3', 'G1@3', 0.0875],
    ['string crossing', 'G1@3', 'G4@3', 0],
    ['skipped string', 'G1@3', 'A1@3', fitted.skipped],
    ['skipped string', 'G1@3', 'E1@3', 2 * fitted.skipped],
    ['skipped string', 'A1@3', 'G1@3', 1.25 * fitted.skipped],
    ['skipped string', 'A1@3', 'D1@3', 0],
    ['skipped string', 'A1@3', 'A4@3', 0],
    ['open after open', 'G0@3', 'D0@3', 0.84],
    ['open after open', 'G0@3', 'G0@3', 0],
    ['open after open', 'G0@3', 'D1@3', 0],
    // Open A under G sharp, a major seventh, two strings away.
    ['open string rings on', 'A0@1', 'G1@1', fitted.ringing],
    // A minor seventh under the fourth finger, which the others hold up; the first leaves three that can lie on the string.
    ['open string rings on', 'D0@3', 'G4@3', fitted.ringing],
    ['open string rings on', 'D0@5', 'G1@5', 0],
    ['open string rings on', 'A0@2', 'E4@2', fitted.ringing],
    ['open string rings on', 'A0@3', 'E1@3', 0],
    // An octave and a fifth do not grate.
    ['open string rings on', 'D0@5', 'G4@5', 0],
    ['open string rings on', 'A0@9', 'G1@9', 0],
    ['open string rings on', 'A1@3', 'G1@1', 0],
    ['open string rings on', 'D0@5', 'D4@5', 0],
    // A tritone on the string that is stopped itself; one left by a stopped note; two open strings.
    ['open string rings on', 'D0@4', 'D4@4', 0],
    ['open string rings on', 'D1@4', 'G4@3', 0],
    ['open string rings on', 'E0@3', 'D0@3', 0],
    // Over the thumb the third finger is the last, which leaves none to lie on the string.
    ['open string rings on', 'G0@13', 'D3@13', fitted.ringing],
    ['open string rings on', 'G0@14', 'D2@14', 0],
    ['open string rings on', 'D0@12', 'G2@12', 0],
  ] as const)('%s, %s to %s: %d', (name, from, to, amount) => {
    expect(moveAmount(name, from, to)).toBeCloseTo(amount, 9);
  });

  it('a finger that slides between two stops of one position pays for it', () => {
    const table = allPlacements(defaultInstrument, defaultHand, { highestPosition: 8 });
    const fourth = (frame: string): Placement =>
      table.find((one) => one.frame === frame && one.finger === '4' && one.position === 7 && !one.thumb)!;
    const { amount } = fingeringFeatures.find(({ name }) => name === 'same finger again')!;
    expect(amount(at(defaultInstrument), fourth('closed'), fourth('extended'))).toBeCloseTo(2.8, 9);
    expect(amount(at(defaultInstrument), fourth('closed'), fourth('closed'))).toBe(0);
  });

  it('a skip costs less after a longer note, a rest counted, in proportion', () => {
    const long = at(defaultInstrument, { fromLength: seconds(0.8) });
    expect(moveAmount('skipped string', 'G1@3', 'A1@3', long)).toBeCloseTo(fitted.skipped / 2, 9);
    const parted = at(defaultInstrument, { rest: seconds(0.4) });
    expect(moveAmount('skipped string', 'G1@3', 'A1@3', parted)).toBeCloseTo(fitted.skipped / 2, 9);
  });

  it('camping is paid by beats', () => {
    const two = at(defaultInstrument, { toBeats: 2 });
    expect(moveAmount('camping', 'E1@1', 'A1@1', two)).toBeCloseTo(2 * fitted.camping, 9);
  });

  it('nothing rings on over a rest, and frets are seen when the hand lands', () => {
    const parted = at(defaultInstrument, { rest: seconds(0.4) });
    expect(moveAmount('open string rings on', 'D0@3', 'G4@3', parted)).toBe(0);
    const electric = at(findInstrument('electric-4')!);
    expect(moveAmount('landing', 'G1@3', 'D0@4', electric)).toBe(0);
  });

  it('on a fretted neck the target of a shift is the space of a fret: one bit for one fret up', () => {
    const electric = at(findInstrument('electric-4')!);
    const pressure = (0.025 + 0.1) / (0.4 * 0.33);
    expect(moveAmount('shift', 'G1@3', 'G4@4', electric)).toBeCloseTo(2.94 * pressed(pressure), 9);
  });
});

describe('terms of a hold', () => {
  it.each([
    ['high position', 'G1@9', 0.112],
    ['high position', 'G1@12', 0.448 + 1.708],
    ['high position', 'G1@8', 0],
    ['high position', 'G0@12', 0],
    ['heavy string high up', 'E1@8', 2 * 3 * 0.084],
    ['heavy string high up', 'E1@6', 0],
    ['heavy string high up', 'G1@8', 0],
    ['heavy string high up', 'E0@8', 0],
    ['thumb off its place', 'G4@4-', 0.3],
    ['thumb off its place', 'G1@4+', 0.3],
    ['thumb off its place', 'G1@4', 0],
    ['open string', 'G0@4', fitted.openString],
    ['open string', 'G1@4', 0],
  ] as const)('%s, %s: %d', (name, one, amount) => {
    expect(holdAmount(name, one)).toBeCloseTo(amount, 9);
  });

  it('being up there costs nothing to who lives at the octave, going on beyond it does', () => {
    expect(holdAmount('high position', 'G1@12', true)).toBe(0);
    expect(holdAmount('high position', 'G1@14', true)).toBeCloseTo(0.224, 9);
    expect(holdAmount('heavy string high up', 'E1@12', true)).toBe(0);
    expect(holdAmount('heavy string high up', 'E1@14', true)).toBeCloseTo(2 * 3 * 0.084, 9);
  });

  it('a stretch is paid by its share of the span, and by its time up to 0.4 s', () => {
    const player = { instrument: defaultInstrument, hand: defaultHand };
    const amount = (one: string, beats: number): number =>
      stretchFeature(player, bpm(150)).amount({ ticks: ticks(480 * beats) } as Slot, place(one));
    // The whole tone of half position: 109.2 mm of 150.
    const share = (1060 * (2 ** (-1 / 12) - 2 ** (-3 / 12))) / 150;
    expect(amount('G4@1', 1)).toBeCloseTo((share - 0.55) * 3.5, 9);
    expect(amount('G4@1', 2)).toBeCloseTo((share - 0.55) * 3.5, 9);
    expect(amount('G4@1', 0.5)).toBeCloseTo(((share - 0.55) * 3.5) / 2, 9);
    expect(amount('G4@9', 1)).toBe(0);
    expect(amount('G1@1', 1)).toBe(0);
    const third = allPlacements(defaultInstrument, defaultHand, { highestPosition: 4 }).find(
      (one) => one.frame === 'extended' && one.finger === '4' && one.position === 4,
    )!;
    const wide = (1060 * (2 ** (-4 / 12) - 2 ** (-7 / 12))) / 150;
    expect(stretchFeature(player, bpm(150)).amount({ ticks: ticks(480) } as Slot, third)).toBeCloseTo(
      (wide - 0.55) * 3.5 + (wide - 0.73) * 21,
      9,
    );
  });
});

describe('an open string outside chord and scale', () => {
  const slot = (strength: number, tonic = 'Gb'): Slot => {
    const key = makeKey(noteName(tonic), 'major');
    const harmony = { chord: null, scale: { name: 'G flat major', notes: keyNotes(key) }, key };
    return { strength, harmony } as unknown as Slot;
  };
  it.each([
    ['A0@3', 1, -2.5],
    ['A0@3', 3, 0],
    ['A1@3', 1, 0],
  ] as const)('%s at strength %d: %d', (one, strength, amount) => {
    expect(openOutsideFeature.amount(slot(strength), place(one))).toBeCloseTo(amount, 9);
  });

  it('is not forgiven what it does not cost: in the scale it is a note like others', () => {
    expect(openOutsideFeature.amount(slot(1, 'C'), place('A0@3'))).toBe(0);
  });
});

describe('the figures', () => {
  const { terms, ...rest } = weights;
  const families = Object.fromEntries(
    Object.entries(rest).filter(([name]) => name !== 'about' && name !== 'source'),
  );
  const figuresIn = (value: unknown, path: string): string[] =>
    typeof value === 'number'
      ? [path]
      : Object.entries(value as object).flatMap(([key, inner]) =>
          figuresIn(inner, path === '' ? key : `${path}.${key}`),
        );

  it('each say what they are and where they are from, once', () => {
    expect(terms.map(({ figure }) => figure).sort()).toEqual(figuresIn(families, '').sort());
    for (const { unit, source } of terms) {
      expect(unit).toMatch(/\S/);
      expect(source).toMatch(/our assumption|tuning/);
    }
  });
});
