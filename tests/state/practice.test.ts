import { describe, expect, it } from 'vitest';
import { barIndex } from '../../src/music';
import { keysOf } from '../../src/state/keys';
import { movedRange } from '../../src/state/loop';
import { climbTempo, fourthUp, heardMix, isSilent, mixFor } from '../../src/state/practice';
import { PlayedTime } from '../../src/state/practice-time';
import { defaultPreferences, loadPreferences, preferencesKey } from '../../src/state/preferences';

describe('a moving tempo', () => {
  const climb = { isOn: true, from: 80, to: 100, by: 8, every: 2 };

  it('steps every so many passes and stays where it is to go', () => {
    expect([0, 1, 2, 3, 4, 5, 6, 7, 50].map((pass) => climbTempo(climb, pass))).toEqual([
      80, 80, 88, 88, 96, 96, 100, 100, 100,
    ]);
  });

  it('falls where it is to go lower', () => {
    expect([0, 1, 2, 3].map((pass) => climbTempo({ ...climb, to: 70, by: 4, every: 1 }, pass))).toEqual([
      80, 76, 72, 70,
    ]);
  });
});

describe('round the fourths', () => {
  // Twelve fourths come back to the start (common practice: the cycle of fourths).
  it.each(['major', 'minor'] as const)('goes through all twelve %s keys and comes back', (mode) => {
    for (const key of keysOf(mode).filter(({ fifths }) => fifths < 6)) {
      const round = [key];
      for (let i = 0; i < 12; i++) round.push(fourthUp(round.at(-1)!));
      expect(round[12]).toEqual(key);
      expect(new Set(round.slice(0, 12).map(({ fifths }) => (fifths + 12) % 12)).size).toBe(12);
    }
  });
});

describe('the mix as heard', () => {
  const { mix } = defaultPreferences;

  it('is one part alone, at its level, also when it was off', () => {
    const alone = heardMix(mix, 'click');
    expect(Object.entries(alone).filter(([, { on }]) => on)).toEqual([['click', { ...mix.click, on: true }]]);
    expect(heardMix(mix, null)).toBe(mix);
  });

  it('is known to be silent', () => {
    expect(isSilent(mix)).toBe(false);
    const off = { on: false, level: 1 };
    const none = {
      bass: off,
      cymbal: off,
      'hi-hat': off,
      drums: off,
      chords: off,
      click: { on: true, level: 0 },
    };
    expect(isSilent(none)).toBe(true);
  });

  it('of a sound file has the bass or the band or both', () => {
    const muted = { ...mix, bass: { ...mix.bass, on: false } };
    const heard = (what: 'bass' | 'band' | 'both') =>
      Object.entries(mixFor(what, muted)).flatMap(([part, { on }]) => (on ? [part] : []));
    expect(heard('bass')).toEqual(['bass']);
    expect(heard('band')).toEqual(['cymbal', 'hi-hat', 'drums', 'chords']);
    expect(heard('both')).toEqual(['bass', 'cymbal', 'hi-hat', 'drums', 'chords']);
  });
});

describe('a loop moved by its length', () => {
  it('goes on past the end at the start, and back at the end', () => {
    expect(movedRange({ from: barIndex(0), to: barIndex(3) }, 1, 12)).toEqual({ from: 4, to: 7 });
    expect(movedRange({ from: barIndex(8), to: barIndex(11) }, 1, 12)).toEqual({ from: 0, to: 3 });
    expect(movedRange({ from: barIndex(6), to: barIndex(9) }, 1, 12)).toEqual({ from: 10, to: 11 });
    expect(movedRange({ from: barIndex(4), to: barIndex(7) }, -1, 12)).toEqual({ from: 0, to: 3 });
    expect(movedRange({ from: barIndex(2), to: barIndex(5) }, -1, 12)).toEqual({ from: 0, to: 1 });
    expect(movedRange({ from: barIndex(0), to: barIndex(3) }, -1, 12)).toEqual({ from: 8, to: 11 });
  });
});

describe('the time played', () => {
  it('is told in pieces, with the break after 25 minutes in one go or several', () => {
    const told: [number, boolean][] = [];
    const time = new PlayedTime((seconds, isBreakDue) => told.push([seconds, isBreakDue]));
    const minute = 60_000;
    time.start(0);
    time.look(10_000);
    expect(told).toEqual([]);
    time.stop(20 * minute);
    time.start(22 * minute);
    time.stop(27 * minute);
    expect(told).toEqual([
      [1200, false],
      [300, true],
    ]);
    time.stop(99 * minute);
    expect(told).toHaveLength(2);
  });
});

describe('preferences for practising', () => {
  it('come back, and what is wrong in them is at its usual setting', () => {
    const read = (text: string) =>
      loadPreferences({ getItem: (key) => (key === preferencesKey ? text : null), setItem: () => undefined });
    const climb = { isOn: true, from: 60, to: 200, by: 5, every: 3 };
    expect(
      read(
        JSON.stringify({ climb, solo: 'bass', bassSound: 'electric', eachPass: 'next key', amount: 'less' }),
      ),
    ).toMatchObject({
      climb,
      solo: 'bass',
      bassSound: 'electric',
      eachPass: 'next key',
      amount: 'less',
    });
    // Levels that were kept before there were snare and bass drum stay as they were.
    const { bass, chords, click } = defaultPreferences.mix;
    const older = { bass, chords, click, cymbal: { on: false, level: 0.3 }, 'hi-hat': bass };
    expect(read(JSON.stringify({ mix: older })).mix).toEqual({
      ...older,
      drums: defaultPreferences.mix.drums,
    });
    const wrong = {
      climb: { ...climb, every: 0.5 },
      solo: 'trumpet',
      amount: 'a lot',
      click: 3,
      outputDelay: 9e9,
      yourTurn: 'yes',
    };
    expect(read(JSON.stringify(wrong))).toEqual(defaultPreferences);
  });
});
