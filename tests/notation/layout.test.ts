// The staff laid out: line breaks, one time axis, nothing that collides, rows at level heights.
import { describe, expect, it } from 'vitest';
import { defaultInstrument, shortPositionName } from '../../src/instrument';
import { layoutStaff, spaceFor, xOfTick, type Box, type StaffLayout } from '../../src/notation';
import type { Timeline } from '../../src/pipeline/2-timeline';
import type { Line } from '../../src/pipeline/5-line';
import { walked } from '../pipeline/request';
import { makeLine, makeTimeline, quarters, type MadeBar } from './made';

const widths = [320, 360, 390, 480, 620, 768, 1024, 1060, 1440];

const lay = (timeline: Timeline, line: Line | null, width: number, showRoles = false): StaffLayout =>
  layoutStaff(timeline, line, {
    width,
    instrument: defaultInstrument,
    positionNumeral: shortPositionName,
    showRoles,
  });

/** A timeline and a line of four quarters a bar. */
function made(bars: readonly MadeBar[], notes = 'F1 A1 C2 D2', fifths = 0): [Timeline, Line] {
  const timeline = makeTimeline(bars, fifths);
  return [
    timeline,
    makeLine(
      timeline,
      bars.flatMap(() => quarters(notes)),
    ),
  ];
}
const bars = (count: number): MadeBar[] => Array.from({ length: count }, () => ({ chords: ['F7'] }));
const barsOf = (layout: StaffLayout): number[] => layout.systems.map((system) => system.bars.length);

const intersect = (one: Box, other: Box): boolean =>
  one.x < other.x + other.width &&
  other.x < one.x + one.width &&
  one.y < other.y + other.height &&
  other.y < one.y + one.height;

describe('the end of a line', () => {
  const rows: MadeBar[] = bars(8).map((bar, index) =>
    index === 4 ? { ...bar, fifths: -3, meter: { beats: 3, unit: 4 } } : bar,
  );

  it('tells of the signature and meter that the next line begins with, inside its width', () => {
    const timeline = makeTimeline(rows);
    for (const width of widths) {
      const { systems } = lay(timeline, null, width);
      const at = systems.findIndex(({ firstBar }) => firstBar === 4);
      const [before, changed] = [systems[at - 1]!, systems[at]!];
      const end = before.bars.at(-1)!.x + before.bars.at(-1)!.width;
      const told = before.head.filter(({ x }) => x > end);
      // Three flats and two figures, as they stand at the start of the next line.
      expect(told).toHaveLength(5);
      expect(told.map(({ text }) => text)).toEqual(changed.head.slice(1).map(({ text }) => text));
      expect(Math.max(...told.map(({ x }) => x)) + 4).toBeLessThan(before.width);
      expect(before.width).toBeLessThanOrEqual(width + 1e-6);
      // Nothing is told where nothing changes.
      for (const system of systems.filter(({ index }) => index !== at - 1))
        expect(system.head.every(({ x }) => x < system.headEnd)).toBe(true);
    }
  });

  it('leaves no bar of silence alone on a line', () => {
    const timeline = makeTimeline(bars(9));
    const line = makeLine(timeline, Array.from({ length: 8 }, () => quarters('F1 A1 C2 D2')).flat());
    expect(barsOf(lay(timeline, line, 1060))).toEqual([4, 5]);
    const [whole, played] = made(bars(9));
    expect(barsOf(lay(whole, played, 1060))).toEqual([4, 4, 1]);
  });
});

