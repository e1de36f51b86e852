import { describe, expect, it } from 'vitest';
import { studiesTitled } from '../../../src/ui/studies/search';

const entries = ['Étude in Fifths', 'Back Stairs Blues', '<b>Blues</b>', ''].map((title, index) => ({
  id: String(index),
  title,
  savedAt: index,
}));
const found = (sought: string): string[] => studiesTitled(entries, sought).map(({ title }) => title);

describe('the search for a study', () => {
  it('finds by parts of words, without case or accents, in the order of the list', () => {
    expect(found('etude')).toEqual(['Étude in Fifths']);
    expect(found('blues')).toEqual(['Back Stairs Blues', '<b>Blues</b>']);
    expect(found(' STAIRS  back ')).toEqual(['Back Stairs Blues']);
    expect(found('stairs fifths')).toEqual([]);
  });

  it('takes signs as they are', () => {
    expect(found('<b>')).toEqual(['<b>Blues</b>']);
    expect(found('.*')).toEqual([]);
  });

  it('gives all for nothing', () => {
    expect(found('  ')).toHaveLength(4);
  });
});
