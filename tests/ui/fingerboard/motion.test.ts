import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { HandPosition } from '../../../src/instrument';
import { bpm } from '../../../src/music';
import { handSteps, lookSteps } from '../../../src/ui/fingerboard/motion';
import { madeLine } from './made-line';

describe('the way of the hand', () => {
  const tempo = bpm(132);
  const beat = 60 / 132;
  const at = (position: number, lifted = false) => ({
    position: position as HandPosition,
    shape: 'closed' as const,
    lifted,
  });

  it('leaves for a bare shift in the tail of the note and arrives with the next', () => {
    const steps = handSteps(madeLine, 4, tempo, {
      position: 13,
      shape: 'thumb',
      lifted: false,
    });
    expect(steps).toHaveLength(1);
    expect(steps[0]!.to.position).toBe(9);
    expect(steps[0]!.start + steps[0]!.duration).toBeCloseTo(beat, 6);
    expect(steps[0]!.duration).toBeCloseTo(beat * 0.33, 6);
    expect(steps[0]!.covered).toBe(false);
  });

  it('glides for as long as the open string rings', () => {
    const steps = handSteps(madeLine, 6, tempo, at(9));
    expect(steps).toEqual([{ to: at(7, true), start: 0, duration: expect.closeTo(beat, 6), covered: true }]);
  });

  it('does not leave before the open string rings', () => {
    expect(handSteps(madeLine, 5, tempo, at(9))).toEqual([]);
  });

  it('stays where the next note is in the same position', () => {
    expect(handSteps(madeLine, 8, tempo, at(7))).toEqual([]);
  });

  it('is put right quickly when it comes late', () => {
    const [first] = handSteps(madeLine, 8, tempo, at(3));
    expect(first!.to.position).toBe(7);
    expect(first!.duration).toBeLessThan(0.1);
  });

  it('never takes longer than the note lasts', () => {
    fc.assert(
      fc.property(
        fc.nat(15),
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 40, max: 320 }),
        (index, from, speed) => {
          const steps = handSteps(madeLine, index, bpm(speed), at(from));
          let clock = 0;
          for (const step of steps) {
            expect(step.start).toBeGreaterThanOrEqual(clock - 1e-9);
            clock = step.start + step.duration;
          }
          expect(clock).toBeLessThanOrEqual(60 / speed + 1e-9);
        },
      ),
    );
  });

  it('follows a selection, and is still where nothing changes', () => {
    expect(lookSteps(madeLine, 0, at(1)).map((step) => step.to.position)).toEqual([6]);
    expect(lookSteps(madeLine, 0, at(6))).toEqual([]);
    expect(lookSteps(madeLine, 99, at(6))).toEqual([]);
  });
});
