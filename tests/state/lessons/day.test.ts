// A day's practice: minutes shared out.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import data from '../../../shared/lessons/practice.json' with { type: 'json' };
import { cleanShare, dayMinutes, dayPartIds, planDay, usualDay } from '../../../src/state/lessons/day';

const all = { hasYesterday: true, hasLayer: true, hasCards: true };

describe('the usual day', () => {
  it('is twenty minutes of the data’s parts', () => {
    expect(data.day.parts.map(({ id }) => id)).toEqual([...dayPartIds]);
    expect(usualDay.minutes).toBe(20);
    expect(planDay(usualDay, all).map(({ id, minutes }) => [id, minutes])).toEqual([
      ['anchors', 2],
      ['yesterday', 3],
      ['layer', 5],
      ['names', 2],
      ['cards', 5],
      ['stage', 3],
    ]);
    for (const { says } of data.day.parts) expect(says).toMatch(/^[A-Z].*\.$/);
  });

  it('claims nothing: no word of the data promises a result', () => {
    const words = JSON.stringify(data);
    expect(words).not.toMatch(/guarantee|prevent|proven|faster|will (?:learn|improve|master)|in no time/i);
    expect(words).toContain('choices, not promises');
  });

  it('leaves out what there is nothing for, and gives its minutes to the others', () => {
    const first = planDay(usualDay, { hasYesterday: false, hasLayer: false, hasCards: false });
    expect(first.map(({ id }) => id)).toEqual(['anchors', 'names', 'stage']);
    expect(first.reduce((sum, { minutes }) => sum + minutes, 0)).toBe(20);
    expect(planDay({ ...usualDay, parts: { ...usualDay.parts, names: 0 } }, all)).toHaveLength(5);
  });
});

describe('any day', () => {
  it('has whole minutes that add up, at least one a part, and more for what weighs more', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: dayMinutes.least, max: dayMinutes.most }),
        fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 6, maxLength: 6 }),
        fc.record({ hasYesterday: fc.boolean(), hasLayer: fc.boolean(), hasCards: fc.boolean() }),
        (minutes, weights, facts) => {
          const parts = Object.fromEntries(dayPartIds.map((id, index) => [id, weights[index]!])) as Record<
            (typeof dayPartIds)[number],
            number
          >;
          const plan = planDay({ minutes, parts }, facts);
          if (plan.length === 0) return;
          expect(plan.reduce((sum, part) => sum + part.minutes, 0)).toBe(minutes);
          for (const part of plan) {
            expect(Number.isInteger(part.minutes) && part.minutes >= 1).toBe(true);
            for (const other of plan)
              if (parts[part.id] > parts[other.id])
                expect(part.minutes).toBeGreaterThanOrEqual(other.minutes);
          }
        },
      ),
    );
  });
});

describe('clean passes', () => {
  it('are counted, not timed', () => {
    expect(cleanShare([])).toBeNull();
    expect(cleanShare([{ isClean: true }, { isClean: false }, { isClean: true }, { isClean: true }])).toBe(
      0.75,
    );
  });
});
