import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  amend,
  closeGroup,
  groupPause,
  historyLength,
  historyOf,
  record,
  redo,
  undo,
} from '../../src/state/history';

describe('history', () => {
  it('undoes and redoes', () => {
    let history = record(record(historyOf('a'), 'b', null, 0), 'c', null, 0);
    history = undo(undo(history));
    expect(history.present).toBe('a');
    expect(undo(history)).toBe(history);
    history = redo(history);
    expect(history.present).toBe('b');
    expect(record(history, 'd', null, 0)).toMatchObject({ past: ['a', 'b'], present: 'd', future: [] });
  });

  it('takes a run of typing as one step', () => {
    let history = historyOf('');
    for (const [i, text] of ['F', 'F7', 'F7 '].entries()) history = record(history, text, 'chart', i * 300);
    expect(history.past).toEqual(['']);
    expect(undo(history).present).toBe('');
  });

  it('starts a new step after a pause, another group, a closed group or an undo', () => {
    const typed = record(historyOf('a'), 'b', 'chart', 0);
    expect(record(typed, 'c', 'chart', groupPause + 1).past).toEqual(['a', 'b']);
    expect(record(typed, 'c', 'tempo', 10).past).toEqual(['a', 'b']);
    expect(record(closeGroup(typed), 'c', 'chart', 10).past).toEqual(['a', 'b']);
    const back = undo(record(typed, 'c', null, 5));
    expect(record(back, 'd', 'chart', 6).past).toEqual(['a', 'b']);
  });

  it('counts the pause from the last change, whatever the clock says, and its last millisecond belongs to it', () => {
    const typed = record(historyOf('a'), 'b', 'chart', 5_000_000);
    expect(record(typed, 'c', 'chart', 5_000_000 + groupPause).past).toEqual(['a']);
    expect(record(typed, 'c', 'chart', 5_000_001 + groupPause).past).toEqual(['a', 'b']);
  });

  it('adds to the present version without a step', () => {
    const typed = record(historyOf('a'), 'b', 'chart', 7);
    const amended = amend(typed, 'b!');
    expect(amended).toEqual({ ...typed, present: 'b!' });
    expect(amend(typed, 'b')).toBe(typed);
    expect(undo(amended).present).toBe('a');
  });

  it('has nothing to undo or redo at its ends, and no group to close between steps', () => {
    const alone = historyOf('a');
    expect(undo(alone)).toBe(alone);
    expect(redo(alone)).toBe(alone);
    expect(closeGroup(alone)).toBe(alone);
  });

  it('ignores a version that is the present one', () => {
    const history = record(historyOf('a'), 'b', null, 0);
    expect(record(history, 'b', null, 9)).toBe(history);
  });

  it('forgets the oldest steps', () => {
    let history = historyOf(0);
    for (let i = 1; i <= historyLength + 20; i++) history = record(history, i, null, i);
    expect(history.past).toHaveLength(historyLength);
    expect(history.past[0]).toBe(20);
  });

  it('undo and redo are inverse at every point of any run of changes', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer(), fc.constantFrom(null, 'x', 'y'), fc.nat(2000))),
        (changes) => {
          let now = 0;
          let history = historyOf(0);
          for (const [value, group, pause] of changes)
            history = record(history, value, group, (now += pause));
          const steps = history.past.length;
          let back = history;
          for (let i = 0; i < steps; i++) back = undo(back);
          expect(back.present).toBe(0);
          for (let i = 0; i < steps; i++) back = redo(back);
          expect(back.present).toBe(history.present);
          expect(back.past).toEqual(history.past);
        },
      ),
    );
  });
});
