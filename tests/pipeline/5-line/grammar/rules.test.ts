// Every rule of the line: a step that breaks it, one that keeps it, and what breaking it costs in the automaton that is solved.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import table from '../../../../shared/grammar/rules.json' with { type: 'json' };
import {
  Automaton,
  isBroken,
  manners,
  memories,
  memoryNumber,
  rules,
  rulesFor,
  standings,
  stepNumber,
  type Memory,
  type RuleName,
  type Step,
} from '../../../../src/pipeline/5-line/grammar';
import { infinite } from '../../../../src/pipeline/4-solver';
import { inMilli, sumOfTwo } from '../../../../src/pipeline/5-line/features/feature';
import { grammarCost, grammarFeatures } from '../../../../src/pipeline/5-line/features/grammar';

/** A tone up from chord note to chord note, after a tone up. */
const plainStep: Step = {
  step: 2,
  manner: 'walks',
  from: 'chord',
  to: 'chord',
  fromTarget: false,
  toTarget: false,
  toLastBeforeTarget: false,
  encloses: false,
  fromDenies: false,
  toRoot: false,
  leavesUnspoken: false,
  toFirstSide: false,
  fromFitsTarget: true,
};
const plainMemory: Memory = { size: 2, direction: 1, turns: 0, leaps: 0, encloses: false };

type Case = Partial<Omit<Step, 'encloses'>> & { readonly after?: Partial<Memory>; readonly across?: true };

const stepOf = ({ after: _, across, ...step }: Case): Step => ({
  ...plainStep,
  ...step,
  encloses: across ?? false,
});
const memoryOf = ({ after }: Case): Memory => ({ ...plainMemory, ...after });

const leapt = { size: 4, leaps: 1 };
const wide = { size: 5, leaps: 1 };
const side = { encloses: true };