describe('line breaks', () => {
  it('puts four bars on a wide line and two on a phone, never under six pixels a space', () => {
    const [timeline, line] = made(bars(12));
    expect(barsOf(lay(timeline, line, 1060))).toEqual([4, 4, 4]);
    expect(barsOf(lay(timeline, line, 768))).toEqual([4, 4, 4]);
    expect(barsOf(lay(timeline, line, 366))).toEqual([2, 2, 2, 2, 2, 2]);
    for (const width of widths) expect(spaceFor(width)).toBeGreaterThanOrEqual(6);
  });

  it('fits the width it is given', () => {
    const [timeline, line] = made(bars(8));
    for (const width of widths) expect(lay(timeline, line, width).width).toBeLessThanOrEqual(width + 1e-6);
  });

  it('begins sections and choruses on the left, after a double bar line', () => {
    const rows = bars(6).map((bar, index): MadeBar => {
      if (index === 2) return { ...bar, section: 'B' };
      return index > 3 ? { ...bar, chorus: 1 } : bar;
    });
    const layout = lay(...made(rows), 1060);
    expect(barsOf(layout)).toEqual([2, 2, 2]);
    expect(layout.systems.map(({ heading }) => heading?.text ?? null)).toEqual(['Chorus 1', 'B', 'Chorus 2']);
    expect(layout.systems.map((system) => system.bars.at(-1)!.closing)).toEqual([
      'double',
      'double',
      'final',
    ]);
    expect(layout.systems[0]!.bars[0]!.closing).toBe('single');
  });

  it('gives bars of a short last line the width they have elsewhere', () => {
    const layout = lay(...made(bars(5)), 1060);
    const [first, last] = layout.systems;
    expect(last!.bars).toHaveLength(1);
    expect(last!.bars[0]!.width).toBeLessThan(first!.bars[0]!.width * 1.2);
  });

  it('does not count a pickup as a bar of the line', () => {
    const rows: MadeBar[] = [{ chords: ['C7'], quarters: 1 }, ...bars(8)];
    const timeline = makeTimeline(rows);
    const layout = lay(timeline, makeLine(timeline, quarters('G1 F1 A1 C2 D2')), 1060);
    expect(barsOf(layout)).toEqual([5, 4]);
    expect(layout.systems[0]!.bars[0]!.width).toBeLessThan(layout.systems[0]!.bars[1]!.width / 2);
  });

  it('puts fewer bars on a line rather than crowd eighths under the least column', () => {
    const timeline = makeTimeline(bars(4));
    const eighths = Array.from({ length: 32 }, () => ({ pitch: 'F1', quarters: 0.5 }));
    for (const width of widths) {
      const layout = lay(timeline, makeLine(timeline, eighths), width);
      expect(layout.width).toBeLessThanOrEqual(width + 1e-6);
      for (const { notes } of layout.systems) {
        for (const { column } of notes) expect(column.width).toBeGreaterThanOrEqual(24 - 1e-6);
      }
    }
  });

  it('makes a line wider than the page rather than let a single bar collide', () => {
    const timeline = makeTimeline([{ chords: ['C7'], meter: { beats: 12, unit: 4 } }]);
    const layout = lay(timeline, makeLine(timeline, quarters(Array(12).fill('F#1').join(' '))), 320);
    expect(layout.width).toBeGreaterThan(320);
    const xs = layout.systems[0]!.notes.map(({ x }) => x);
    xs.slice(1).forEach((x, index) => expect(x - xs[index]!).toBeGreaterThanOrEqual(24 - 1e-6));
  });
});

