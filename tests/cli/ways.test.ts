// ramble ways: prices of every approach and device into a note.
import { describe, expect, it } from 'vitest';
import { parseCommand } from '../../src/cli/arguments';
import type { WaysCommand } from '../../src/cli/lesson-arguments';
import { waysOutcome } from '../../src/cli/ways';

function command(...args: string[]): WaysCommand {
  const read = parseCommand(['ways', 'chart', ...args]);
  if (read.command !== 'ways') throw new Error('not the command');
  return read;
}
const chart = new TextEncoder().encode('Key: F\n| F7 | Bb7 |\n');
const waysOf = (...args: string[]): ReturnType<typeof waysOutcome> =>
  waysOutcome(chart, 'chart', command(...args));

interface Json {
  readonly optimum: number;
  readonly ways: readonly {
    readonly device: string;
    readonly price: number | null;
    readonly why: string | null;
    readonly notes: readonly { readonly midi: number; readonly string: string; readonly position: string }[];
  }[];
}

describe('ramble ways', () => {
  it('gives JSON, cheapest first, with notes as they are held', () => {
    const { ways } = JSON.parse(String(waysOf('--into', '2.1', '--format', 'json').output)) as Json;
    const prices = ways.map(({ price }) => price ?? Infinity);
    expect(prices).toEqual(prices.toSorted((a, b) => a - b));
    const below = ways.find(({ device }) => device === 'semitone below')!;
    expect(below.notes).toHaveLength(2);
    expect(below.notes[1]!.midi - below.notes[0]!.midi).toBe(1);
    expect(below.notes[0]!.string).toMatch(/^(I|II|III|IV)$/);
  });

  it('tells the same as text, and why what is missing is', () => {
    const text = String(waysOf('--into', '2.1').output);
    expect(text).toContain('Into bar 2, beat 1, its root; prices against the best line:');
    expect(text).toMatch(/^ {1,2}\+\d+\.\d\d {2}semitone below: \S+ \S+ → Bb\d \S+; hand /m);
    expect(String(waysOf('--into', '2.1', '--on', 'third').output)).toMatch(/– {2}from the fifth: its notes/);
  });

  it('gives the best so many when asked, and says what a price is', () => {
    const best = JSON.parse(
      String(waysOf('--into', '2.1', '--best', '5', '--format', 'json').output),
    ) as Json & {
      readonly price: string;
    };
    expect(best.ways).toHaveLength(5);
    expect(best.ways.every(({ price }) => price !== null)).toBe(true);
    expect(best.price).toMatch(/costs more than the best line/);
    expect(
      String(waysOf('--into', '2.1', '--best', '2').output)
        .trim()
        .split('\n'),
    ).toHaveLength(3);
    expect(() => command('--into', '2.1', '--best', '0')).toThrow('--best');
  });

  it('says what is wrong with the place', () => {
    expect(waysOf('--into', '1.3')).toMatchObject({ exitCode: 1, output: '' });
    expect(waysOf('--into', '7.1').messages.join()).toContain('no note begins there');
    expect(() => command()).toThrow('--into takes a bar and a beat');
    expect(() => command('--into', '2.1', '--on', 'ninth')).toThrow('root, third, fifth, seventh');
  });
});
