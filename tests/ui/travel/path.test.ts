// The way of the hand as geometry.
import { describe, expect, it } from 'vitest';
import { defaultInstrument, handPosition, shortPositionName, stopDistance } from '../../../src/instrument';
import { layoutStaff, type SystemLayout } from '../../../src/notation';
import type { Timeline } from '../../../src/pipeline/2-timeline';
import type { Line } from '../../../src/pipeline/5-line';
import { travelIn } from '../../../src/ui/travel/path';
import { ribbonOf } from '../../../src/ui/travel/room';
import { neckScale } from '../../../src/ui/travel/scale';
import { notableStays, shadesIn } from '../../../src/ui/travel/stays';
import { makeLine, makeTimeline, type MadeNote } from '../../notation/made';

const height = 88;

interface Made {
  readonly timeline: Timeline;
  readonly line: Line;
  readonly systems: readonly SystemLayout[];
}

function make(notes: readonly MadeNote[], width = 1060): Made {
  const timeline = makeTimeline(
    Array.from({ length: Math.ceil(notes.length / 4) }, () => ({ chords: ['F7'] })),
  );
  const line = makeLine(timeline, notes);
  const { systems } = layoutStaff(timeline, line, {
    width,
    instrument: defaultInstrument,
    positionNumeral: shortPositionName,
    showRoles: false,
  });
  return { timeline, line, systems };
}

const stopped = (position: number, more: Partial<MadeNote> = {}): MadeNote => ({
  pitch: 'C2',
  position,
  ...more,
});
const open = (position: number, carriedFrom?: number): MadeNote => ({
  pitch: 'D2',
  string: 2,
  finger: '0',
  position,
  ...(carriedFrom === undefined ? {} : { carriedFrom }),
});

describe('the scale', () => {
  const scale = neckScale(defaultInstrument, [null], height);

  it('is true to the string in millimetres', () => {
    for (const [a, b, c] of [
      [1, 5, 12],
      [2, 7, 11],
    ] as const) {
      const drawn = (scale.y(c) - scale.y(a)) / (scale.y(b) - scale.y(a));
      const measured =
        (stopDistance(defaultInstrument, c) - stopDistance(defaultInstrument, a)) /
        (stopDistance(defaultInstrument, b) - stopDistance(defaultInstrument, a));
      expect(drawn).toBeCloseTo(measured, 9);
    }
    expect(scale.y(0)).toBe(0);
  });

  it('has a band for every region, from the nut to the end without a gap', () => {
    expect(scale.bands.map(({ region }) => region)).toEqual(['low', 'middle', 'neck block', 'octave']);
    let at = 0;
    for (const band of scale.bands) {
      expect(band.y).toBeCloseTo(at, 9);
      at += band.height;
    }
    expect(at).toBeCloseTo(height, 9);
    const [low, middle] = scale.bands;
    expect(scale.y(2)).toBeLessThan(low!.y + low!.height);
    expect(scale.y(3)).toBeGreaterThan(middle!.y);
  });

  it('reaches as far as the lines go', () => {
    const { line } = make([stopped(22), stopped(5), stopped(5), stopped(5)]);
    const wider = neckScale(defaultInstrument, [line, null], height);
    expect(wider.y(22)).toBeLessThan(height);
    expect(wider.y(12)).toBeLessThan(scale.y(12));
  });
});

describe('the way of the hand', () => {
  const scale = neckScale(defaultInstrument, [], height);
  const way = (notes: readonly MadeNote[]): ReturnType<typeof travelIn> => {
    const { line, systems } = make(notes);
    return travelIn(line, systems[0]!, scale);
  };
  const kinds = (notes: readonly MadeNote[]): string[] => way(notes).segments.map(({ kind }) => kind);

  it('stays on stopped notes, and shifts bare between two of them', () => {
    expect(kinds([stopped(2), stopped(2), stopped(7), stopped(7)])).toEqual(['stay', 'shift', 'stay']);
  });

  it('tells a pivot from a shift', () => {
    expect(kinds([stopped(2), stopped(3, { kind: 'pivot' }), stopped(3), stopped(3)])).toEqual([
      'pivot',
      'stay',
      'stay',
    ]);
  });

  it('glides while an open string rings, from where it came to where it goes', () => {
    const made = way([stopped(2), open(7, 2), stopped(7), stopped(7)]);
    expect(made.segments.map(({ kind }) => kind)).toEqual(['stay', 'glide', 'stay']);
    expect(made.marks.map(({ isOpen }) => isOpen)).toEqual([false, true, false, false]);
    expect(made.marks[1]!.y).toBeCloseTo(scale.y(2), 6);
    expect(made.marks[2]!.y).toBeCloseTo(scale.y(7), 6);
  });

  it('goes evenly from place to place while more than one open string carries it', () => {
    const carry = { from: handPosition(2), to: handPosition(8) };
    const { line, systems } = make([stopped(2), open(2), open(8), stopped(8)]);
    const notes = line.notes.map((note) => (note.placement.finger === '0' ? { ...note, carry } : note));
    const { segments, marks } = travelIn({ ...line, notes }, systems[0]!, scale);
    expect(segments.map(({ kind }) => kind)).toEqual(['stay', 'glide', 'glide']);
    expect(marks.map(({ y }) => y)).toEqual([2, 2, 5, 8].map((position) => scale.y(position)));
    expect(segments[1]!.path).toMatch(/^M[\d.]+ [\d.]+L/);
    expect(segments[2]!.path.endsWith(` ${scale.y(8).toFixed(1)}`)).toBe(true);
  });

  it('rides level while an open string rings and the hand stays', () => {
    expect(kinds([stopped(5), open(5), stopped(5), stopped(5)])).toEqual(['stay', 'ride', 'stay']);
  });

  it('takes a bare shift in the last third of the time', () => {
    const { segments, marks } = way([stopped(2), stopped(7), stopped(7), stopped(7)]);
    const knee = Number(/H([\d.]+)L/.exec(segments[0]!.path)?.[1]);
    const [from, to] = [marks[0]!.x, marks[1]!.x];
    expect((to - knee) / (to - from)).toBeCloseTo(0.33, 2);
  });

  it('has its marks where the staff has its notes, system after system', () => {
    const { line, systems } = make(Array.from({ length: 24 }, (_, index) => stopped(2 + (index % 6))));
    for (const system of systems) {
      const { marks } = travelIn(line, system, scale);
      expect(marks.map(({ note }) => note)).toEqual(system.notes.map(({ index }) => index));
      marks.forEach(({ x }, place) => expect(x).toBeCloseTo(system.notes[place]!.x, 6));
    }
  });

  it('comes in from the system before at the height where it goes on', () => {
    const notes = Array.from({ length: 20 }, (_, index) => stopped(index < 16 ? 2 : 7));
    const { line, systems } = make(notes);
    const first = travelIn(line, systems[0]!, scale).segments.at(-1)!;
    const second = travelIn(line, systems[1]!, scale).segments[0]!;
    expect(first.kind).toBe('shift');
    expect(first.path.endsWith(` ${scale.y(7).toFixed(1)}`)).toBe(true);
    expect(second.path).toContain(` ${scale.y(7).toFixed(1)}H`);
  });

  it('draws another rhythm on the same axis', () => {
    const { timeline, systems } = make(Array.from({ length: 8 }, () => stopped(5)));
    const halves = makeLine(
      timeline,
      Array.from({ length: 4 }, () => stopped(7, { quarters: 2 })),
    );
    const { marks } = travelIn(halves, systems[0]!, scale);
    expect(marks.map(({ x }) => x)).toEqual([0, 2, 4, 6].map((index) => systems[0]!.notes[index]!.x));
  });
});