describe('chord symbols', () => {
  const crowded: MadeBar[] = [
    { chords: ['Bbm7b5', 'Eb7b9#11', 'Abmaj7#11/C', 'Db7alt'] },
    { chords: ['F#m11', 'B13b9#11', 'Emaj9#11', 'A7alt'] },
    { chords: ['Bbm7b5', 'Eb7b9#11'] },
    { chords: ['Abmaj7#11/C', 'Db7alt'] },
  ];

  it.each(widths)('do not touch each other or leave the line at %i px', (width) => {
    const layout = lay(...made(crowded, 'Bb1 Eb2 C2 Db2', -4), width);
    for (const system of layout.systems) {
      const boxes = system.bars.flatMap(({ chords }) => chords.map(({ box }) => box));
      boxes.forEach((box, index) => {
        expect(box.x + box.width).toBeLessThanOrEqual(system.width + 1e-6);
        for (const other of boxes.slice(index + 1)) expect(intersect(box, other)).toBe(false);
      });
    }
  });

  it('stand over everything else of their system', () => {
    const layout = lay(...made(crowded, 'G3 E1 G#3 E1', -4), 1060);
    for (const system of layout.systems) {
      const lowest = Math.max(
        ...system.bars.flatMap(({ chords }) => chords.map(({ box }) => box.y + box.height)),
      );
      expect(system.rows.finger - layout.sizes.finger).toBeGreaterThan(lowest - 3);
    }
  });

  it('stand at their own moment over a whole rest', () => {
    const timeline = makeTimeline([{ chords: ['C7'] }, { chords: ['F7', 'G7'] }]);
    const layout = lay(timeline, makeLine(timeline, quarters('C2 C2 C2 C2')), 1060);
    const silent = layout.systems[0]!.bars[1]!;
    expect(silent.chords).toHaveLength(2);
    const [first, second] = silent.chords;
    expect(second!.x - first!.x).toBeCloseTo(960 * silent.scale, 6);
    expect(silent.glyphs).toHaveLength(1);
  });

  it('are written once, and again where a line begins', () => {
    const timeline = makeTimeline([
      { chords: ['F7'] },
      ...Array.from({ length: 7 }, () => ({ chords: [null] })),
    ]);
    const layout = lay(timeline, null, 1060);
    const counts = layout.systems.map(({ bars: row }) => row.map(({ chords }) => chords.length));
    expect(counts).toEqual([
      [1, 0, 0, 0],
      [1, 0, 0, 0],
    ]);
  });
});

describe('the time axis', () => {
  it('is linear within a bar and rises through the line', () => {
    const [timeline, line] = made(bars(8), 'F#1 A1 C#2 D2');
    for (const width of widths) {
      for (const system of lay(timeline, line, width).systems) {
        for (const bar of system.bars) {
          const own = system.notes.filter(({ index }) => line.notes[index]!.slot.bar === bar.index);
          own.forEach(({ x, index }) => {
            expect(x).toBeCloseTo(bar.startX + (line.notes[index]!.tick - bar.tick) * bar.scale, 6);
            expect(xOfTick(system, line.notes[index]!.tick)).toBeCloseTo(x, 6);
          });
        }
        const xs = system.notes.map(({ x }) => x);
        expect([...xs].sort((a, b) => a - b)).toEqual(xs);
      }
    }
  });

  it('gives every note a column of its own', () => {
    const layout = lay(...made(bars(8)), 390);
    for (const { notes } of layout.systems) {
      notes.forEach(({ x, column }, index) => {
        expect(x).toBeGreaterThan(column.x);
        expect(x).toBeLessThan(column.x + column.width);
        const next = notes[index + 1];
        if (next) expect(column.x + column.width).toBeLessThanOrEqual(next.column.x + 1e-6);
      });
    }
  });
});

describe('rows', () => {
  it('keep the fingers over the highest note and the strings under the lowest', () => {
    const layout = lay(...made(bars(4), 'G3 E1 Gb3 E1'), 1060);
    const [system] = layout.systems;
    const tops = system!.notes.map(({ y }) => y - layout.space / 2);
    const bottoms = system!.notes.map(({ y }) => y + layout.space / 2);
    expect(Math.min(...tops)).toBeGreaterThan(system!.rows.finger);
    expect(Math.max(...bottoms)).toBeLessThan(system!.rows.string - layout.sizes.numeral * 0.7);
    expect(new Set(system!.notes.map(({ finger }) => finger.y)).size).toBe(1);
  });

  it('leave less room where the notes keep to the staff', () => {
    const high = lay(...made(bars(4), 'G3 E1 Gb3 E1'), 1060).systems[0]!;
    const plain = lay(...made(bars(4), 'C2 D2 E2 D2'), 1060).systems[0]!;
    expect(plain.height).toBeLessThan(high.height);
  });

  it('have room for roles when they are asked for', () => {
    const [timeline, line] = made(bars(4));
    const without = lay(timeline, line, 1060).systems[0]!;
    const withRoles = lay(timeline, line, 1060, true).systems[0]!;
    expect(without.notes.every(({ role }) => role === null)).toBe(true);
    expect(withRoles.notes.map(({ role }) => role?.lines.join(' '))).toEqual(
      line.notes.map(({ role }) => role),
    );
    expect(withRoles.height).toBeGreaterThan(without.height);
  });
});

