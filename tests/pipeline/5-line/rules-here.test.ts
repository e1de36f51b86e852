// Rules told at a note: those that are stretched are those that the line pays for, and those that held say so.
import { describe, expect, it } from 'vitest';
import table from '../../../shared/grammar/rules.json' with { type: 'json' };
import { walked, chartText } from '../request';

const names = new Set(table.rows.map(({ rule }) => rule));
const ofEntry = new Set(table.rows.filter(({ of }) => of === 'entry').map(({ rule }) => rule));

describe('rules at a note', () => {
  it.each(['back-stairs-blues.txt', 'stepladder.txt', 'high-fence.txt', 'ferry-at-noon.txt'])(
    'of %s that are stretched are those its costs name',
    (name) => {
      for (const seed of [1, 2, 3]) {
        const { notes } = walked(chartText(name), { take: { seed, temperature: 1 } }).line;
        notes.forEach((note, index) => {
          if (note.harmony.chord === null) return;
          const paid = (at: number) =>
            (notes[at]?.items ?? [])
              .filter(({ feature, amount }) => names.has(feature) && amount !== 0)
              .map(({ feature }) => feature);
          const isLast = index === notes.length - 1;
          const expected = [
            ...paid(index).filter((rule) => ofEntry.has(rule)),
            // The last note leads back to the top, which is no note of the line.
            ...(isLast ? [] : paid(index + 1).filter((rule) => !ofEntry.has(rule))),
          ];
          const told = note.rules.filter(({ isKept }) => !isKept).map(({ rule }) => rule);
          expect(told.sort()).toEqual(expected.sort());
        });
      }
    },
  );

  it('tell of a note outside that it is entered by step and left by a semitone', () => {
    const { notes } = walked(chartText('back-stairs-blues.txt'), { take: { seed: 1, temperature: 1 } }).line;
    const outside = notes.slice(1, -1).filter(({ degree }) => degree.place === 'outside');
    expect(outside.length).toBeGreaterThan(0);
    for (const { rules } of outside) {
      const kept = rules.filter(({ isKept }) => isKept).map(({ rule }) => rule);
      expect(kept).toEqual(expect.arrayContaining(['outside by leap', 'outside left']));
    }
  });

  it('are sentences of the table, and none is told twice of a note', () => {
    const { notes } = walked(chartText('stepladder.txt'), { take: { seed: 4, temperature: 1 } }).line;
    const sentences = new Set(table.rows.map(({ sentence }) => sentence));
    for (const { rules } of notes) {
      for (const { sentence } of rules) expect(sentences).toContain(sentence);
      expect(new Set(rules.map(({ rule }) => rule)).size).toBe(rules.length);
    }
    // Rules that concern nothing of a plain chord step are not told: a list of all of them says nothing.
    const told = notes.reduce((sum, { rules }) => sum + rules.length, 0) / notes.length;
    expect(told).toBeGreaterThan(0.5);
    expect(told).toBeLessThan(8);
  });
});
