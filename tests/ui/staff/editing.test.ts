// Where a hand that moves or writes notes points to: pitches by lines and spaces, moments on halves of a quarter.
import { describe, expect, it } from 'vitest';
import { makeKey, midiOf, noteName, soundingMidi } from '../../../src/music';
import { defaultInstrument } from '../../../src/instrument';
import { layoutStaff, otherHeadPlace, xOfTick } from '../../../src/notation';
import { walk } from '../../../src/pipeline';
import { draggedPitch, draggedTick, semitonesTo, writtenAt } from '../../../src/ui/staff/editing';
import { requestFor } from '../../pipeline/request';

const plain = { string: null, finger: null, otherFingers: [] };
const { timeline, line } = walk(
  requestFor('Key: Eb\nTempo: 120\n| Eb6 | N.C. |', {
    own: {
      fingering: 'ours',
      notes: [
        { bar: 0, at: 0, ticks: 480, midi: soundingMidi(39), ...plain },
        { bar: 0, at: 960, ticks: 960, midi: soundingMidi(43), ...plain },
      ],
    },
  }),
);
const layout = layoutStaff(timeline!, line, {
  width: 800,
  instrument: defaultInstrument,
  positionNumeral: String,
  showRoles: false,
});
const system = layout.systems[0]!;
const { space } = layout;

describe('a note that is dragged', () => {
  const key = makeKey(noteName('Eb'), 'major');
  it('goes by lines and spaces of the key, and stays where it is hardly moved', () => {
    const note = line!.notes[0]!;
    const up = (steps: number): string => draggedPitch(note, (steps * space) / 2, { space, key }).name;
    expect([up(0.3), up(1), up(3), up(-1)]).toEqual(['Eb', 'F', 'Ab', 'D']);
    expect(semitonesTo(note, draggedPitch(note, space * 1.5, { space, key }))).toBe(5);
  });
});

describe('a note that is drawn sideways', () => {
  const [first, second] = line!.notes;
  const along = (tick: number): number => xOfTick(system, tick) - xOfTick(system, first!.tick);
  const to = (by: number): number => draggedTick(first!, by, system, line!.notes);
  it('begins at the nearest half of a quarter, in another bar, too', () => {
    expect([to(along(480)), to(along(1920)), to(along(2640) + 3)]).toEqual([480, 1920, 2640]);
  });
  it('stays where it is hardly moved, onto another note, or out of the music', () => {
    expect([to(4), to(along(second!.tick)), to(-400), to(4000)]).toEqual([0, 0, 0, 0]);
  });
});

describe('a note that is written in', () => {
  const at = (tick: number, y: number): ReturnType<typeof writtenAt> =>
    writtenAt({ x: xOfTick(system, tick) + 1, y }, system, timeline!, line!.notes, space);
  const height = (midi: number): number => {
    const pitch = line!.notes.find((note) => note.midi === midi)!.pitch;
    return otherHeadPlace(pitch, system.staffTop, space).y;
  };
  it('lies where the press was, no longer than the rest', () => {
    const found = at(480, height(43) + 1)!;
    expect(found).toMatchObject({ tick: 480, ticks: 480 });
    expect(midiOf(found.pitch)).toBe(43);
    expect(at(720, height(39))).toMatchObject({ tick: 720, ticks: 240 });
  });
  it('lies in a bar of rest, too, in the signs of the key', () => {
    const found = at(1920 + 960, height(43) - space)!;
    expect(found).toMatchObject({ tick: 2880, ticks: 480 });
    expect(found.pitch.name).toBe('Bb');
  });
  it('is none on a note or outside the bars', () => {
    expect(at(960, height(43))).toBeNull();
    expect(writtenAt({ x: -5, y: 40 }, system, timeline!, line!.notes, space)).toBeNull();
  });
});
