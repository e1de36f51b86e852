import { describe, expect, it } from 'vitest';
import { bpm, barIndex, type Bpm } from '../../src/music';
import { parts } from '../../src/playback';
import { changedParts, defaultMix, gainOf } from '../../src/playback/mix';
import { changeSettings, defaultSettings, momentOf } from '../../src/playback/settings';

describe('settings', () => {
  it('are kept inside their ranges', () => {
    expect(changeSettings(defaultSettings, { tempo: 5 as Bpm }).tempo).toBe(40);
    expect(changeSettings(defaultSettings, { tempo: 900 as Bpm }).tempo).toBe(320);
    expect(changeSettings(defaultSettings, { tempo: Number.NaN as Bpm }).tempo).toBe(40);
    expect(changeSettings(defaultSettings, { swing: 9 }).swing).toBe(4);
    expect(changeSettings(defaultSettings, { swing: 0 }).swing).toBe(1);
  });

  it('ask for new notes only where a change is heard in them', () => {
    const moment = (change: Parameters<typeof changeSettings>[1]): ReturnType<typeof momentOf> =>
      momentOf(defaultSettings, changeSettings(defaultSettings, change));
    expect(moment({})).toBeNull();
    expect(moment({ mix: { ...defaultMix, bass: { on: false, level: 0 } } })).toBeNull();
    expect(moment({ countInBars: 2 })).toBeNull();
    expect(moment({ loop: 'form' })).toBeNull();
    expect(moment({ loop: { from: barIndex(1), to: barIndex(2) } })).toBe('next bar');
    expect(moment({ tempo: bpm(200) })).toBe('next beat');
    expect(moment({ swing: 2 })).toBe('next beat');
    expect(moment({ seed: 2 })).toBe('next beat');
    expect(moment({ leans: false })).toBe('next beat');
    // A lean is a time: at another tempo it is another part of the beat.
    const leaning = changeSettings(defaultSettings, { swing: 2 });
    expect(momentOf(leaning, changeSettings(leaning, { tempo: bpm(200) }))).toBe('next beat');
    const fixed = changeSettings(leaning, { leans: false });
    expect(momentOf(fixed, changeSettings(fixed, { tempo: bpm(200) }))).toBeNull();
    const bars = changeSettings(defaultSettings, { loop: { from: barIndex(1), to: barIndex(2) } });
    expect(momentOf(bars, changeSettings(bars, { loop: { from: barIndex(1), to: barIndex(2) } }))).toBeNull();
  });
});

describe('the mix', () => {
  it('is silent for a part that is off or at level 0, and rises with the level', () => {
    for (const part of parts) {
      expect(gainOf(part, { on: false, level: 1 })).toBe(0);
      expect(gainOf(part, { on: true, level: 0 })).toBe(0);
      expect(gainOf(part, { on: true, level: 0.5 })).toBeLessThan(gainOf(part, { on: true, level: 0.8 }));
      expect(gainOf(part, { on: true, level: 7 })).toBe(gainOf(part, { on: true, level: 1 }));
    }
  });

  it('knows which parts changed', () => {
    const after = { ...defaultMix, cymbal: { on: true, level: 0.1 }, click: { on: false, level: 0.3 } };
    expect(changedParts(defaultMix, after)).toEqual(['cymbal']);
  });
});
