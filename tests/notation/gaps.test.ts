// A worksheet's staff: what is left out, and that nothing else is.
import { describe, expect, it } from 'vitest';
import { defaultInstrument, shortPositionName } from '../../src/instrument';
import { layoutStaff, withGaps } from '../../src/notation';
import { walked } from '../pipeline/request';

const { timeline, line } = walked('Key: F\n| F7 | Bb7 | Gm7 C7 | F7 |');
const layout = layoutStaff(timeline, line, {
  width: 700,
  instrument: defaultInstrument,
  positionNumeral: shortPositionName,
  showRoles: false,
  showDevices: true,
});

describe('gaps', () => {
  it('leave out notes with everything about them, and the names of devices', () => {
    const gaps = [1, 6, 7];
    const { layout: left, places } = withGaps(layout, gaps);
    const notes = layout.systems.flatMap((system) => system.notes);
    expect(left.systems.flatMap((system) => system.notes)).toEqual(
      notes.filter(({ index }) => !gaps.includes(index)),
    );
    expect(places.flat()).toEqual(gaps.map((index) => notes[index]!.x));
    expect(layout.systems.some(({ devices }) => devices.length > 0)).toBe(true);
    expect(left.systems.every(({ devices }) => devices.length === 0)).toBe(true);
    expect(left.systems.flatMap(({ carries }) => carries).some(({ note }) => gaps.includes(note))).toBe(
      false,
    );
  });

  it('without any, everything stays', () => {
    expect(withGaps(layout, []).layout).toBe(layout);
  });

  it('large digits take more room, and the staff is as it was', () => {
    const large = layoutStaff(timeline, line, {
      width: 700,
      instrument: defaultInstrument,
      positionNumeral: shortPositionName,
      showRoles: false,
      digits: 1.5,
    });
    expect(large.sizes.finger).toBeCloseTo(layout.sizes.finger * 1.5);
    expect(large.space).toBe(layout.space);
    expect(large.systems[0]!.staffTop).toBeGreaterThan(layout.systems[0]!.staffTop);
  });
});
