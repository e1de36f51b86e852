// The table of plain settings: everything that derives from a row.
import { describe, expect, it } from 'vitest';
import {
  plainDefaults,
  plainLimits,
  plainNames,
  plainPart,
  plainRows,
  plainValue,
  type PlainName,
} from '../../src/pipeline';
import { asksSameLesson, liftLimits, newStudy, setPlain } from '../../src/state/document';
import { envelop, optionalFields, restore } from '../../src/state/envelope';
import { readFragment, studyLink } from '../../src/state/links';
import { requestOf } from '../../src/state/request';

const fresh = newStudy('| F7 |');

/** Some other value of a setting, within its range. */
function another(name: PlainName): never {
  const row = plainRows[name];
  if (row.kind === 'flag') return !row.usual as never;
  if (row.kind === 'choice') return row.options.find((one) => one !== row.usual)! as never;
  const value = row.usual === row.most ? row.least : row.most;
  return (row.isWhole ? value : (value + (row.usual ?? value)) / 2) as never;
}

describe.each(plainNames)('%s', (name) => {
  const row = plainRows[name];
  const changed = setPlain(fresh, name, another(name));

  it('starts at its usual value, which is one that it can have', () => {
    expect(fresh[name]).toBe(row.usual);
    expect(plainDefaults[name]).toBe(row.usual);
    if (row.kind === 'number' && row.usual !== null) {
      expect(row.usual).toBeGreaterThanOrEqual(row.least);
      expect(row.usual).toBeLessThanOrEqual(row.most);
    }
    if (row.kind === 'choice' && row.usual !== null) expect(row.options).toContain(row.usual);
  });

  it('is changed by its verb, which gives the same study where nothing changes', () => {
    expect(changed[name]).not.toBe(fresh[name]);
    expect(setPlain(changed, name, changed[name] as never)).toBe(changed);
  });

  it('goes through an envelope and a link, and what is damaged takes the usual value', () => {
    expect(restore(envelop(changed))).toMatchObject({
      ok: true,
      study: { [name]: changed[name] },
      replaced: [],
    });
    const link = studyLink(changed, 'https://example.org/');
    expect(readFragment(new URL(link).hash)).toMatchObject({ study: { [name]: changed[name] } });
    const { study, ...rest } = envelop(fresh);
    expect(restore({ ...rest, study: { ...study, [name]: 'nonsense' } })).toMatchObject({
      study: { [name]: row.usual },
      replaced: [name],
    });
  });

  it('may be missing from a study, unless it was in the first version', () => {
    const { study, ...rest } = envelop(fresh);
    const without = Object.fromEntries(Object.entries(study).filter(([field]) => field !== name));
    expect(restore({ ...rest, study: without })).toMatchObject({
      study: { [name]: row.usual },
      replaced: row.isFirst ? [name] : [],
    });
    expect(optionalFields.includes(name)).toBe(!row.isFirst);
  });

  it('reaches the part of a request that it names', () => {
    const request = requestOf(changed);
    if (row.part === 'request') expect(request).toHaveProperty(name, changed[name]);
    if (row.part === 'limits') expect(request.limits).toHaveProperty(name, changed[name]);
    if (row.part === 'wishes') expect(request.wishes).toHaveProperty(name, changed[name]);
  });

  it('is lifted with all limits where it is one, and takes a lesson off the sheet where it asks another question', () => {
    expect(liftLimits(changed)[name]).toBe(row.isLimit ? row.usual : changed[name]);
    expect(plainLimits.some((one) => one === name)).toBe(row.isLimit === true);
    expect(asksSameLesson(fresh, changed)).toBe(row.isBesideLesson === true);
  });
});

describe('values', () => {
  it('are brought to the nearer end, whole where they must be, and left where they are no numbers', () => {
    expect(plainValue('choruses', 2.6)).toBe(3);
    expect(plainValue('choruses', 99)).toBe(16);
    expect(plainValue('bold', -7)).toBe(-1);
    expect(plainValue('bold', Number.NaN)).toBeUndefined();
    expect(setPlain(fresh, 'build', Number.POSITIVE_INFINITY)).toBe(fresh);
  });

  it('may be none where none is usual, which is also what is no number there', () => {
    const limited = setPlain(fresh, 'highestStop', 7.4);
    expect(limited.highestStop).toBe(7);
    expect(setPlain(fresh, 'highestStop', 99).highestStop).toBe(24);
    expect(setPlain(limited, 'highestStop', null)).toEqual(fresh);
    expect(setPlain(limited, 'highestStop', Number.NaN)).toEqual(fresh);
    expect(restore(envelop({ ...fresh, highestStop: 0 }))).toMatchObject({
      study: { highestStop: null },
      replaced: ['highestStop'],
    });
  });

  it.each([
    ['tempo', 132.5],
    ['stringLength', 1041.5],
    ['span', 151.25],
  ] as const)('of %s are rounded when they are chosen, and read as they stand in a study', (name, value) => {
    expect(setPlain(fresh, name, value)[name]).toBe(Math.round(value));
    expect(restore(envelop({ ...fresh, [name]: value }))).toMatchObject({
      study: { [name]: value },
      replaced: [],
    });
  });

  it('that ask for nothing stay out of wishes and limits', () => {
    expect(plainPart(fresh, 'wishes')).toEqual({});
    expect(plainPart(fresh, 'limits')).toEqual({});
    expect(plainPart(setPlain(fresh, 'leaps', 0.5), 'wishes')).toEqual({ leaps: 0.5 });
  });

  it('that make another line let go of the notes that were shown, the others keep them', () => {
    const shown = { ...fresh, redraws: 3 };
    expect(setPlain(shown, 'outside', 1).redraws).toBe(0);
    expect(setPlain(shown, 'ending', 'final').redraws).toBe(3);
  });
});
