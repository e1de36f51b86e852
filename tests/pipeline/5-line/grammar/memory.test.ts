// The automaton that reads a line: its states have numbers, its counters count.
import { describe, expect, it } from 'vitest';
import { infinite } from '../../../../src/pipeline/4-solver';
import {
  advance,
  Automaton,
  enclosingSizes,
  memories,
  memoryNumber,
  sizeOf,
  startOfLine,
  turnsAt,
  type Memory,
  type ReadStep,
} from '../../../../src/pipeline/5-line/grammar';

const memory = (
  size: number | null,
  direction: -1 | 0 | 1,
  turns = 0,
  leaps = 0,
  encloses = false,
): Memory => ({
  size,
  direction,
  turns,
  leaps,
  encloses,
});
const between = { fromTarget: false, toTarget: false, encloses: false };

describe('sizeOf', () => {
  it('tells repeat, semitone, tone, third, fourth to fifth, sixth and seventh, octave and more apart', () => {
    const sizes = [0, 1, 2, 3, 3, 4, 4, 4, 5, 5, 5, 5, 6, 6, 6];
    sizes.forEach((size, step) => {
      expect(sizeOf(step)).toBe(size);
      expect(sizeOf(-step)).toBe(size);
    });
  });
});

describe('memories', () => {
  it('begin with the start of a line, and each has its own number', () => {
    expect(memories[0]).toEqual(startOfLine);
    memories.forEach((one, index) => expect(memoryNumber(one)).toBe(index));
    expect(memories.length).toBeLessThanOrEqual(256);
  });

  it('hold every memory that a line can come to, and no other', () => {
    const met = new Map([['0 true', { memory: startOfLine, fromTarget: true }]]);
    for (const { memory: before, fromTarget } of met.values()) {
      for (let step = -14; step <= 14; step++) {
        const across = !fromTarget && enclosingSizes.includes(sizeOf(step));
        for (const [toTarget, encloses] of [
          [true, false],
          [false, false],
          [false, across],
        ] as const) {
          const after = advance(before, { step, fromTarget, toTarget, encloses });
          met.set(`${memoryNumber(after)} ${toTarget}`, { memory: after, fromTarget: toTarget });
        }
      }
    }
    const numbers = new Set([...met.values()].map((one) => memoryNumber(one.memory)));
    expect(numbers.size).toBe(memories.length);
  });

  it('refuses one that cannot be', () => {
    expect(() => memoryNumber(memory(4, 1, 1, 0))).toThrow(RangeError);
    expect(() => memoryNumber(memory(1, 1, 0, 0, true))).toThrow(RangeError);
  });
});

describe('advance', () => {
  it.each<readonly [string, Memory, ReadStep, Memory]>([
    ['the first step', startOfLine, { ...between, step: 2, fromTarget: true }, memory(2, 1)],
    ['a step on', memory(2, 1), { ...between, step: 1 }, memory(1, 1)],
    ['a turn', memory(2, 1), { ...between, step: -2 }, memory(2, -1, 1)],
    ['a second turn', memory(2, -1, 1), { ...between, step: 3 }, memory(3, 1, 2)],
    ['a third turn counts as two', memory(3, 1, 2), { ...between, step: -1 }, memory(1, -1, 2)],
    [
      'a turn on a target does not count',
      memory(2, 1),
      { ...between, step: -2, fromTarget: true },
      memory(2, -1),
    ],
    ['a repeat is no turn', memory(2, 1), { ...between, step: 0 }, memory(0, 0)],
    ['nor is what follows it', memory(0, 0), { ...between, step: -2 }, memory(2, -1)],
    ['a leap', memory(2, 1), { ...between, step: 5 }, memory(4, 1, 0, 1)],
    ['a second leap counts as one', memory(4, 1, 0, 1), { ...between, step: 12 }, memory(6, 1, 0, 1)],
    ['a third is no leap', memory(2, 1), { ...between, step: 4 }, memory(3, 1)],
    ['a leap stays known', memory(4, 1, 0, 1), { ...between, step: -2 }, memory(2, -1, 1, 1)],
    ['across a target', memory(1, 1), { ...between, step: -3, encloses: true }, memory(3, -1, 1, 0, true)],
    [
      'into a target all counters go',
      memory(2, -1, 2, 1),
      { ...between, step: 7, toTarget: true },
      memory(4, 1),
    ],
    [
      'an enclosure is paid',
      memory(3, -1, 1, 0, true),
      { ...between, step: 1, toTarget: true },
      memory(1, 1),
    ],
  ])('%s', (_, before, step, after) => expect(advance(before, step)).toEqual(after));

  it('turns only from one direction to the other', () => {
    expect(turnsAt(memory(2, 1), -1)).toBe(true);
    expect(turnsAt(memory(2, 1), 1)).toBe(false);
    expect(turnsAt(memory(2, 1), 0)).toBe(false);
    expect(turnsAt(startOfLine, -3)).toBe(false);
  });
});

describe('Automaton', () => {
  const step = {
    ...between,
    step: -2,
    manner: 'walks',
    from: 'chord',
    to: 'scale',
    toLastBeforeTarget: false,
    fromDenies: false,
    toRoot: false,
    leavesUnspoken: false,
    toFirstSide: false,
    fromFitsTarget: true,
  } as const;

  it('has for each memory where the step leads and what it costs there', () => {
    const rule = new Automaton(
      () =>
        ({ turns, leaps }) =>
          100 * turns + leaps,
    ).ruleOf(step)!;
    memories.forEach((one, g) => {
      expect(memories[rule.next[g]!]).toEqual(advance(one, step));
      expect(rule.costs[g]).toBe(100 * one.turns + one.leaps);
    });
  });

  it('has no way from a target with counters that are not 0', () => {
    const rule = new Automaton(() => () => 0).ruleOf({ ...step, fromTarget: true })!;
    memories.forEach(({ turns, leaps, encloses }, g) =>
      expect(rule.costs[g]).toBe(turns > 0 || leaps > 0 || encloses ? infinite : 0),
    );
  });

  it('keeps the memory over an ornament, and gives the same rule for the same step', () => {
    const automaton = new Automaton(() => () => 0);
    const rule = automaton.ruleOf({ ...step, manner: 'adorns' })!;
    expect([...rule.next]).toEqual([...memories.keys()]);
    expect(automaton.ruleOf({ ...step, manner: 'adorns' })).toBe(rule);
    expect(automaton.ruleOf(step)).not.toBe(rule);
  });

  it('has no way where a step is not made in a memory, and no rule where it is made in none', () => {
    const rule = new Automaton(
      () =>
        ({ turns }) =>
          turns > 0 ? null : 7,
    ).ruleOf(step)!;
    memories.forEach(({ turns }, g) => expect(rule.costs[g]).toBe(turns > 0 ? infinite : 7));
    const never = new Automaton(() => null);
    expect(never.ruleOf(step)).toBeNull();
    expect(never.ruleOf(step)).toBeNull();
  });
});
