// Rows about the hand, stems and beams: what a bassist reads.
import { describe, expect, it } from 'vitest';
import { defaultInstrument, shortPositionName } from '../../src/instrument';
import {
  layoutStaff,
  sizesFor,
  spaceFor,
  textWidth,
  type Sizes,
  type SystemLayout,
} from '../../src/notation';
import { makeLine, makeTimeline, type MadeNote } from './made';

function system(notes: readonly MadeNote[], width = 1060): SystemLayout {
  const beats = notes.reduce((sum, { quarters = 1, after = 0 }) => sum + quarters + after, 0);
  const timeline = makeTimeline(Array.from({ length: Math.ceil(beats / 4) }, () => ({ chords: ['F7'] })));
  const line = makeLine(timeline, notes);
  const layout = layoutStaff(timeline, line, {
    width,
    instrument: defaultInstrument,
    positionNumeral: shortPositionName,
    showRoles: true,
  });
  return layout.systems[0]!;
}

const layoutSizes = (width: number): Sizes => sizesFor(spaceFor(width));

const numerals = ({ brackets }: SystemLayout): string[] => brackets.map(({ numeral }) => numeral.text);

describe('string names', () => {
  it('stand where the string changes and at the start', () => {
    const made = system([
      { pitch: 'F1', string: 4 },
      { pitch: 'A1', string: 4 },
      { pitch: 'C2', string: 3 },
      { pitch: 'D2', string: 2, finger: '0' },
    ]);
    expect(made.notes.map(({ string }) => string?.text ?? null)).toEqual(['E', null, 'A', 'D']);
  });
});

describe('position numerals', () => {
  it('cover the notes of one place, with a line to the last of them', () => {
    const made = system([
      { pitch: 'F1', position: 1 },
      { pitch: 'A1', position: 5 },
      { pitch: 'C2', position: 5 },
      { pitch: 'D2', position: 5 },
    ]);
    expect(numerals(made)).toEqual(['half', 'III']);
    const [half, third] = made.brackets;
    expect(half!.lineFrom).toBeNull();
    expect(third!.lineTo).toBeCloseTo(made.notes[3]!.x, 6);
    expect(third!.lineFrom).toBeGreaterThan(third!.numeral.x);
  });

  it('go on over an open string during which the hand stays', () => {
    const made = system([
      { pitch: 'F1', position: 5 },
      { pitch: 'D2', finger: '0', string: 2, position: 5 },
      { pitch: 'C2', position: 5 },
      { pitch: 'A1', position: 4 },
    ]);
    expect(numerals(made)).toEqual(['III', 'II½']);
    expect(made.carries).toEqual([]);
  });

  it('end where an open string carries the hand, and an arrow leads to the next', () => {
    const made = system([
      { pitch: 'F1', position: 2 },
      { pitch: 'D2', finger: '0', string: 2, position: 7, carriedFrom: 2 },
      { pitch: 'C2', position: 7 },
      { pitch: 'Bb1', position: 7 },
    ]);
    expect(numerals(made)).toEqual(['I', 'IV']);
    expect(made.carries).toHaveLength(1);
    const [carry] = made.carries;
    expect([carry!.from, carry!.to]).toEqual([2, 7]);
    expect(carry!.x1).toBeLessThan(made.notes[1]!.x);
    expect(carry!.x2).toBeGreaterThan(made.notes[1]!.x);
    expect(carry!.x2).toBeLessThan(made.brackets[1]!.numeral.x);
  });

  it('are joined by one arrow where more than one open string carries the hand', () => {
    const made = system([
      { pitch: 'F1', position: 2 },
      { pitch: 'D2', finger: '0', string: 2, position: 7, carriedFrom: 2 },
      { pitch: 'G2', finger: '0', string: 1, position: 7, carriedFrom: 2 },
      { pitch: 'C2', position: 7 },
    ]);
    expect(numerals(made)).toEqual(['I', 'IV']);
    expect(made.carries).toHaveLength(1);
    const [carry] = made.carries;
    expect([carry!.note, carry!.from, carry!.to]).toEqual([1, 2, 7]);
    expect(carry!.x2).toBeGreaterThan(made.notes[2]!.x);
    expect(carry!.x2).toBeLessThan(made.brackets[1]!.numeral.x);
  });

  it('are given again after a carry back to the same place', () => {
    const made = system([
      { pitch: 'F1', position: 5 },
      { pitch: 'D2', finger: '0', string: 2, position: 2, carriedFrom: 5 },
      { pitch: 'G2', finger: '0', string: 1, position: 5, carriedFrom: 2 },
      { pitch: 'C2', position: 5 },
    ]);
    expect(numerals(made)).toEqual(['III', 'III']);
    expect(made.carries).toHaveLength(2);
  });
});

describe('roles', () => {
  it('stand on one level, broken into as many lines as their columns ask for, and none touches the next', () => {
    const roles = ['approach from below', 'root', 'open string passing', 'bass of the chord'] as const;
    for (const width of [390, 1060]) {
      const made = system(
        Array.from({ length: 8 }, (_, index) => ({ pitch: 'F1', role: roles[index % 4]! })),
        width,
      );
      const placed = made.notes.map(({ role }) => role!);
      expect(new Set(placed.map(({ y }) => y)).size).toBe(1);
      placed.slice(1).forEach((role, index) => {
        const before = placed[index]!;
        const half = ({ lines }: typeof role): number =>
          Math.max(...lines.map((line) => textWidth(line, layoutSizes(width).role, 'sans'))) / 2;
        expect(before.x + half(before)).toBeLessThan(role.x - half(role));
      });
      expect(Math.max(...placed.map(({ y }) => y))).toBeLessThan(made.height);
    }
  });
});

