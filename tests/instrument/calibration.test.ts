// How fast a hand is, from tempos at which shifts still feel in time.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  calibrate,
  defaultInstrument,
  defaultMover,
  difficulty,
  handPosition,
  moverRanges,
  movementTime,
  shiftsToTry,
  shiftTempoRange,
  type Mover,
  type ShiftManner,
  type ShiftTrial,
} from '../../src/instrument';

/** The tempo at which a mover just makes a shift to and fro in quarter notes. */
function trial(manner: ShiftManner, from: number, to: number, mover: Mover, off = 1): ShiftTrial {
  const [a, b] = [handPosition(from), handPosition(to)];
  const bits = (difficulty(defaultInstrument, a, b) + difficulty(defaultInstrument, b, a)) / 2;
  const needed = mover.intercept + mover.slope * bits;
  return {
    manner,
    from: a,
    to: b,
    tempo: (off * 60) / (manner === 'covered' ? needed : needed / mover.bareShare),
  };
}
const moverOf = (intercept: number, slope: number, bareShare: number): Mover => ({
  ...defaultMover,
  intercept,
  slope,
  bareShare,
});
const all = (mover: Mover, off?: (at: number) => number): readonly ShiftTrial[] =>
  shiftsToTry.map(({ manner, from, to }, at) => trial(manner, from, to, mover, off?.(at)));

describe('calibration', () => {
  it('finds intercept, slope and share exactly from two shifts under an open string and a bare one', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.29, noNaN: true }),
        fc.double({ min: 0.025, max: 0.4, noNaN: true }),
        fc.double({ min: 0.12, max: 0.98, noNaN: true }),
        (intercept, slope, bareShare) => {
          const mover = moverOf(intercept, slope, bareShare);
          const three = [
            trial('covered', 2, 4, mover),
            trial('covered', 2, 12, mover),
            trial('bare', 2, 7, mover),
          ];
          fc.pre(three.every(({ tempo }) => tempo >= shiftTempoRange.least && tempo <= shiftTempoRange.most));
          const found = calibrate(defaultInstrument, three).mover!;
          expect(found.intercept).toBeCloseTo(intercept, 9);
          expect(found.slope).toBeCloseTo(slope, 9);
          expect(found.bareShare).toBeCloseTo(bareShare, 9);
          expect(found.isCalibrated).toBe(true);
        },
      ),
      { seed: 4403 },
    );
  });

  it('finds them from all the shifts that are offered, and nearly where the tempos are a little off', () => {
    const mover = moverOf(0.03, 0.08, 0.6);
    expect(calibrate(defaultInstrument, all(mover)).mover).toMatchObject({
      intercept: expect.closeTo(0.03, 9),
      slope: expect.closeTo(0.08, 9),
      bareShare: expect.closeTo(0.6, 9),
    });
    const rough = calibrate(
      defaultInstrument,
      all(mover, (at) => 1 + (at % 2 === 0 ? 0.03 : -0.03)),
    ).mover!;
    expect(Math.abs(rough.slope - 0.08)).toBeLessThan(0.02);
    expect(Math.abs(rough.bareShare - 0.6)).toBeLessThan(0.06);
  });

  it('is the least of the squares: no line near it is nearer to the tempos', () => {
    const mover = moverOf(0.05, 0.08, 0.5);
    const trials = all(mover, (at) => 1 + 0.04 * Math.sin(at * 3));
    const found = calibrate(defaultInstrument, trials).mover!;
    const missOf = (one: Mover): number =>
      trials
        .filter(({ manner }) => manner === 'covered')
        .reduce((sum, { from, to, tempo }) => {
          const needed =
            (movementTime(defaultInstrument, from, to, one) +
              movementTime(defaultInstrument, to, from, one)) /
            2;
          return sum + (needed - 60 / tempo) ** 2;
        }, 0);
    for (const [a, b] of [
      [0.002, 0],
      [-0.002, 0],
      [0, 0.001],
      [0, -0.001],
    ] as const)
      expect(missOf({ ...found, intercept: found.intercept + a, slope: found.slope + b })).toBeGreaterThan(
        missOf(found),
      );
  });

  it('starts no movement before its time: an intercept under nothing is none', () => {
    const mover = moverOf(0, 0.1, 0.5);
    const trials = all(mover, (at) => (at === 0 ? 1.2 : 1));
    const found = calibrate(defaultInstrument, trials).mover!;
    expect(found.intercept).toBe(0);
    expect(found.slope).toBeGreaterThan(0.08);
    expect(found.slope).toBeLessThan(0.1);
  });

  const steady = moverOf(0.03, 0.1, 0.5);
  const quick = all(moverOf(0.01, 0.04, 0.5)).filter(({ manner }) => manner === 'covered');
  const [near, middling, far, bareNear] = all(steady);
  const refusals: readonly (readonly [string, readonly ShiftTrial[], RegExp])[] = [
    ['none', [], /two shifts of different width/],
    ['one under an open string', [near!, bareNear!], /two shifts of different width/],
    ['two of one width', [near!, near!, bareNear!], /two shifts of different width/],
    ['no bare one', [near!, middling!, far!], /one bare shift/],
    [
      'one that stays',
      [near!, { ...far!, to: far!.from }, bareNear!],
      /^Shift 2 needs two different positions/,
    ],
    ['no number', [near!, far!, { ...bareNear!, tempo: Number.NaN }], /^Shift 3 .* from 30 to 500/],
    ['a tempo of nothing', [{ ...near!, tempo: 0 }, far!, bareNear!], /^Shift 1 /],
    [
      'wide ones as quick as near ones',
      [near!, { ...far!, tempo: near!.tempo }, bareNear!],
      /hardly take longer/,
    ],
    [
      'tempos no hand needs',
      [{ ...near!, tempo: 33 }, { ...far!, tempo: 30 }, bareNear!],
      /slower than any hand/,
    ],
    [
      'bare ones quicker than covered ones',
      [near!, far!, { ...bareNear!, tempo: 400 }],
      /quicker than the same/,
    ],
    ['bare ones that leave nothing', [...quick, { ...bareNear!, tempo: 30 }], /hardly any of the note/],
  ];
  it.each(refusals)('refuses %s in words', (_, trials, problem) => {
    const { mover, problem: said } = calibrate(defaultInstrument, trials);
    expect(mover).toBeNull();
    expect(said).toMatch(problem);
  });

  it('asks about shifts from which all three can be found, and takes the assumed figures', () => {
    expect(calibrate(defaultInstrument, all(defaultMover)).mover).toMatchObject({
      intercept: expect.closeTo(defaultMover.intercept, 9),
      bareShare: expect.closeTo(defaultMover.bareShare, 9),
    });
    for (const name of ['intercept', 'slope', 'bareShare'] as const) {
      expect(defaultMover[name]).toBeGreaterThanOrEqual(moverRanges[name].least);
      expect(defaultMover[name]).toBeLessThanOrEqual(moverRanges[name].most);
    }
  });
});