/** By rule: steps that break it, steps that keep it. */
const cases: Readonly<Record<RuleName, readonly [readonly Case[], readonly Case[]]>> = {
  'outside by leap': [
    [
      { to: 'outside', step: 3 },
      { to: 'outside', step: -5, from: 'scale', toLastBeforeTarget: true },
    ],
    [
      { to: 'outside', step: 1 },
      { to: 'outside', step: 3, toFirstSide: true },
      { to: 'outside', step: -5, toLastBeforeTarget: true },
    ],
  ],
  'first side by third': [
    [
      { to: 'outside', step: 3, toFirstSide: true },
      { to: 'scale', step: 5, toFirstSide: true },
    ],
    [
      { to: 'outside', step: 1, toFirstSide: true },
      { to: 'chord', step: 3, toFirstSide: true },
    ],
  ],
  'outside left': [
    [{ from: 'outside', step: 2 }],
    [
      { from: 'outside', step: 1 },
      { from: 'outside', step: 3, across: true },
      { from: 'outside', step: -2, toTarget: true, after: side },
    ],
  ],
  'outside turned': [
    [{ from: 'outside', step: -1 }],
    [
      { from: 'outside', step: 1 },
      { from: 'outside', step: -1, toTarget: true, after: side },
    ],
  ],
  'scale by third': [[{ to: 'scale', step: 3 }], [{ to: 'scale', step: 2 }]],
  'scale by leap': [
    [{ to: 'scale', step: 5 }],
    [
      { to: 'scale', step: 5, toLastBeforeTarget: true },
      { to: 'chord', step: 5 },
    ],
  ],
  'last note by leap': [
    [{ to: 'outside', step: 5, toLastBeforeTarget: true }],
    [{ to: 'chord', step: 5, toLastBeforeTarget: true }],
  ],
  'scale left by third': [[{ from: 'scale', step: -4 }], [{ from: 'scale', step: -2 }]],
  'scale left by leap': [
    [
      { from: 'scale', step: 5 },
      { from: 'scale', step: 7, toTarget: true, toRoot: true },
    ],
    [
      { from: 'scale', step: 5, toTarget: true, toRoot: true },
      { from: 'scale', step: -7, toTarget: true, toRoot: true },
    ],
  ],
  tritone: [[{ step: -6 }], [{ step: -5 }, { step: 7 }]],
  sixth: [
    [{ step: 8 }, { step: -9 }],
    [{ step: 7 }, { step: 12 }],
  ],
  seventh: [
    [{ step: 10 }, { step: -11 }, { step: 13 }, { step: -14 }],
    [{ step: 12 }, { step: 9 }],
  ],
  'leap goes on': [
    [{ step: 3, after: leapt }],
    [
      { step: 2, after: leapt },
      { step: -3, after: leapt },
    ],
  ],
  'leap on leap': [
    [
      { step: 3, after: wide },
      { step: 7, after: leapt },
      { step: 5, to: 'scale', after: leapt },
    ],
    [
      { step: 5, after: leapt },
      { step: -7, after: leapt },
      { step: 2, after: wide },
    ],
  ],
  'second turn': [
    [{ step: -2, to: 'scale', after: { turns: 1 } }],
    [
      { step: -2, to: 'scale' },
      { step: 2, to: 'scale', after: { turns: 1 } },
    ],
  ],
  'second turn in chord': [
    [{ step: -3, after: { turns: 1 } }],
    [{ step: -3 }, { step: -2, to: 'scale', after: { turns: 1 } }],
  ],
  'third turn': [
    [{ step: -2, after: { turns: 2 } }],
    [
      { step: 2, after: { turns: 2 } },
      { step: -2, after: { turns: 1 } },
    ],
  ],
  'second leap': [
    [{ step: -5, after: { leaps: 1 } }],
    [{ step: -5 }, { step: -5, toTarget: true, after: { leaps: 1 } }, { step: -4, after: { leaps: 1 } }],
  ],
  'enclosure kept': [
    [
      { step: -1, after: side },
      { step: 1, toTarget: true, after: side },
      { step: -3, toTarget: true, after: side },
    ],
    [{ step: -1, toTarget: true, after: side }, { step: -1 }],
  ],
  'third into target': [[{ step: 3, toTarget: true }], [{ step: 2, toTarget: true }, { step: 3 }]],
  'leap into target': [
    [
      { step: 5, toTarget: true },
      { step: 7, toTarget: true, toRoot: true },
    ],
    [{ step: 5, toTarget: true, toRoot: true }, { step: 5 }],
  ],
  'wide into target': [[{ step: 9, toTarget: true }], [{ step: 12, toTarget: true }, { step: 9 }]],
  'octave into target': [[{ step: -12, toTarget: true }], [{ step: -12 }, { step: 11, toTarget: true }]],
  'target anticipated': [[{ step: 0, toTarget: true }], [{ step: 0 }, { step: 1, toTarget: true }]],
  'stranger into target': [
    [{ step: 2, from: 'outside', toTarget: true, fromFitsTarget: false }],
    [
      { step: 1, from: 'outside', toTarget: true, fromFitsTarget: false },
      { step: 2, from: 'outside', toTarget: true },
      { step: -2, from: 'outside', toTarget: true, fromFitsTarget: false, after: side },
    ],
  ],
  'denied note left': [
    [
      { step: 3, fromDenies: true },
      { step: -2, fromDenies: true },
      { step: 0, fromDenies: true },
    ],
    [{ step: 2, fromDenies: true }, { step: -2, fromDenies: true, fromTarget: true }, { step: 3 }],
  ],
  'third time': [
    [{ step: 0, after: { size: 0, direction: 0 } }],
    [{ step: 0 }, { step: 1, after: { size: 0, direction: 0 } }],
  ],
  'chord left unspoken': [[{ leavesUnspoken: true }], [{}]],
  'wide in pattern': [
    [
      { manner: 'patterns', step: 8 },
      { manner: 'patterns', step: -12 },
    ],
    [{ manner: 'patterns', step: 7 }, { step: 12 }],
  ],
  'scale repeated': [[{ step: 0, from: 'scale' }], [{ step: 0 }, { step: 1, from: 'scale' }]],
  'outside repeated': [[{ step: 0, from: 'outside' }], [{ step: 0 }, { step: 1, from: 'outside' }]],
};