describe('devices', () => {
  const timeline = makeTimeline(Array.from({ length: 8 }, () => ({ chords: ['C'] })));
  const line = {
    ...makeLine(
      timeline,
      Array.from({ length: 32 }, () => ({ pitch: 'C2' })),
    ),
    devices: [
      { device: 'enclosure above first', notes: [2, 3], target: 4 },
      { device: 'semitone below', notes: [3], target: 4 },
      { device: 'semitone above', notes: [7], target: 8 },
      { device: 'scale run', notes: [29, 30, 31], target: 32 },
      { device: 'neighbour', notes: [9], target: 10 },
    ] as const,
  };
  const lay = (showDevices: boolean, width = 1060): readonly SystemLayout[] =>
    layoutStaff(timeline, line, {
      width,
      instrument: defaultInstrument,
      positionNumeral: shortPositionName,
      showRoles: true,
      showDevices,
    }).systems;

  it('stand in a row of their own when asked for, over what each note is for', () => {
    const plain = lay(false)[0]!;
    const [first] = lay(true);
    expect(plain.devices).toEqual([]);
    expect(first!.height).toBeGreaterThan(plain.height);
    expect(first!.rows.role).toBeGreaterThan(plain.rows.role);
    for (const { y, name } of first!.devices) {
      expect(y).toBeGreaterThan(first!.rows.position);
      expect(name!.y + (name!.lines.length - 1) * 14).toBeLessThan(first!.rows.role);
    }
  });

  it('open under their first note and arrive under the one they lead to; the longest is told', () => {
    const [first] = lay(true);
    const at = (index: number): number => first!.notes[index]!.x;
    expect(first!.devices.map(({ name }) => name?.lines.join(' '))).toEqual([
      'enclosure, above first',
      'semitone above',
    ]);
    const [around, above] = first!.devices;
    expect(around).toMatchObject({ opens: true, arrives: true });
    expect(Math.abs(around!.x1 - at(2))).toBeLessThan(6);
    expect(Math.abs(around!.x2 - at(4))).toBeLessThan(6);
    expect(Math.abs(above!.x1 - at(7))).toBeLessThan(6);
  });

  it('lead over the edge where what they lead to stands in the next line, and are named once', () => {
    const systems = lay(true, 420);
    const all = systems.flatMap(({ devices }) => devices);
    expect(all.filter(({ name }) => name !== null)).toHaveLength(3);
    const over = systems.find(({ notes }) => notes.at(-1)?.index === 7);
    expect(over?.devices.at(-1)).toMatchObject({ opens: true, arrives: false });
    const last = systems.at(-1)!.devices.at(-1)!;
    expect(last).toMatchObject({ opens: true, arrives: false });
    for (const [index, { devices, width }] of systems.entries())
      for (const { x1, x2 } of devices) expect([index, x1 < x2, x2 <= width]).toEqual([index, true, true]);
  });
});

describe('stems', () => {
  const tips = (notes: readonly MadeNote[]): { from: number; to: number }[] =>
    system(notes).notes.map(({ stems }) => {
      const [, from, to] = /M[\d.]+ ([\d.]+)V([\d.]+)/.exec(stems ?? '') ?? [];
      return { from: Number(from), to: Number(to) };
    });

  it('point down from the middle line up, and up below it', () => {
    const [low, middle, high] = tips([{ pitch: 'C2' }, { pitch: 'D2' }, { pitch: 'G2' }]);
    expect(low!.to).toBeLessThan(low!.from);
    expect(middle!.to).toBeGreaterThan(middle!.from);
    expect(high!.to).toBeGreaterThan(high!.from);
  });

  it('reach the middle line from far outside the staff', () => {
    const made = system([{ pitch: 'E1' }, { pitch: 'G3' }]);
    const middle = (made.staffTop + made.staffBottom) / 2;
    const [low, high] = tips([{ pitch: 'E1' }, { pitch: 'G3' }]);
    expect(low!.to).toBeLessThanOrEqual(middle + 0.01);
    expect(high!.to).toBeGreaterThanOrEqual(middle - 0.01);
  });

  it('are left out on whole notes', () => {
    expect(system([{ pitch: 'F1', quarters: 4 }]).notes[0]!.stems).toBeNull();
  });

  it('meet their beam, all on one side', () => {
    const made = system([
      { pitch: 'F1', quarters: 0.5 },
      { pitch: 'C2', quarters: 0.5 },
      { pitch: 'A1', quarters: 3 },
    ]);
    expect(made.beams).toMatch(/^M/);
    const numbers = made.beams!.match(/-?[\d.]+/g)!.map(Number);
    const ys = numbers.filter((_, index) => index % 2 === 1);
    const [first, second] = tips([
      { pitch: 'F1', quarters: 0.5 },
      { pitch: 'C2', quarters: 0.5 },
      { pitch: 'A1', quarters: 3 },
    ]);
    for (const { to } of [first!, second!]) {
      expect(to).toBeGreaterThanOrEqual(Math.min(...ys) - 0.01);
      expect(to).toBeLessThanOrEqual(Math.max(...ys) + 0.01);
    }
    expect(Math.sign(first!.to - first!.from)).toBe(Math.sign(second!.to - second!.from));
    // Beamed notes take no flag: one head each.
    expect(made.notes[0]!.glyphs).toHaveLength(1);
  });

  it('carry a flag on a lone eighth and a figure over a triplet', () => {
    expect(
      system([
        { pitch: 'F1', quarters: 1.5 },
        { pitch: 'C2', quarters: 0.5 },
      ]).notes[1]!.glyphs,
    ).toHaveLength(2);
    const third = { pitch: 'F1', quarters: 1 / 3 };
    expect(system([third, third, third, { pitch: 'C2' }]).tuplets).toHaveLength(1);
  });
});
