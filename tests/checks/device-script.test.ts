// The labels of whole takes beside an independent script of the trade's definitions, where it lies next to the project.
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { DeviceId } from '../../src/pipeline';
import { devicesByDefinition } from '../pipeline/5-line/devices/predicates';
import { chartNames, chartText, walked } from '../pipeline/request';

const root = process.cwd();
const script = join(root, '..', 'shared', 'checks', 'devices.mts');
const isThere = existsSync(script);
if (!isThere) console.warn('No script of device definitions beside the project: its comparison is left out.');

/** The feels whose lines the script looks at. */
const walks = /swing|walk|four/;

/** The same takes as the script's: one seed, no ornaments, each chart in its own feel. */
const takes = (): ReturnType<typeof walked>[] =>
  chartNames
    .map((name) => walked(chartText(name), { take: { seed: 1, temperature: 1 }, density: 0, feel: null }))
    .filter(({ timeline }) => walks.test(timeline.feel));

/** How many notes lead on by one of these. */
const countOf = (ids: readonly DeviceId[], found: readonly ReadonlySet<DeviceId>[]): number =>
  found.filter((names) => ids.some((id) => names.has(id))).length;

describe.skipIf(!isThere)('an independent script', () => {
  const counts = new Map<string, number>();
  if (isThere) {
    const loader = join(root, 'node_modules', 'tsx', 'dist', 'loader.mjs');
    const out = execFileSync(process.execPath, ['--import', `file://${loader}`, script, '1', '0'], {
      cwd: root,
      encoding: 'utf8',
      maxBuffer: 1 << 26,
    });
    for (const [, name, count] of out.split('\nEXAMPLES')[0]!.matchAll(/^(.*\S)\s+(\d+)$/gm))
      counts.set(name!, Number(count));
  }
  const count = (name: string): number => counts.get(name) ?? 0;

  it('disagrees on a note only where its target is no chord note, which gets no approach', () => {
    expect(count('notes')).toBeGreaterThan(300);
    const wrong = [...counts].filter(([name]) => name.startsWith('DIS ') && !name.includes('left by leap'));
    const unspoken = wrong.filter(([name]) => /not called approach|called/.test(name));
    expect(wrong).toEqual(unspoken);
    const sum = unspoken.reduce((total, [, one]) => total + one, 0);
    expect(sum).toBeLessThanOrEqual(count('targets not chord tone'));
  });

  it('names each kind of approach as the line does', () => {
    const kinds: readonly (readonly [string, string])[] = [
      ['semitone below', 'approach from below'],
      ['semitone above', 'approach from above'],
      ['dominant', 'dominant approach'],
      ['diatonic step', 'scale approach'],
    ];
    for (const [kind, role] of kinds) {
      expect(count(`kind ${kind} | app ${role}`)).toBeGreaterThan(0);
      expect(count(`role ${role}`)).toBe(count(`kind ${kind} | app ${role}`));
    }
  });

  it('finds the devices that the line has, and besides only those into notes outside the chord', () => {
    const lines = takes().map(({ line }) => line.notes);
    const found = lines.flatMap((notes) => [...devicesByDefinition(notes).values()]);
    const own = lines.flatMap((notes) =>
      notes.map(({ devices, index }) => {
        const ending = devices.filter((span) => span.notes.at(-1) === index && span.target !== null);
        return new Set(ending.filter(({ target }) => target! < notes.length).map(({ device }) => device));
      }),
    );
    const rows: readonly (readonly [readonly string[], readonly DeviceId[]])[] = [
      [['DEV double chromatic from below'], ['double chromatic below']],
      [['DEV double chromatic from above'], ['double chromatic above']],
      [['DEV triple chromatic'], ['triple chromatic below', 'triple chromatic above']],
      [['DEV enclosure (first above)'], ['enclosure above first']],
      [['DEV enclosure (first below)'], ['enclosure below first']],
      [['kind semitone displaced by octave'], ['displaced']],
    ];
    let more = 0;
    for (const [names, ids] of rows) {
      const theirs = names.reduce((total, name) => total + count(name), 0);
      expect(countOf(ids, own)).toBe(countOf(ids, found));
      expect(theirs).toBeGreaterThanOrEqual(countOf(ids, own));
      more += theirs - countOf(ids, own);
    }
    expect(more).toBeLessThanOrEqual(count('targets not chord tone'));
    // A run may have begun earlier on a note outside; the script then calls it a run with chromatics.
    const runs = countOf(['scale run'], own);
    expect(runs).toBeGreaterThanOrEqual(count('DEV scalar run of 3+ steps into target') - more);
    expect(runs).toBeLessThanOrEqual(
      count('DEV scalar run of 3+ steps into target') + count('DEV run with chromatics of 3+ steps'),
    );
  });
});