/** Cost of a step in a memory, as the lattice has it. */
function costIn(one: Case, isStrict: boolean): number {
  const rule = new Automaton((step) => grammarCost(step, isStrict)).ruleOf(stepOf(one));
  return rule ? rule.costs[memoryNumber(memoryOf(one))]! : infinite;
}

describe('the rules of the line', () => {
  it('have a row of the table each, and no row is without a test', () => {
    expect(Object.keys(cases).sort()).toEqual(table.rows.map(({ rule }) => rule).sort());
    for (const { sentence, strength, source } of table.rows) {
      expect(sentence).toMatch(/^[A-Z].*\.$/);
      expect(source).not.toBe('');
      if (typeof strength !== 'number') expect(strength).toBe('never');
      else {
        expect(strength).toBeGreaterThan(0);
        expect(strength).toBeLessThan(table.whereForced);
      }
    }
  });

  it.each(rules.map((rule) => [rule.name, rule] as const))(
    '%s: costs its strength where broken',
    (name, rule) => {
      const [broken, kept] = cases[name];
      const without = grammarFeatures.filter((feature) => feature.name !== name);
      const added = (one: Case): number => costIn(one, false) - sumOfTwo(without, stepOf(one), memoryOf(one));
      const { strength } = table.rows.find((row) => row.rule === name)!;
      for (const one of broken) {
        expect(isBroken(rule, stepOf(one), memoryOf(one)), JSON.stringify(one)).toBe(true);
        expect(added(one)).toBe(inMilli(typeof strength === 'number' ? strength : table.whereForced));
        if (strength === 'never') expect(costIn(one, true)).toBe(infinite);
      }
      for (const one of kept) {
        expect(isBroken(rule, stepOf(one), memoryOf(one)), JSON.stringify(one)).toBe(false);
        expect(added(one)).toBe(0);
      }
    },
  );

  it('are itemised as the lattice has them; a step that breaks what is never broken is not made while all else is', () => {
    for (const one of Object.values(cases).flat(2)) {
      const step = stepOf(one);
      for (const memory of memories) {
        const sum = sumOfTwo(grammarFeatures, step, memory);
        const isNeverMade = rulesFor(step).some((rule) => rule.isNever && isBroken(rule, step, memory));
        expect(grammarCost(step, false)!(memory)).toBe(sum);
        expect(grammarCost(step, true)?.(memory) ?? null).toBe(isNeverMade ? null : sum);
      }
    }
  });

  it('hold for walking and between long notes; of ornaments, patterns and pedals little or nothing', () => {
    const namesFor = (manner: Step['manner']): string[] =>
      rulesFor({ ...plainStep, manner }).map(({ name }) => name);
    const all = rules.map(({ name }) => name);
    expect(namesFor('walks')).toEqual(all);
    expect(namesFor('holds')).toEqual(all);
    expect(namesFor('adorns')).toEqual(['seventh']);
    expect(namesFor('patterns')).toEqual(['seventh', 'wide in pattern']);
    expect(namesFor('repeats a pedal')).toEqual([]);
  });
});

describe('stepNumber', () => {
  it('is the same for steps that agree in everything, and for no others', () => {
    const flag = fc.boolean();
    const step: fc.Arbitrary<Step> = fc.record({
      step: fc.integer({ min: -13, max: 13 }),
      manner: fc.constantFrom(...manners),
      from: fc.constantFrom(...standings),
      to: fc.constantFrom(...standings),
      fromTarget: flag,
      toTarget: flag,
      toLastBeforeTarget: flag,
      encloses: flag,
      fromDenies: flag,
      toRoot: flag,
      leavesUnspoken: flag,
      toFirstSide: flag,
      fromFitsTarget: flag,
    });
    const fields = Object.keys(plainStep) as (keyof Step)[];
    fc.assert(
      fc.property(step, step, fc.constantFrom(...fields), (one, other, field) => {
        const changed = { ...one, [field]: other[field] };
        expect(stepNumber(one) === stepNumber(changed)).toBe(one[field] === other[field]);
      }),
      { numRuns: 2000, seed: 9 },
    );
  });
});
