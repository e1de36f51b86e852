// Beams as MusicXML marks them.
import { describe, expect, it } from 'vitest';
import { barGrid, flagsOf, writtenValues } from '../../src/music';
import { beamsOf } from '../../src/export/beams';

describe('beams', () => {
  const beams = (
    lengths: readonly (readonly [ticks: number, isRest?: boolean])[],
    beats: number,
    unit: 4 | 8,
  ) => {
    const grid = barGrid({ beats, unit }, (beats * 1920) / unit, false);
    let at = 0;
    const stretches = lengths.map(([length, isRest = false]) => {
      const start = at;
      at += length;
      return { start, end: at, isRest };
    });
    const pieces = writtenValues(stretches, grid);
    const inputs = pieces.flatMap((own, index) =>
      own.map(({ start, end, value }) => ({
        start,
        end,
        flags: stretches[index]!.isRest ? 0 : flagsOf(value),
      })),
    );
    return beamsOf(inputs, grid);
  };

  it('join the eighths of one beat only', () => {
    expect(beams([[240], [240], [240], [240], [480], [240], [240, true]], 4, 4)).toEqual([
      ['begin'],
      ['end'],
      ['begin'],
      ['end'],
      [],
      [],
      [],
    ]);
  });

  it('join three eighths in compound time', () => {
    expect(beams([[240], [240], [240], [480], [240]], 6, 8)).toEqual([
      ['begin'],
      ['continue'],
      ['end'],
      [],
      [],
    ]);
  });

  it('hook a sixteenth to the eighth beside it', () => {
    expect(beams([[360], [120], [120], [360], [960]], 4, 4)).toEqual([
      ['begin'],
      ['end', 'backward hook'],
      ['begin', 'forward hook'],
      ['end'],
      [],
    ]);
  });
});
