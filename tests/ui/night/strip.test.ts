// The strip and the stand of a night, worked out.
import { describe, expect, it } from 'vitest';
import { defaultInstrument } from '../../../src/instrument';
import { planNight } from '../../../src/night';
import { newNight, setBreak, addSet, setStart } from '../../../src/state/night';
import { leftText, nextTune, standSteps } from '../../../src/ui/night/stand';
import { stripOf, stripUnits } from '../../../src/ui/night/strip';
import { shortNight } from '../../night/night';

const plan = planNight(shortNight());
const night = setStart(setBreak(addSet(newNight('Corner')), 0, 10), 20 * 60);

describe('the strip', () => {
  const strip = stripOf(night, plan, defaultInstrument, 150)!;

  it('lays tunes one after the other, with what lies between them and the break between the sets', () => {
    const whole = plan.whole.length + 2 * night.between + 10;
    expect(night.between).toBeGreaterThan(0);
    expect(strip.minutes).toBeCloseTo(whole, 9);
    expect(strip.tunes).toHaveLength(4);
    let at = 0;
    for (const { from, width, set, tune, plan: one } of strip.tunes) {
      if (tune > 0) at += night.between;
      else if (set > 0) at += 10;
      expect(from).toBeCloseTo(at / whole, 9);
      expect(width).toBeCloseTo(one.measure.length / whole, 9);
      at += one.measure.length;
    }
    expect(at).toBeCloseTo(whole, 9);
    expect(strip.breaks).toHaveLength(1);
    expect(strip.breaks[0]!.width).toBeCloseTo(10 / whole, 9);
  });

  it('keeps the ink of a tune within its block and the strip', () => {
    for (const { from, width, ink } of strip.tunes) {
      const boxes = [...ink.join('').matchAll(/M([\d.]+) ([\d.]+)h([\d.]+)v([\d.]+)/g)].map((match) =>
        match.slice(1).map(Number),
      );
      expect(boxes.length).toBeGreaterThan(1);
      for (const [x, y, across, down] of boxes as [number, number, number, number][]) {
        expect(x).toBeGreaterThanOrEqual(from * stripUnits - 0.02);
        expect(x + across).toBeLessThanOrEqual((from + width) * stripUnits + 0.02);
        expect(y + down).toBeLessThanOrEqual(150.02);
      }
    }
  });

  it('lays as much ink as the hand is stopped for', () => {
    plan.sets.flat().forEach(({ ink, measure }) => {
      const inked = ink.columns.flat().reduce((sum, { share }) => sum + share * ink.seconds, 0) / 60;
      const stopped = Object.values(measure.byRegion).reduce((sum, minutes) => sum + minutes, 0);
      if (measure.apart === 0) expect(inked).toBeCloseTo(stopped, 6);
      else expect(inked).toBeLessThan(measure.length - measure.apart + 1e-9);
    });
  });

  it('is none for a night that takes no time', () => {
    expect(stripOf(night, planNight({ sets: [], wishes: [], takes: 0 }), defaultInstrument, 150)).toBeNull();
  });
});

describe('the stand', () => {
  const steps = standSteps(night, plan);

  it('goes through the tunes with a break between the sets', () => {
    expect(steps.map(({ kind }) => kind)).toEqual(['tune', 'tune', 'break', 'tune', 'tune']);
    const pause = steps[2]!;
    expect(pause.kind === 'break' && pause.until).toBeCloseTo(
      20 * 60 + plan.bySet[0]!.length + night.between + 10,
      9,
    );
    expect(nextTune(steps, 1)).toBe(plan.sets[1]![0]);
    expect(nextTune(steps, 4)).toBeNull();
  });

  it('counts a break down to nought and no further', () => {
    expect(leftText(10, 0)).toBe('10:00');
    expect(leftText(10, 61)).toBe('8:59');
    expect(leftText(10, 9999)).toBe('0:00');
  });
});
