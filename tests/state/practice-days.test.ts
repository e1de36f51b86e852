// Minutes by day: this week beside the usual one.
import { describe, expect, it } from 'vitest';
import { addToDays, daysKey, readDays, weekBeside, writeDays } from '../../src/state/practice-days';

function storage(text: string | null = null): Parameters<typeof writeDays>[0] & object {
  let kept = text;
  return {
    getItem: (key) => (key === daysKey ? kept : null),
    setItem: (_key, next) => {
      kept = next;
    },
  };
}

describe('days of practice', () => {
  it('add up by day and are read back', () => {
    const shelf = storage();
    writeDays(shelf, addToDays(addToDays({}, '2030-03-01', 60), '2030-03-01', 30));
    expect(readDays(shelf)).toEqual({ '2030-03-01': 90 });
  });

  it('are none where what is kept is damaged', () => {
    for (const text of ['', '{', '[1]', '{"2030-03-01":-1}', '{"today":1}'])
      expect(readDays(storage(text))).toEqual({});
    expect(readDays(null)).toEqual({});
  });

  it('forget what is more than nine weeks ago', () => {
    const days = addToDays(addToDays({}, '2030-01-01', 60), '2030-03-10', 60);
    expect(Object.keys(days)).toEqual(['2030-03-10']);
  });
});

describe('the week', () => {
  it('is the last seven days, beside the mean of the weeks before', () => {
    const days = {
      '2030-03-15': 600,
      '2030-03-09': 1200,
      // The seven days before, and of two weeks before.
      '2030-03-08': 3600,
      '2030-02-25': 1800,
      '2030-03-16': 9999,
    };
    expect(weekBeside(days, '2030-03-15')).toEqual({ minutes: 30, usual: 45, weeks: 2 });
  });

  it('has no usual one before there was another', () => {
    expect(weekBeside({ '2030-03-15': 60 }, '2030-03-15')).toEqual({ minutes: 1, usual: null, weeks: 0 });
    expect(weekBeside({}, '2030-03-15').minutes).toBe(0);
  });
});
