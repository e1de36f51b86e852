// Fingerings against what is taught (common practice, no source; from memory).
import { describe, expect, it } from 'vitest';
import { parsePosition, withLength, defaultInstrument } from '../../src/instrument';
import { bpm } from '../../src/music';
import { choices, fingered, noLimits, numeralOf, slidesOf } from '../pipeline/given/lines';
import { readTable } from '../table';

interface Taught {
  readonly note: string;
  readonly string: string;
  readonly fingers: readonly string[];
}

function taughtScales(): ReadonlyMap<string, readonly Taught[]> {
  const table = readTable('checks/usual-fingerings.tsv');
  const scales = new Map<string, Taught[]>();
  for (const row of table.rows) {
    const scale = scales.get(row.at('scale')) ?? [];
    scales.set(row.at('scale'), scale);
    expect(row.number('number')).toBe(scale.length + 1);
    expect(row.at('source')).toContain('common practice');
    scale.push({ note: row.at('note'), string: row.at('string'), fingers: row.at('finger').split('/') });
  }
  table.expectAllRead();
  return scales;
}

const scales = taughtScales();
const textOf = (name: string): string =>
  scales
    .get(name)!
    .map((one) => one.note)
    .join(' ');
const usual = (name: string, tempo = 120): ReturnType<typeof fingered>['line'] =>
  fingered(textOf(name), { way: 'usual', tempo: bpm(tempo) }).line;

/** Notes of a scale on which the usual way chooses another string or finger than is taught. */
const differencesIn = (name: string): readonly string[] =>
  usual(name).notes.flatMap(({ placement }, index) => {
    const taught = scales.get(name)![index]!;
    const isTaught =
      numeralOf(placement.string) === taught.string && taught.fingers.includes(placement.finger);
    return isTaught ? [] : [`${taught.note} ${numeralOf(placement.string)}.${placement.finger}`];
  });

describe('the usual way', () => {
  it('has at least nine tenths of the strings and fingers that are taught, differences explained', () => {
    const differences = [...scales.keys()].flatMap((name) => differencesIn(name));
    const count = [...scales.values()].flat().length;
    expect(count).toBe(64);
    expect(1 - differences.length / count).toBeGreaterThanOrEqual(0.9);
    // F sharp major, top: the shift from half position is made one note earlier, so that E sharp and F sharp, a semitone,
    // lie under the first and second finger of one position. Both are found in practice.
    expect(differences).toEqual(['E#2 II.1', 'F#2 II.2']);
  });

  it('does not depend on tempo or string length: it knows positions, not millimetres', () => {
    for (const name of scales.keys()) {
      const at120 = choices(usual(name));
      expect(choices(usual(name, 260))).toEqual(at120);
      const long = withLength(defaultInstrument, 1100);
      expect(choices(fingered(textOf(name), { way: 'usual', instrument: long }).line)).toEqual(at120);
    }
  });

  it('uses no finger but 1, 2 and 4, and each open string that is in the line', () => {
    for (const name of scales.keys()) {
      for (const { placement, midi } of usual(name).notes) {
        expect(['0', '1', '2', '4']).toContain(placement.finger);
        if ([28, 33, 38, 43].includes(midi)) expect(placement.finger).toBe('0');
      }
    }
  });
});

describe('the open way', () => {
  it('plays B flat major without half position and never leaves III½', () => {
    const { line } = fingered(textOf('B flat major'), {
      limits: { barredPositions: [parsePosition('half')!] },
    });
    const stopped = line.notes.filter((note) => note.placement.finger !== '0');
    expect(new Set(stopped.map((note) => note.placement.position))).toEqual(new Set([parsePosition('III½')]));
    // Note by note what the fact names, too.
    expect(choices(line)).toEqual(['IV.1', 'IV.4', 'II.0', 'III.1', 'III.4', 'I.0', 'II.2', 'II.4']);
    expect(line.report.bareShifts + line.report.coveredShifts + line.report.pivots).toBe(0);
  });

  it('plays E flat major without the first finger going on twice; the usual way slides it', () => {
    const open = fingered(textOf('E flat major')).line;
    expect(slidesOf(usual('E flat major'), '1')).toBe(1);
    expect(slidesOf(open, '1')).toBe(0);
    // The slide is a bare shift of two semitones: half to II, as far as the stops lie apart.
    const slide = usual('E flat major').notes[4]!.move;
    expect(slide.kind).toBe('bare shift');
    expect(slide.distance).toBeCloseTo(1060 * (2 ** (-1 / 12) - 2 ** (-3 / 12)), 6);
    expect(open.report.sameFingerShifts).toBe(0);
  });

  it('has fewer bare shifts than the usual way over all the scales, and no finger that goes on twice', () => {
    const lines = [...scales.keys()].map((name) => ({
      open: fingered(textOf(name), { limits: noLimits }).line.report,
      usual: usual(name).report,
    }));
    const sum = (count: (one: (typeof lines)[number]) => number): number =>
      lines.reduce((total, one) => total + count(one), 0);
    expect(sum(({ open }) => open.bareShifts)).toBeLessThan(sum(({ usual: own }) => own.bareShifts));
    expect(sum(({ open }) => open.sameFingerShifts)).toBe(0);
  });
});
