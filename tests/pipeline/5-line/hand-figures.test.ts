// The figures of fingerings, each on a few notes that can be counted by hand.
import { describe, expect, it } from 'vitest';
import type { Line } from '../../../src/pipeline';
import { handFigures, missOf, wantedRows, type HandFigureName } from '../../../src/pipeline/5-line';

const opens: readonly number[] = [43, 38, 33, 28];

/** A line from notes as text: string by letter, finger, stop, position, kind of move: "G4:5@3 pivot". One bar of four beats. */
function lineOf(...notes: readonly string[]): Line {
  const made = notes.map((text) => {
    const [, letter, finger, stop, position, kind] = /^(.)(.):(\d+)@(\d+) ?(.*)$/.exec(text)!;
    const index = 'GDAE'.indexOf(letter!);
    const midi = opens[index]! + Number(stop);
    const placement = { string: index + 1, finger, stop: Number(stop), position: Number(position), midi };
    return { text, placement, midi, ticks: 480, bar: 1, kind };
  });
  return {
    notes: made.map(({ placement, midi, ticks, bar, kind }, index) => ({
      ...{ placement, midi, ticks, bar },
      move: {
        kind: kind === '' ? (index === 0 ? 'start' : 'stay') : kind,
        from: made[Math.max(0, index - 1)]!.placement.position,
        to: placement.position,
      },
    })),
  } as unknown as Line;
}

const figure = (name: HandFigureName, ...notes: readonly string[]): number =>
  handFigures([lineOf(...notes)], new Set(opens))[name];

describe('figures of fingerings', () => {
  it.each([
    ['position changes a bar', ['G1:3@3', 'G1:5@5 bare shift', 'D0:0@7 covered shift', 'G1:7@7'], 2],
    ['bare shifts a bar', ['G1:3@3', 'G1:5@5 bare shift', 'D0:0@7 covered shift', 'G1:7@7'], 1],
    ['string skips', ['G1:3@3', 'A1:3@3', 'D1:3@3', 'E1:3@3'], 50],
    ['pivots away', ['G1:7@7', 'G4:8@6 pivot', 'G1:6@6', 'G4:9@7 pivot'], 0.5],
    ['crossed semitones', ['G1:6@6', 'G4:7@5 bare shift'], 50],
    [
      'pivots without thumb',
      ['G1:3@3', 'G4:6@4 pivot', 'G1:4@4', 'G4:7@5 pivot', 'G2:6@5', 'G4:8@6 pivot'],
      1,
    ],
    ['pivots without thumb', ['G1:3@3', 'G4:6@4 pivot', 'D0:0@4', 'G4:7@5 pivot'], 0],
    ['open repeats moved', ['G0:0@3', 'D4:5@3', 'G0:0@3', 'G0:0@3'], 2 / 3],
    ['ringing', ['D0:0@1', 'G1:1@1', 'D1:1@1', 'A0:0@1'], 25],
    ['landings in no man’s land', ['G1:3@3', 'D0:0@5 covered shift', 'G1:5@5', 'D0:0@8 covered shift'], 0.5],
    ['one-semitone rides', ['G1:3@3', 'D0:0@4 covered shift', 'G1:4@4', 'D0:0@8 covered shift'], 0.5],
    ['fourths under one finger', ['A1:3@3', 'D1:3@3', 'A4:5@3', 'D2:5@4 pivot'], 0.5],
    ['low share', ['G1:1@1', 'G0:0@1', 'G1:5@5 bare shift'], 0.5],
    ['middle share', ['G1:1@1', 'G0:0@1', 'G1:5@5 bare shift'], 0.5],
    ['block share', ['G1:8@8', 'G0:0@1', 'G1:5@5 bare shift', 'G1:12@12 bare shift'], 1 / 3],
    ['octave share', ['G1:8@8', 'G0:0@1', 'G1:5@5 bare shift', 'G1:12@12 bare shift'], 1 / 3],
  ] as const)('%s of %j is %d', (name, notes, value) => {
    expect(figure(name, ...notes)).toBeCloseTo(value, 9);
  });

  it('of nothing are nothing', () => {
    for (const value of Object.values(handFigures([], new Set(opens)))) expect(value).toBe(0);
  });

  it('that are wanted name a figure, lines and a strength', () => {
    for (const row of wantedRows) {
      expect(row.figure).toBeDefined();
      expect(row.lines).toBeDefined();
      expect(row.strength > 0).toBe(row.wanted !== null);
    }
  });

  it('miss what is wanted by what they are over or under it', () => {
    const row = { figure: 'ringing', lines: 'takes', seen: null, strength: 1 } as const;
    expect(missOf({ ...row, wanted: { most: 7 } }, 9)).toBe(2);
    expect(missOf({ ...row, wanted: { most: 7 } }, 6)).toBe(0);
    expect(missOf({ ...row, wanted: { least: 7 } }, 6)).toBe(1);
    expect(missOf({ ...row, wanted: null }, 6)).toBe(0);
  });
});
