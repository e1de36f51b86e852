// The order of the rows and what is sifted out, over figures made by hand.
import { describe, expect, it } from 'vitest';
import { barNumber } from '../../../src/music';
import { columns, firstOrder, ordered, pressed, type Row } from '../../../src/state/auditions/order';
import { takesAll, openSieve, sieveChoices, sifted } from '../../../src/state/auditions/sift';
import { emptyReport } from '../../pipeline/empty-report';

interface Made {
  readonly low?: number;
  readonly stay?: number;
  readonly bare?: number;
  readonly roots?: number;
}

const made = (rows: readonly Made[]): readonly Row[] =>
  rows.map(({ low = 0, stay = 0, bare = 0, roots = 0 }, index) => ({
    index,
    figures: {
      report: {
        ...emptyReport,
        byRegion: [{ region: 'low', beats: 0, share: low }],
        bareShifts: bare,
        longestStay: stay === 0 ? null : { region: 'low', beats: stay, fromBar: barNumber(1) },
      },
      walk: { roots, steps: 0, outside: 0 },
      highest: null,
    },
  }));

const indices = (rows: readonly Row[]): readonly number[] => rows.map(({ index }) => index);

describe('the order of takes', () => {
  const rows = made([
    { low: 0.4, bare: 3, roots: 0.7 },
    { low: 0.1, bare: 3, roots: 0.9 },
    { low: 0.7, bare: 1, roots: 0.8 },
  ]);

  it.each([
    ['number', [0, 1, 2], [2, 1, 0]],
    ['low', [1, 0, 2], [2, 0, 1]],
    ['bare', [2, 0, 1], [0, 1, 2]],
    ['roots', [0, 2, 1], [1, 2, 0]],
  ] as const)('by %s', (column, up, down) => {
    expect(indices(ordered(rows, { column, direction: 'ascending' }))).toEqual(up);
    expect(indices(ordered(rows, { column, direction: 'descending' }))).toEqual(down);
  });

  it('every column keeps all rows', () => {
    for (const column of columns)
      expect(indices(ordered(rows, { column, direction: 'descending' })).toSorted()).toEqual([0, 1, 2]);
  });

  it('a press turns a column round, and begins another with the least', () => {
    const low = pressed(firstOrder, 'low');
    expect(low).toEqual({ column: 'low', direction: 'ascending' });
    expect(pressed(low, 'low').direction).toBe('descending');
    expect(pressed(pressed(low, 'low'), 'low').direction).toBe('ascending');
    expect(pressed(pressed(low, 'low'), 'bare')).toEqual({ column: 'bare', direction: 'ascending' });
  });
});

describe('what is sifted out', () => {
  const rows = made([
    { low: 0.3, stay: 8, bare: 0 },
    { low: 0.1 + 0.2, stay: 6, bare: 2 },
    { low: 0.31, stay: 9, bare: 5 },
  ]);

  it.each([
    [openSieve, [0, 1, 2]],
    [{ ...openSieve, low: 0.3 }, [0, 1]],
    [{ ...openSieve, stay: 8 }, [0, 1]],
    [{ ...openSieve, bare: 0 }, [0]],
    [{ low: 0.5, stay: 6, bare: 4 }, [1]],
    [{ low: 0.2, stay: null, bare: null }, []],
  ])('by %o', (sieve, expected) => {
    expect(indices(sifted(rows, sieve))).toEqual(expected);
  });

  it('is nothing where all may pass', () => {
    expect(takesAll(openSieve)).toBe(true);
    for (const name of ['low', 'stay', 'bare'] as const)
      for (const choice of sieveChoices[name]) expect(takesAll({ ...openSieve, [name]: choice })).toBe(false);
  });
});
