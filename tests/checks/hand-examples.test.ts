// Named examples that a bassist would look at first (common practice, no source).
import { describe, expect, it } from 'vitest';
import {
  defaultHand,
  findInstrument,
  findLivingPlace,
  handPosition,
  makeHand,
  wayIds,
} from '../../src/instrument';
import { bpm } from '../../src/music';
import { handFigures } from '../../src/pipeline/5-line';
import { choices, fingered, noLimits, slidesOf } from '../pipeline/given/lines';
import { chartNames, chartText, walked } from '../pipeline/request';
import { isCrossed } from './hand-model';

const tempi = [60, 120, 200];
const at = (text: string, tempo: number): ReturnType<typeof fingered>['line'] =>
  fingered(text, { tempo: bpm(tempo) }).line;
const travelOf = ({ report }: ReturnType<typeof at>): number =>
  report.bareDistance.total + report.coveredDistance.total;

describe.each(tempi)('at %d', (tempo) => {
  it('a repeated open string stays open', () => {
    const line = at('G2 G2 G2 G2', tempo);
    expect(choices(line)).toEqual(['I.0', 'I.0', 'I.0', 'I.0']);
    expect(travelOf(line)).toBe(0);
  });

  it('low F and B flat, four times each, lie under one finger', () => {
    const line = at('F1 F1 F1 F1 Bb1 Bb1 Bb1 Bb1', tempo);
    expect(choices(line)).toEqual([...new Array(4).fill('IV.1'), ...new Array(4).fill('III.1')]);
    expect(travelOf(line)).toBe(0);
  });

  // At a slow tempo there is time to go up to II while the open A rings, and to play C with the first finger.
  it.skipIf(tempo < 120)('F A C D is played in half position, without travel', () => {
    const line = at('F1 A1 C2 D2', tempo);
    expect(choices(line)).toEqual(['IV.1', 'III.0', 'III.4', 'II.0']);
    expect(travelOf(line)).toBe(0);
  });

  it('E flat major is played without the first finger going on twice; the usual way slides it', () => {
    const scale = 'Eb2 F2 G2 Ab2 Bb2 C3 D3 Eb3';
    expect(slidesOf(at(scale, tempo), '1')).toBe(0);
    expect(slidesOf(fingered(scale, { way: 'usual', tempo: bpm(tempo) }).line, '1')).toBe(1);
  });
});

describe('F sharp major from the low F sharp, where no open string helps', () => {
  it('has no more pivots the faster it goes: they take time, too', () => {
    const scale = 'F#1 G#1 A#1 B1 C#2 D#2 E#2 F#2';
    const [middle, fast] = [at(scale, 120).report, at(scale, 200).report];
    expect(fast.pivots).toBeLessThanOrEqual(middle.pivots);
    expect(fast.bareShifts + fast.pivots).toBeLessThanOrEqual(middle.bareShifts + middle.pivots);
  });
});

describe('the usual way', () => {
  it.each(['D2 E2 F#2 G2 A2 B2 C#3 D3', 'A1 B1 C#2 D2 E2 F#2 G#2 A2', 'Db2 Eb2 F2 Gb2 Ab2 Bb2 C3 Db3'])(
    'of %s crosses no fingers and moves no hand against a semitone',
    (scale) => {
      const { notes } = fingered(scale, { way: 'usual' }).line;
      const crossed = notes.filter((note, index) => {
        const before = notes[index - 1]?.placement;
        return (
          before !== undefined &&
          isCrossed({ ...before, shape: 'closed' }, { ...note.placement, shape: 'closed' })
        );
      });
      expect(crossed).toEqual([]);
      for (const { move } of notes) expect(move.kind).not.toBe('pivot');
    },
  );

  it('on a fretted neck is one finger a fret: F major without a shift', () => {
    const electric = findInstrument('electric-4')!;
    const { line } = fingered('G1 A1 B1 C2 D2 E2 F#2 G2', {
      way: 'usual',
      instrument: electric,
      hand: makeHand(180),
    });
    expect(line.report.bareShifts).toBe(0);
    expect(
      line.notes.some(
        ({ placement }) => placement.finger === '4' && placement.stop - placement.position === 2,
      ),
    ).toBe(false);
  });
});

describe('who lives at the octave', () => {
  it('is there for two fifths of the stopped beats', () => {
    const place = findLivingPlace('summit')!;
    const lines = chartNames.slice(0, 3).map(
      (name) =>
        walked(chartText(name), {
          tempo: bpm(160),
          hand: { ...defaultHand, way: { id: place.way! } },
          limits: { ...noLimits, place },
        }).line,
    );
    expect(handFigures(lines, new Set())['octave share']).toBeGreaterThanOrEqual(0.4);
  });
});

describe('ways and positions', () => {
  it('leave A and B flat on the D string under neighbouring fingers, whichever way', () => {
    for (const id of wayIds) {
      const hand = { ...defaultHand, way: { id, ...(id === 'thumb' ? { from: handPosition(10) } : {}) } };
      const { notes } = fingered('A2 Bb2 A2', { hand, limits: { barredPositions: [handPosition(6)] } }).line;
      const held = notes.map(({ placement }) => placement);
      expect(held.every((one, index) => index === 0 || one.position === held[0]!.position)).toBe(true);
    }
  });
});
