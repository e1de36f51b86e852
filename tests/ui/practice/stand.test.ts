import { describe, expect, it } from 'vitest';
import { barIndex } from '../../../src/music';
import { cueAt } from '../../../src/ui/practice/cue';
import { excerptOf } from '../../../src/ui/practice/excerpt';
import { pedalOf } from '../../../src/ui/practice/pedal';
import { musicOf, swingBlues, type Moment } from '../../playback/fixtures';
import type { Line } from '../../../src/pipeline';

const lineOf = (moments?: readonly Moment[]): { notes: Line['notes']; line: Line; bars: number } => {
  const music = musicOf(swingBlues, moments);
  return { notes: music.notes, line: { notes: music.notes, devices: [] } as unknown as Line, bars: 12 };
};

describe('the cue', () => {
  it('says the place of the note a beat ahead, and passes over a shorter one on the way', () => {
    const { notes } = lineOf([
      { tick: 0, ticks: 320, string: 3 },
      { tick: 320, ticks: 160, string: 4 },
      { tick: 480, ticks: 480, string: 1, open: true },
    ]);
    expect(cueAt(notes, 0, 0, notes.length)).toMatchObject({ string: 1, isOpen: true, isShift: false });
  });

  it('looks round the end of what is repeated', () => {
    const { notes } = lineOf();
    expect(cueAt(notes, 7, 4, 8)?.string).toBe(notes[4]?.placement.string);
    expect(cueAt([], 0, 0, 0)).toBeNull();
  });
});

describe('the excerpt', () => {
  it('lays bars end to end from the first tick, with the way back to the whole line', () => {
    const music = musicOf(swingBlues);
    const line = { notes: music.notes, devices: [] } as unknown as Line;
    const { timeline, line: cut, indices } = excerptOf(music.timeline, line, [barIndex(11), barIndex(0)]);
    expect(timeline.bars.map(({ index, tick }) => [index, tick])).toEqual([
      [0, 0],
      [1, 1920],
    ]);
    expect(cut.notes.map(({ tick }) => tick)).toEqual([0, 480, 960, 1440, 1920, 2400, 2880, 3360]);
    expect(indices).toEqual([44, 45, 46, 47, 0, 1, 2, 3]);
    expect(cut.notes.map(({ slot }) => slot.bar)).toEqual([0, 0, 0, 0, 1, 1, 1, 1]);
    expect(timeline.bars[0]?.chords[0]?.tick).toBe(0);
  });

  it('takes along the devices that are whole in it, and tells those that lead out of it from those that stay', () => {
    const music = musicOf(swingBlues);
    const devices = [
      { device: 'scale run', notes: [1, 2, 3], target: 4 },
      { device: 'semitone below', notes: [3], target: 4 },
      { device: 'semitone above', notes: [47], target: 48 },
      { device: 'double chromatic below', notes: [42, 43], target: 44 },
      { device: 'neighbour', notes: [45], target: 46 },
    ] as const;
    const notes = music.notes.map((note) => ({
      ...note,
      devices: devices.filter((span) => span.notes.some((one) => one === note.index)),
    }));
    const line = { notes, devices } as unknown as Line;
    const cut = excerptOf(music.timeline, line, [barIndex(11), barIndex(0)]).line;
    expect(cut.devices).toEqual([
      { device: 'scale run', notes: [5, 6, 7], target: null },
      { device: 'semitone below', notes: [7], target: null },
      { device: 'semitone above', notes: [3], target: null },
      { device: 'neighbour', notes: [1], target: 2 },
    ]);
    expect(cut.notes[7]?.devices.map(({ device }) => device)).toEqual(['scale run', 'semitone below']);
    expect(excerptOf(music.timeline, line, [barIndex(0), barIndex(1)]).line.devices[0]?.target).toBe(4);
  });
});

describe('a pedal', () => {
  const press = (key: string, change: Partial<KeyboardEvent> = {}) => ({
    key,
    ctrlKey: false,
    metaKey: false,
    altKey: false,
    shiftKey: false,
    repeat: false,
    ...change,
  });

  it.each(['PageDown', 'ArrowRight', 'ArrowDown'])('goes on by %s', (key) => {
    expect(pedalOf(press(key))).toBe('on');
  });
  it.each(['PageUp', 'ArrowLeft', 'ArrowUp'])('goes back by %s', (key) => {
    expect(pedalOf(press(key))).toBe('back');
  });
  it('is not any other key, nor one held down or with another', () => {
    expect(
      [press('a'), press('PageDown', { repeat: true }), press('PageDown', { ctrlKey: true })].map(pedalOf),
    ).toEqual([undefined, undefined, undefined]);
  });
});
