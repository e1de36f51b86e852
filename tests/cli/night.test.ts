// `ramble night`, by its parts and as it is run.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, vi } from 'vitest';
import { parseCommand, type NightCommand } from '../../src/cli/arguments';
import { nightOutcome } from '../../src/cli/night';
import { UsageError } from '../../src/cli/options';

// A night is many lines: on a busy machine that takes its time.
vi.setConfig({ testTimeout: 240_000 });

const root = fileURLToPath(new URL('../..', import.meta.url));
const file = 'shared/nights/two-sets.json';
const bytes = readFileSync(`${root}/${file}`);
const command = (...args: readonly string[]): NightCommand => {
  const parsed = parseCommand(['night', file, ...args]);
  if (parsed.command !== 'night') throw new Error('not a night');
  return parsed;
};

interface Json {
  readonly whole: {
    readonly length: number;
    readonly byRegion: Record<string, number>;
    readonly open: number;
    readonly rests: number;
    readonly apart: number;
  };
  readonly sets: readonly (readonly { readonly title: string; readonly measure: Json['whole'] }[])[];
  readonly wishes: readonly { readonly holds: boolean; readonly wish: object }[];
  readonly gap: number;
  readonly sentences: readonly string[];
}

describe('ramble night', () => {
  it('gives JSON whose minutes add up to the length of the night', () => {
    const { output, messages, exitCode } = nightOutcome(bytes, file, command('--format', 'json'));
    expect([messages, exitCode]).toEqual([[], 0]);
    const { whole, sets, wishes, gap } = JSON.parse(String(output)) as Json;
    const parts = ({ byRegion, open, rests, apart }: Json['whole']): number =>
      Object.values(byRegion).reduce((sum, minutes) => sum + minutes, 0) + open + rests + apart;
    expect(parts(whole)).toBeCloseTo(whole.length, 6);
    const lengths = sets.flat().map(({ measure }) => measure.length);
    expect(lengths.reduce((a, b) => a + b)).toBeCloseTo(whole.length, 6);
    expect(wishes[0]).toMatchObject({ holds: true, wish: { kind: 'most', region: 'middle', minutes: 8 } });
    expect(whole.byRegion['middle']).toBeLessThanOrEqual(8);
    expect(gap).toBeGreaterThanOrEqual(0);
  });

  it('takes wishes from the command line, in the place of those in the file', () => {
    const told: number[] = [];
    const given = command('--most', 'middle=6', '--least', 'neck block=1', '--format', 'json');
    const { output } = nightOutcome(bytes, file, given, (done) => told.push(done));
    const { wishes } = JSON.parse(String(output)) as Json;
    expect(wishes.map(({ wish }) => wish)).toEqual([
      { kind: 'most', region: 'middle', minutes: 6 },
      { kind: 'least', region: 'neck block', minutes: 1 },
    ]);
    expect(told.at(-1)).toBe(1);
  });

  it('says the night in a table and in sentences, with the cautions', () => {
    const run = spawnSync(process.execPath, ['src/build/ramble.mjs', 'night', file], {
      cwd: root,
      encoding: 'utf8',
      env: { ...process.env, INIT_CWD: root },
    });
    expect([run.stderr, run.status]).toEqual(['', 0]);
    expect(run.stdout).toMatch(/^Two sets at the corner\nSet 1: 20:30 to 20:\d\d\n/);
    expect(run.stdout).toMatch(/Slow Tide +C major +72 +\S+ \S+/);
    expect(run.stdout).toMatch(/At most 8 minutes in the middle: /);
    expect(run.stdout).toContain('for a clinician');
  });

  it('refuses what is no night, and a night without a tune', () => {
    const refused = (text: string): [readonly string[], number] => {
      const { messages, exitCode } = nightOutcome(new TextEncoder().encode(text), 'x.json', command());
      return [messages, exitCode];
    };
    expect(refused('| F7 |')).toEqual([[expect.stringMatching(/^x\.json: this is no night file/)], 1]);
    expect(refused('{"format":"ramble-night","version":1,"night":{"sets":[]}}')[0].at(-1)).toMatch(/no tune/);
  });

  it('refuses wishes that say nothing', () => {
    for (const args of [
      ['--most', 'low'],
      ['--most', 'low=-1'],
      ['--least', 'nowhere=3'],
      ['--stay', '0.2'],
    ])
      expect(() => command(...args)).toThrow(UsageError);
  });
});
