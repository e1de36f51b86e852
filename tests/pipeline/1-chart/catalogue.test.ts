// The catalogue of sentences and the code that uses it agree.
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import words from '../../../shared/words/chart-problems.json' with { type: 'json' };
import { severities } from '../../../src/pipeline/1-chart';

// Imports from files have a catalogue of their own, in a folder of their own.
const source = ['1-chart', '2-timeline']
  .flatMap((stage) => {
    const folder = new URL(`../../../src/pipeline/${stage}/`, import.meta.url);
    return (
      readdirSync(folder)
        // Figures are added to bars by kind, not problems by code.
        .filter((name) => name.endsWith('.ts') && !name.startsWith('figures'))
        .map((name) => readFileSync(new URL(name, folder), 'utf8'))
    );
  })
  .join('\n');
const used = [...source.matchAll(/(?:problems\.add|problem|add)\(\s*'([a-z-]+)'/gu)].map(
  (match) => match[1]!,
);

describe('the catalogue of chart problems', () => {
  it('has a sentence for every code in use', () => {
    expect(used.length).toBeGreaterThan(40);
    expect(used.filter((code) => !(code in words))).toEqual([]);
  });

  it('has no sentence that nothing uses', () => {
    expect(Object.keys(words).filter((code) => !source.includes(`'${code}'`))).toEqual([]);
  });

  it.each(Object.entries(words))('%s is a plain sentence with a severity', (_code, { severity, message }) => {
    expect(severities).toContain(severity);
    expect(message).toMatch(/^[A-Z“%]|^\{count\}/u);
    expect(message).toMatch(/\.$/u);
  });
});
