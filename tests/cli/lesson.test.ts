// ramble lesson and ramble round: what they take, what they print, how they fail.
import { describe, expect, it } from 'vitest';
import { parseCommand } from '../../src/cli/arguments';
import { lessonOutcome, roundOutcome } from '../../src/cli/lesson';
import type { LessonCommand, RoundCommand } from '../../src/cli/lesson-arguments';
import { layerIds } from '../../src/pipeline';

const text = (chart: string): Uint8Array => new TextEncoder().encode(chart);
const chart = text('Key: F\n| F7 | Bb7 |\n');

function lesson(...args: string[]): LessonCommand {
  const read = parseCommand(['lesson', 'chart', ...args]);
  if (read.command !== 'lesson') throw new Error('not the command');
  return read;
}

function round(...args: string[]): RoundCommand {
  const read = parseCommand(['round', 'chart', ...args]);
  if (read.command !== 'round') throw new Error('not the command');
  return read;
}

interface LessonJson {
  readonly layer: string;
  readonly ground: string;
  readonly from: string | null;
  readonly key: string;
  readonly changed: { readonly count: number; readonly of: number; readonly notes: readonly number[] } | null;
  readonly notes: readonly {
    readonly midi: number;
    readonly string: string;
    readonly stop: number;
    readonly finger: string;
    readonly position: string;
  }[];
}

const outcomeOf = (...args: string[]): ReturnType<typeof lessonOutcome> =>
  lessonOutcome(chart, 'chart', lesson(...args));

describe('ramble lesson', () => {
  it('gives one lesson as JSON, with what changed from the layer before', () => {
    const made = (...args: string[]): LessonJson =>
      JSON.parse(String(outcomeOf(...args, '--ground', 'block', '--format', 'json').output)) as LessonJson;
    const before = made('--layer', 'frame');
    const after = made('--layer', 'below', '--from', 'frame');
    expect([before.changed, before.from]).toEqual([null, null]);
    expect([after.layer, after.ground, after.from, after.key]).toEqual([
      'below',
      'block',
      'Frame',
      'F major',
    ]);
    const changed = after.notes.flatMap(({ midi }, index) =>
      midi === before.notes[index]!.midi ? [] : [index],
    );
    expect(after.changed).toMatchObject({ count: changed.length, of: 8, notes: changed });
    for (const note of after.notes) {
      expect(note.string).toMatch(/^(I|II|III|IV)$/);
      expect(note.finger).toMatch(/^[0-4T]$/);
      expect(note.position.length).toBeGreaterThan(0);
      expect(note.stop).toBeGreaterThanOrEqual(0);
    }
  });

  it('counts what changed in text, and names the places', () => {
    const told = String(outcomeOf('--layer', 'below', '--from', 'frame').output);
    expect(told).toMatch(/^Lean below, Anywhere: A semitone from below leads into every new chord\.$/m);
    expect(told).toMatch(/^\d of 8 notes changed from Frame, \d of the others held otherwise\.$/m);
    expect(told).toMatch(/^Changed: \d\.\d/m);
  });

  it('makes all layers, each from the one before', () => {
    const { output } = outcomeOf('--layer', 'all', '--format', 'json');
    const { lessons } = JSON.parse(String(output)) as { lessons: readonly LessonJson[] };
    expect(lessons.map(({ layer }) => layer)).toEqual([...layerIds]);
    expect(lessons.slice(0, 3).map(({ from }) => from)).toEqual([null, 'Ground', 'Pillars']);
  });

  it('makes a layer in all keys', () => {
    const { output } = outcomeOf('--layer', 'ground', '--key', 'all', '--format', 'json');
    const { lessons } = JSON.parse(String(output)) as { lessons: readonly LessonJson[] };
    expect(new Set(lessons.map(({ key }) => key)).size).toBe(12);
    expect(lessons[0]!.key).toBe('F major');
  });

  it('says why there is no line, and leaves with 1', () => {
    const waltz = text('Key: D minor\nMeter: 3/4\n\n| Dm7 | A7 | Gm7 | A7 |\n');
    const { messages, exitCode } = lessonOutcome(waltz, 'waltz', lesson('--layer', 'run'));
    expect(exitCode).toBe(1);
    expect(messages.join()).toMatch(/^waltz: Run, D minor: .*Bar \d+, beat \d.*Run asks for/);
  });

  it('says so when nothing can be played', () => {
    const { messages, exitCode } = lessonOutcome(
      text('Key: F\n| N.C. |'),
      'rest',
      lesson('--layer', 'frame'),
    );
    expect([messages.at(-1), exitCode]).toEqual(['rest: nothing in this chart can be played.', 1]);
  });

  it.each([
    [[], /which layer\? --layer takes ground, .* or all/],
    [['--layer', 'bellow'], /--layer takes ground, .*all, not "bellow"/],
    [['--layer', 'below', '--ground', 'attic'], /--ground takes anywhere, .*, not "attic"/],
    [['--layer', 'below', '--from', 'nothing'], /--from takes ground, .*, not "nothing"/],
    [['--layer', 'below', '--key', 'H'], /--key takes a key/],
  ])('refuses %j', (args, message) => {
    expect(() => lesson(...args)).toThrow(message);
  });

  it('takes a ground of two words with a hyphen', () => {
    expect(lesson('--layer', 'frame', '--ground', 'no-half').ground).toBe('no half');
  });
});

describe('ramble round', () => {
  it('gives twelve keys with their grounds, and the sum', () => {
    const told: number[] = [];
    const { output } = roundOutcome(chart, 'chart', round('--layer', 'ground', '--format', 'json'), (done) =>
      told.push(done),
    );
    const made = JSON.parse(String(output)) as {
      total: number;
      keys: readonly { key: string; ground: string; cost: number; notes: unknown[] }[];
    };
    expect(made.keys).toHaveLength(12);
    expect(made.keys.reduce((sum, { cost }) => sum + cost, 0)).toBe(made.total);
    for (const ground of ['first', 'middle', 'block', 'string'])
      expect(made.keys.filter((one) => one.ground === ground)).toHaveLength(3);
    expect(made.keys.every(({ notes }) => notes.length === 8)).toBe(true);
    expect(told.at(-1)).toBe(1);
  });

  it('carries one line through the keys, and says what changed under the hand', () => {
    const { output } = roundOutcome(chart, 'chart', round('--carry'), () => undefined);
    const told = String(output);
    expect(told).toMatch(/^F major: as it is$/m);
    expect(told.match(/^Under the hand: /gm)).toHaveLength(12);
    expect(told).toMatch(/^Bb major: \d semitones (up|down)/m);
  });

  it('refuses an order it does not know', () => {
    expect(() => round('--order', 'fifths')).toThrow(/--order takes fourths, mixed/);
  });
});
