import { describe, expect, it } from 'vitest';
import { defaultMover, type HandPosition } from '../../src/instrument';
import { giveUp, newStudy, setInstrument, setSetup, type Study } from '../../src/state/document';
import { envelop, restore } from '../../src/state/envelope';
import { linkFragment, readFragment } from '../../src/state/links';
import { requestOf } from '../../src/state/request';
import {
  bassIn,
  changeSetup,
  defaultSetup,
  handIn,
  isCalibrated,
  wayChangeOf,
  type Setup,
} from '../../src/state/setup';

const own: Setup = {
  heel: 7,
  tuning: 'C1 G1 D2 A2',
  way: '1-2-3-4',
  wayFrom: 4 as HandPosition,
  slope: 0.07,
  intercept: 0.04,
  bareShare: 0.5,
  place: 'block',
  hardest: 'least',
};
const study: Study = newStudy('| F7 |', { setup: own });

describe('the setup of bass and hand', () => {
  it('comes back through a file and through a link', () => {
    expect(restore(envelop(study))).toEqual({ ok: true, study, replaced: [] });
    expect(readFragment(linkFragment(study))).toEqual({ kind: 'study', study, replaced: [] });
  });

  it('is at its defaults in a study that was written before there was one', () => {
    const { setup, ...older } = envelop(study).study;
    expect(setup).toEqual(own);
    const restored = restore({ ...envelop(study), study: older });
    expect(restored.ok && restored.study.setup).toEqual(defaultSetup);
    expect(restored.ok && restored.replaced).toEqual([]);
  });

  it('takes the default for each part that is wrong, and keeps the rest', () => {
    const wrong = {
      ...own,
      heel: 900,
      way: 'with the nose',
      slope: -1,
      intercept: 9,
      bareShare: 2,
      place: 'the moon',
      hardest: 'most',
    };
    const restored = restore({ ...envelop(study), study: { ...envelop(study).study, setup: wrong } });
    expect(restored.ok && restored.study.setup).toEqual({
      ...defaultSetup,
      tuning: own.tuning,
      wayFrom: own.wayFrom,
    });
  });

  it('reaches the computation: tuning, heel, fingers, pace, place and hardest move', () => {
    const { instrument, hand, limits } = requestOf(study);
    expect(instrument.strings.map(({ open }) => open as number)).toEqual([45, 38, 31, 24]);
    expect(instrument.heel).toBe(7);
    expect(hand.way).toEqual({ id: '1-2-3-4', from: 4 });
    expect(hand.mover).toEqual({
      ...defaultMover,
      slope: 0.07,
      intercept: 0.04,
      bareShare: 0.5,
      isCalibrated: true,
    });
    expect(limits.place?.id).toBe('block');
    expect(limits.hardest).toBe('least');
    const plain = requestOf(newStudy('| F7 |'));
    expect(plain.hand).toEqual({ span: 150 });
    expect(plain.limits.place).toBeUndefined();
  });

  it('keeps the slope of a study from before, when it was all there was, and calls no hand calibrated by it', () => {
    const { intercept, bareShare, ...before } = own;
    expect([intercept, bareShare]).toEqual([0.04, 0.5]);
    const restored = restore({ ...envelop(study), study: { ...envelop(study).study, setup: before } });
    if (!restored.ok) throw new Error('not read');
    expect(restored.replaced).toEqual([]);
    expect(restored.study.setup).toEqual({ ...own, intercept: null, bareShare: null });
    expect(isCalibrated(restored.study.setup)).toBe(false);
    expect(handIn(restored.study).mover).toEqual({ ...defaultMover, slope: 0.07 });
    expect(isCalibrated(own)).toBe(true);
    // One of the two alone is as good as none.
    expect(handIn({ ...study, setup: { ...own, intercept: null } }).mover).toEqual({
      ...defaultMover,
      slope: 0.07,
    });
  });

  it('tells what is wrong with a tuning, and stays on the bass of the list', () => {
    const { instrument, problems } = bassIn({ ...study, setup: { ...own, tuning: 'E A' } });
    expect(problems.join(' ')).toContain('names 2');
    expect(instrument.strings).toHaveLength(4);
    expect(instrument.strings[0]!.open).toBe(43);
  });

  it('changes by parts: another way starts at its own position, another bass drops heel and tuning', () => {
    expect(changeSetup(own, { way: '3 for 4' })).toMatchObject({ way: '3 for 4', wayFrom: null });
    expect(wayChangeOf({ ...defaultSetup, way: '3 for 4' })).toBe(9);
    expect(wayChangeOf(defaultSetup)).toBeNull();
    expect(changeSetup(own, { slope: own.slope })).toBe(own);
    expect(setSetup(study, {})).toBe(study);
    expect(setInstrument(study, 'bass-low-c').setup).toEqual({ ...own, heel: null, tuning: null });
    expect(handIn(newStudy('')).way).toBeUndefined();
  });

  it('gives up a place or a hardest move that stands in the way', () => {
    const wish = (limit: 'place' | 'hardest move') => ({
      words: '',
      source: { kind: 'limit', limit } as const,
    });
    expect(giveUp(study, wish('place')).setup.place).toBe('roam');
    expect(giveUp(study, wish('hardest move')).setup.hardest).toBeNull();
  });
});
