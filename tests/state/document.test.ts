import { describe, expect, it } from 'vitest';
import type { HandPosition } from '../../src/instrument';
import {
  newStudy,
  newTake,
  setBarred,
  setChoruses,
  setKey,
  setSpan,
  setTempo,
  studyDefaults,
  studyRange,
  toggleBarred,
} from '../../src/state/document';
import { findKey } from '../../src/state/keys';

const study = newStudy('| F7 |');
const position = (semitone: number): HandPosition => semitone as HandPosition;

describe('verbs of the document', () => {
  it('leave the study they were given as it was', () => {
    const frozen = Object.freeze({ ...study, barred: Object.freeze([position(1)]) });
    const next = toggleBarred(setSpan(setTempo(frozen, 120), 160), position(3));
    expect(frozen.tempo).toBeNull();
    expect(next).toMatchObject({ tempo: 120, span: 160, barred: [1, 3], chartText: '| F7 |' });
  });

  it('give back the same study when nothing changes', () => {
    expect(setSpan(study, study.span)).toBe(study);
    expect(setTempo(study, null)).toBe(study);
    const inF = setKey(study, findKey('F major') ?? null);
    expect(setKey(inF, findKey('F major') ?? null)).toBe(inF);
    const barred = setBarred(study, [position(2), position(1)]);
    expect(setBarred(barred, [position(1), position(2), position(2)])).toBe(barred);
  });

  it('keep numbers inside their ranges', () => {
    expect(setTempo(study, 10_000).tempo).toBe(studyRange.tempo.most);
    expect(setTempo(study, -3).tempo).toBe(studyRange.tempo.least);
    expect(setTempo(study, Number.NaN).tempo).toBeNull();
    expect(setChoruses(study, 0).choruses).toBe(1);
    expect(setChoruses(study, Number.POSITIVE_INFINITY)).toBe(study);
    expect(setSpan(study, 1).span).toBe(studyRange.span.least);
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
