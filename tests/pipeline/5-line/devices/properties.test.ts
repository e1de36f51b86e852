// Over random lines: what a row of the table masks is recognised, and nothing else is.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  deviceFamilies,
  deviceOf,
  devices,
  devicesOf,
  isOrnament,
  labelsOf,
  labelsWith,
  type DeviceId,
  type DeviceRow,
  type PlayedNote,
} from '../../../../src/pipeline';
import { chartNames, chartText, walked } from '../../request';
import { stopped, timelineOf } from './made';
import { devicesByDefinition } from './predicates';

const timelines = chartNames.map((name) => timelineOf(chartText(name)));
const aimed = (id: DeviceId): boolean => ['approach', 'device'].includes(deviceOf(id).family);

/** Steps that wander within the bass, most of them small, over a stretch of a demo's own slots. */
const anyLine = fc
  .record({
    chart: fc.nat(timelines.length - 1),
    from: fc.nat(200),
    start: fc.integer({ min: 30, max: 55 }),
    steps: fc.array(fc.oneof(fc.constantFrom(-2, -1, 1, 2), fc.integer({ min: -13, max: 13 })), {
      minLength: 4,
      maxLength: 14,
    }),
  })
  .map(({ chart, from, start, steps }) => {
    const { slots } = timelines[chart]!;
    const first = from % Math.max(1, slots.length - steps.length);
    let midi = start;
    const pitches = [midi, ...steps.map((step) => (midi = Math.min(60, Math.max(28, midi + step))))];
    return pitches.flatMap((pitch, index): PlayedNote[] => {
      const slot = slots[first + index];
      return slot ? [stopped(slot, pitch)] : [];
    });
  });

describe('devices of random lines', () => {
  it('are those of the trade’s definitions, on every note', () => {
    const seen = new Set<DeviceId>();
    fc.assert(
      fc.property(anyLine, (notes) => {
        const found = new Map<number, Set<DeviceId>>();
        const expected = devicesByDefinition(notes);
        for (const index of expected.keys()) found.set(index, new Set());
        for (const span of devicesOf(notes)) {
          if (!aimed(span.device)) continue;
          seen.add(span.device);
          found.get(span.notes.at(-1)!)!.add(span.device);
        }
        expect(found).toEqual(expected);
      }),
      { numRuns: 10_000 },
    );
    // Every one of them came up: the comparison is about something.
    expect([...seen].sort()).toEqual(devices.flatMap(({ id }) => (aimed(id) ? [id] : [])).sort());
  });

  it('come in order, lead on, and label each note as when it is put into the place of another', () => {
    fc.assert(
      fc.property(anyLine, (notes) => {
        for (const span of devicesOf(notes)) {
          const places = [...span.notes, ...(span.target === null ? [] : [span.target])];
          expect(places).toEqual(places.toSorted((a, b) => a - b));
          expect(new Set(places).size).toBe(places.length);
        }
        const whole = labelsOf(notes);
        // What ends more than six notes on is not looked for when one note is asked about.
        notes.slice(-6).forEach((_, at) => {
          const index = notes.length - 6 + at;
          if (index < 0) return;
          const other = stopped(notes[index]!.slot, notes[0]!.midi + 3);
          expect(labelsWith(notes.with(index, other))(index, notes[index]!)).toEqual(whole[index]);
        });
      }),
      { numRuns: 500 },
    );
  });
});

const patterned = devices.filter(({ pattern }) => pattern !== null);

/** A line in which the steps into one note are those that a row masks; null where its other conditions do not hold. */
function masked(
  row: DeviceRow,
  notes: readonly PlayedNote[],
  at: number,
  choice: readonly number[],
): readonly PlayedNote[] | null {
  const { shapes } = row.pattern!;
  const shape = shapes[choice[0]! % shapes.length]!;
  if (at < shape.length || at >= notes.length) return null;
  const result = [...notes];
  let midi: number = notes[at]!.midi;
  for (let back = 1; back <= shape.length; back++) {
    const steps = shape[shape.length - back]!;
    midi -= steps[choice[back]! % steps.length]!;
    result[at - back] = stopped(notes[at - back]!.slot, midi);
  }
  return result;
}

/** Whether the row's conditions besides the steps hold, told by the degrees alone. */
function conditionsHold(row: DeviceRow, notes: readonly PlayedNote[], at: number): boolean {
  const { at: where, shapes, leadIn, crosses, notes: condition, target } = row.pattern!;
  const labels = labelsOf(notes);
  const before = notes[at - 1]!.slot;
  const opens = (index: number): boolean =>
    notes[index]!.slot.nextIsDownbeat || notes[index]!.slot.nextIsChange;
  if (where === 'target' ? !opens(at - 1) : where === 'change' && !before.nextIsChange) return false;
  const places = ['bass', 'chord'];
  const { degree } = labels[at]!;
  const { chord } = notes[at]!.slot.harmony;
  const isBottom = chord !== null && (chord.bass === null ? degree.number === 1 : degree.place === 'bass');
  if (target === 'chord' ? !places.includes(degree.place) : target === 'root' && !isBottom) return false;
  const length = shapes[0]!.length;
  const first = at - length + (leadIn ? 1 : 0);
  for (let index = at - length; index < at - 1; index++) if (!crosses && opens(index)) return false;
  const allowed: Readonly<Record<string, readonly string[]>> = {
    any: ['bass', 'chord', 'scale', 'outside'],
    inside: ['bass', 'chord', 'scale'],
    either: ['bass', 'chord', 'scale'],
    chord: ['bass', 'chord'],
    scale: ['scale'],
    outside: ['outside'],
  };
  return labels.slice(first, at).every((one) => allowed[condition]!.includes(one.degree.place));
}

describe.each(patterned)('a line under the mask of $id', (row) => {
  it('is recognised as it', () => {
    let held = 0;
    fc.assert(
      fc.property(
        anyLine,
        fc.nat(13),
        fc.array(fc.nat(20), { minLength: 5, maxLength: 5 }),
        (line, at, choice) => {
          const notes = masked(row, line, at, choice);
          if (!notes || notes.some(({ midi }) => midi < 20) || !conditionsHold(row, notes, at)) return;
          held++;
          const span = devicesOf(notes).find((one) => one.device === row.id && one.target === at);
          expect(span?.notes.at(-1)).toBe(at - 1);
          expect(span!.notes.length).toBeGreaterThanOrEqual(
            row.pattern!.shapes[0]!.length - (row.pattern!.leadIn ? 1 : 0),
          );
        },
      ),
      // About 20 lines in 3,000 meet all conditions of the rarest row.
      { numRuns: 6000 },
    );
    expect(held).toBeGreaterThan(10);
  });
});

describe('devices of takes', () => {
  it('are those of the trade’s definitions, with ornaments passed over', () => {
    for (const name of chartNames) {
      const { line } = walked(chartText(name), { density: 0.6, take: { seed: 2, temperature: 1 } });
      const expected = devicesByDefinition(line.notes);
      for (const [index, ids] of expected) {
        const { devices: found } = line.notes[index]!;
        const ending = found.filter(({ device, notes }) => aimed(device) && notes.at(-1) === index);
        expect(new Set(ending.map(({ device }) => device))).toEqual(ids);
      }
      const ornaments = line.notes.filter(({ slot }) => isOrnament(slot.articulation));
      for (const { index } of ornaments)
        for (const { device, notes } of line.devices)
          if (notes.includes(index))
            expect(deviceFamilies.indexOf(deviceOf(device).family)).toBeGreaterThan(2);
    }
  });
});