describe('signs at the start of a line', () => {
  it('shows the signature on every line and the meter once', () => {
    const layout = lay(...made(bars(8), 'F1 A1 C2 D2', -3), 1060);
    // A clef, three flats, and two figures on the first line.
    expect(layout.systems.map(({ head }) => head.length)).toEqual([6, 4]);
  });

  it('writes a change of key or meter where it happens', () => {
    const timeline = makeTimeline([
      { chords: ['C7'] },
      { chords: ['C7'], fifths: -2 },
      { chords: ['C7'], meter: { beats: 3, unit: 4 } },
      { chords: ['C7'], fifths: 0 },
    ]);
    const layout = lay(timeline, null, 1060);
    const row = layout.systems[0]!.bars;
    expect(row.map(({ glyphs }) => glyphs.length)).toEqual([0, 2, 2, 2]);
    expect(row[0]!.closing).toBe('double');
    for (const bar of row) {
      for (const { x } of bar.glyphs) {
        expect(x).toBeGreaterThan(bar.x);
        expect(x).toBeLessThan(bar.startX);
      }
    }
  });
});

describe('a long note', () => {
  it('is tied over the bar line, with one finger and one place on the axis', () => {
    const timeline = makeTimeline(bars(2));
    const line = makeLine(timeline, [
      { pitch: 'F1', quarters: 2 },
      { pitch: 'F#1', quarters: 6 },
    ]);
    const system = lay(timeline, line, 1060).systems[0]!;
    expect(system.notes).toHaveLength(2);
    expect(system.ties).not.toBeNull();
    // Two heads and one sign: the tied head takes none.
    expect(system.notes[1]!.glyphs).toHaveLength(3);
  });

  it('is tied into the next line in two parts', () => {
    const timeline = makeTimeline(bars(5));
    const line = makeLine(timeline, [
      { pitch: 'F1', quarters: 12 },
      { pitch: 'C2', quarters: 8 },
    ]);
    const layout = lay(timeline, line, 1060);
    expect(layout.systems.map(({ ties }) => ties !== null)).toEqual([true, true]);
    expect(layout.systems[1]!.notes).toHaveLength(0);
    expect(layout.systems[1]!.tiedHeads).toHaveLength(1);
  });
});

describe('any line of the program', () => {
  const charts: [string, string][] = [
    [
      'repeats',
      'Key: Bb\nMeter: 4/4\nFeel: swing\n\n[A]\n|: Bbmaj7 G7 | Cm7 F7 | Dm7 G7 |1 Cm7 F7 :|2 Bb6 |',
    ],
    ['a bossa', 'Key: Dm\nMeter: 4/4\nFeel: bossa\n\n| Dm7 | % | Em7b5 | A7b9 |'],
    ['a waltz with a silent bar', 'Key: G\nMeter: 3/4\nFeel: waltz\n\n| Gmaj7 | E7b9 | Am7 D7 | N.C. |'],
    ['two-feel', 'Key: Eb\nMeter: 4/4\nFeel: two-feel\n\n| Ebmaj7 Cm7 | Fm7 Bb7 | Gm7 C7 | Fm7 Bb7 |'],
  ];

  it.each(charts)('is laid out whole at every width: %s', (_, chartText) => {
    const { timeline, line } = walked(chartText, { choruses: 2, take: { seed: 5, temperature: 1 } });
    for (const width of widths) {
      const layout = lay(timeline, line, width, true);
      expect(layout.width).toBeLessThanOrEqual(width + 1e-6);
      expect(layout.systems.flatMap((system) => system.notes.map(({ index }) => index))).toEqual(
        line.notes.map(({ index }) => index),
      );
      expect(layout.systems.flatMap((system) => system.bars.map(({ index }) => index))).toEqual(
        timeline.bars.map(({ index }) => index),
      );
      expect(JSON.stringify(layout)).not.toMatch(/NaN|Infinity|null,null/);
    }
  });
});
