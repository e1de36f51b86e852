// Takes against people's playing: figures over many charts, with bands around what was measured. No line has to meet them
// by itself. Sources: shared/checks/corpus.json.
import { describe, expect, it } from 'vitest';
import corpus from '../../shared/checks/corpus.json' with { type: 'json' };
import { parseCommand } from '../../src/cli/arguments';
import type { LineNote } from '../../src/pipeline';
import { walked } from '../pipeline/request';
import { measure, totalVariation } from './corpus';
import { corpusCharts } from './corpus-charts';

/** How freely a take is drawn when nothing is said. */
function defaultTemperature(): number {
  const command = parseCommand(['walk', '-']);
  if (command.command !== 'walk') throw new Error('not a walk');
  return command.temperature;
}

const takes = corpusCharts.map((text, index): readonly LineNote[] => {
  const take = { seed: 1000 + index, temperature: defaultTemperature() };
  return walked(text, { choruses: 3, take }).line.notes;
});
const figures = measure(takes);

describe('takes drawn as the program draws them by default', () => {
  it('are many enough to be measured', () => {
    expect(figures.bars).toBeGreaterThanOrEqual(corpus.least.bars);
    expect(takes.length).toBeGreaterThanOrEqual(corpus.least.charts);
  });

  it.each(Object.entries(corpus.shares))('keep to the band of %s', (name, { band: [least, most] }) => {
    expect(figures.shares[name]).toBeGreaterThanOrEqual(least!);
    expect(figures.shares[name]).toBeLessThanOrEqual(most!);
  });

  it.each([
    ['from beat to beat', figures.beatToBeat, corpus.beatToBeat],
    ['in the bar', figures.inBar, corpus.inBar],
    ['over the bar line', figures.overBarLine, corpus.overBarLine],
  ] as const)('have the intervals of people %s', (_where, shown, { measured, mostTotalVariation }) => {
    expect(totalVariation(shown, measured)).toBeLessThanOrEqual(mostTotalVariation);
  });
});
