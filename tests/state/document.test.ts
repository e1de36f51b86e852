import { describe, expect, it } from 'vitest';
import type { HandPosition, Placement, StringNumber } from '../../src/instrument';
import { semitones, soundingMidi, barNumber } from '../../src/music';
import { requestOf } from '../../src/state/request';
import {
  giveUp,
  newStudy,
  newTake,
  pinAt,
  pinPlacement,
  setBarred,
  setKey,
  setHeights,
  setPlain,
  setShape,
  studyDefaults,
  studyRange,
  toggleBarred,
  unpin,
  unpinAll,
} from '../../src/state/document';
import { plainSettings } from '../../src/pipeline';
import { findKey } from '../../src/state/keys';

const study = newStudy('| F7 |');
const position = (semitone: number): HandPosition => semitone as HandPosition;

describe('verbs of the document', () => {
  it('leave the study they were given as it was', () => {
    const frozen = Object.freeze({ ...study, barred: Object.freeze([position(1)]) });
    const next = toggleBarred(setPlain(setPlain(frozen, 'tempo', 120), 'span', 160), position(3));
    expect(frozen.tempo).toBeNull();
    expect(next).toMatchObject({ tempo: 120, span: 160, barred: [1, 3], chartText: '| F7 |' });
  });

  it('give back the same study when nothing changes', () => {
    expect(setPlain(study, 'span', study.span)).toBe(study);
    expect(setPlain(study, 'tempo', null)).toBe(study);
    const inF = setKey(study, findKey('F major') ?? null);
    expect(setKey(inF, findKey('F major') ?? null)).toBe(inF);
    const barred = setBarred(study, [position(2), position(1)]);
    expect(setBarred(barred, [position(1), position(2), position(2)])).toBe(barred);
  });

  it('keep numbers inside their ranges', () => {
    expect(setPlain(study, 'tempo', 10_000).tempo).toBe(plainSettings.tempo.most);
    expect(setPlain(study, 'tempo', -3).tempo).toBe(plainSettings.tempo.least);
    expect(setPlain(study, 'tempo', Number.NaN).tempo).toBeNull();
    expect(setPlain(study, 'choruses', 0).choruses).toBe(1);
    expect(setPlain(study, 'choruses', Number.POSITIVE_INFINITY)).toBe(study);
    expect(setPlain(study, 'span', 1).span).toBe(plainSettings.span.least);
  });

  it('toggle a barred position on and off, sorted', () => {
    const two = toggleBarred(toggleBarred(study, position(5)), position(1));
    expect(two.barred).toEqual([1, 5]);
    expect(toggleBarred(two, position(5)).barred).toEqual([1]);
  });

  it('count takes up and start again after the last', () => {
    expect(newTake(study).seed).toBe(studyDefaults.seed + 1);
    expect(newTake({ ...study, seed: studyRange.seed.most }).seed).toBe(studyRange.seed.least);
  });
});

describe('pins and limits', () => {
  const placement: Placement = {
    id: 0,
    string: 2 as StringNumber,
    stop: semitones(3),
    finger: '1',
    position: position(3),
    frame: 'closed',
    midi: soundingMidi(41),
  };
  const moment = { bar: barNumber(3), beat: 2 };

  it('hold one way to play a beat, the last one asked for', () => {
    const once = pinPlacement(study, moment, placement);
    const twice = pinPlacement(once, moment, { ...placement, finger: '4', position: position(1) });
    expect(twice.pins).toEqual([{ bar: 3, beat: 2, midi: 41, string: 2, stop: 3, finger: '4', position: 1 }]);
    expect(pinAt(twice, { bar: barNumber(3), beat: 3 })).toBeUndefined();
    expect(unpin(twice, moment).pins).toEqual([]);
    expect(unpin(study, moment)).toBe(study);
    expect(unpinAll(twice).pins).toEqual([]);
  });

  it('are let go one by one when they stand in the way', () => {
    const pinned = pinPlacement(setPlain(toggleBarred(study, position(1)), 'lowStay', 4), moment, placement);
    const pin = pinAt(pinned, moment);
    if (!pin) throw new Error('nothing was pinned');
    expect(giveUp(pinned, { words: '', source: { kind: 'pin', pin } })).toMatchObject({
      pins: [],
      barred: [1],
    });
    const barred = { kind: 'limit', limit: 'barred position', position: position(1) } as const;
    expect(giveUp(pinned, { words: '', source: barred })).toMatchObject({ barred: [], lowStay: 4 });
    expect(giveUp(pinned, { words: '', source: { kind: 'limit', limit: 'stay' } }).lowStay).toBeNull();
  });

  it('reach the computation', () => {
    expect(requestOf(setPlain(setPlain(study, 'lowStay', 8), 'stayIn', 'any')).limits.stay).toEqual({
      region: 'any',
      beats: 8,
    });
    const request = requestOf(
      pinPlacement(setPlain(setPlain(study, 'lowStay', 4), 'comfort', 2), moment, placement),
    );
    expect(request.limits.stay).toEqual({ region: 'low', beats: 4 });
    expect(request.comfort).toBe(2);
    expect(request.pins).toHaveLength(1);
    expect(requestOf(study).limits).toEqual({ barredPositions: [] });
  });
});

describe('shapes and heights', () => {
  it('are one a section, lifted by none, and let go of what was shown', () => {
    const climbing = setShape({ ...study, redraws: 2 }, null, 'climb');
    expect(climbing).toMatchObject({ shapes: [{ section: null, shape: 'climb' }], redraws: 0 });
    const both = setShape(setShape(climbing, 'B', 'arch'), 'B', 'fall');
    expect(both.shapes).toEqual([
      { section: null, shape: 'climb' },
      { section: 'B', shape: 'fall' },
    ]);
    expect(setShape(both, 'B', null).shapes).toEqual(climbing.shapes);
    expect(setShape(study, 'B', null)).toBe(study);
    expect(requestOf(both).wishes).toEqual({ shapes: both.shapes });
  });

  it('are drawn bar by bar, kept within low and high, and taken away', () => {
    const drawn = setHeights(
      study,
      new Map([
        [3, 2],
        [1, 0.25],
      ]),
    );
    expect(drawn.heights).toEqual([
      { bar: 1, height: 0.25 },
      { bar: 3, height: 1 },
    ]);
    expect(setHeights(drawn, new Map([[1, 0.25]]))).toBe(drawn);
    expect(setHeights(drawn, new Map([[3, null]])).heights).toEqual([{ bar: 1, height: 0.25 }]);
    expect(requestOf(drawn).wishes).toEqual({ heights: drawn.heights });
  });
});