describe('stays', () => {
  const repeat = (count: number, note: MadeNote): MadeNote[] => Array.from({ length: count }, () => note);

  it('shows long ones low on the neck, and the longest', () => {
    const { line } = make([
      ...repeat(8, stopped(2)),
      open(7, 2),
      ...repeat(11, stopped(7)),
      ...repeat(8, stopped(1)),
    ]);
    const stays = notableStays(line);
    expect(stays.map(({ region, beats, isLongest }) => [region, beats, isLongest])).toEqual([
      ['low', 8, false],
      ['neck block', 11, true],
      ['low', 8, false],
    ]);
  });

  it('ends with an open string and with another region', () => {
    const { line } = make([
      ...repeat(5, stopped(2)),
      open(2),
      ...repeat(4, stopped(1)),
      ...repeat(2, stopped(4)),
    ]);
    expect(notableStays(line)).toEqual([
      { region: 'low', beats: 5, fromTick: 0, toTick: 5 * 480, isLongest: true },
    ]);
  });

  it('has nothing to say about a line that never stays', () => {
    const { line } = make([stopped(2), open(7, 2), stopped(7), open(2, 7)]);
    expect(notableStays(line)).toEqual([]);
    expect(notableStays({ ...line, notes: [] })).toEqual([]);
  });

  it('is shaded over its band in every system it reaches, with its length beside the band', () => {
    const { line, systems } = make(repeat(24, stopped(2)));
    const scale = neckScale(defaultInstrument, [line], height);
    const band = scale.bands[0]!;
    const shades = systems.map((system) => shadesIn(notableStays(line), system, scale));
    expect(shades.map((row) => row.length)).toEqual([1, 1]);
    for (const [shade] of shades) {
      expect([shade!.y, shade!.height]).toEqual([band.y, band.height]);
      expect(shade!.label!.text).toBe('24 beats, longest stay');
      expect(shade!.label!.y).toBeGreaterThan(band.y + band.height);
    }
  });
});

describe('elbow room', () => {
  const marks = [10, 20, 30].map((x, note) => ({ note, x, y: 40, isOpen: false }));

  it('is a ribbon as wide as there are choices, with walls where the line is boxed in', () => {
    const rooms = [
      { choices: 1, isBoxedIn: true },
      { choices: 2, isBoxedIn: false },
      { choices: 4, isBoxedIn: false },
    ];
    const ribbon = ribbonOf(marks, rooms, height);
    const numbers = ribbon.path.match(/[\d.]+ [\d.]+/g)!.map((pair) => pair.split(' ').map(Number));
    const widthAt = (x: number): number => {
      const ys = numbers.filter(([at]) => at === x).map(([, y]) => y!);
      return Math.max(...ys) - Math.min(...ys);
    };
    expect([10, 20, 30].map(widthAt)).toEqual([0, 10, 20]);
    expect(ribbon.walls).toEqual([{ x: 10, y: 40 }]);
  });

  it('keeps within the strip and draws nothing where nothing is known', () => {
    const wide = ribbonOf(
      marks.map((mark) => ({ ...mark, y: 2 })),
      marks.map(() => ({ choices: 1000, isBoxedIn: false })),
      height,
    );
    expect(Math.min(...wide.path.match(/ [\d.]+/g)!.map(Number))).toBe(0);
    expect(ribbonOf(marks, [], height)).toEqual({ path: '', walls: [] });
  });
});
