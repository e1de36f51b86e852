// ramble devices: labels of a take, and of a line of one's own over changes.
import { describe, expect, it } from 'vitest';
import { parseCommand } from '../../src/cli/arguments';
import { devicesOutcome } from '../../src/cli/devices';
import type { DevicesCommand } from '../../src/cli/lesson-arguments';
import type { Outcome } from '../../src/cli/outcome';
import { chartText, walked } from '../pipeline/request';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

function command(...args: string[]): DevicesCommand {
  const read = parseCommand(['devices', 'input', ...args]);
  if (read.command !== 'devices') throw new Error('not the command');
  return read;
}

interface Json {
  readonly notes: readonly {
    readonly bar: number;
    readonly beat: number;
    readonly name: string;
    readonly chord: string;
    readonly label: string;
    readonly degree: { readonly place: string; readonly number: number | null; readonly name: string };
  }[];
  readonly devices: readonly {
    readonly device: string;
    readonly notes: readonly number[];
    readonly target: number | null;
    readonly into: string | null;
  }[];
  readonly problems: readonly { readonly code: string }[];
}
const read = ({ output }: Outcome): Json => JSON.parse(String(output)) as Json;

const changes = { input: bytes('Key: F\n| F7 | Bb7 |\n'), name: 'chart' };
const over = (line: string, ...args: string[]): Outcome =>
  devicesOutcome(bytes(line), 'line', changes, command('--changes', 'chart', ...args));

describe('ramble devices', () => {
  it('labels the take that walk gives', () => {
    const text = chartText('back-stairs-blues.txt');
    const { notes, devices } = read(
      devicesOutcome(bytes(text), 'chart', null, command('--seed', '3', '--format', 'json')),
    );
    const { line } = walked(text, { take: { seed: 3, temperature: 1 } });
    expect(notes.map(({ label }) => label)).toEqual(line.notes.map(({ label }) => label));
    expect(devices.map(({ device, target }) => [device, target])).toEqual(
      line.devices.map(({ device, target }) => [device, target]),
    );
  });

  it('labels a line of one’s own over changes, bar by bar', () => {
    const outcome = over('F1 A1 C2 A1 | Bb1 D2 Ab1 E1', '--format', 'json');
    expect(outcome.exitCode).toBe(0);
    const { notes, devices } = read(outcome);
    expect(notes.map(({ bar, beat, chord }) => [bar, beat, chord])).toEqual([
      [1, 1, 'F7'],
      [1, 2, 'F7'],
      [1, 3, 'F7'],
      [1, 4, 'F7'],
      [2, 1, 'Bb7'],
      [2, 2, 'Bb7'],
      [2, 3, 'Bb7'],
      [2, 4, 'Bb7'],
    ]);
    expect(notes.map(({ label }) => label).slice(0, 5)).toEqual([
      'root',
      'third',
      'enclosure, above first',
      'enclosure, above first',
      'root',
    ]);
    expect(notes[7]!.degree).toMatchObject({ place: 'outside', number: null });
    expect(devices).toContainEqual(
      expect.objectContaining({ device: 'semitone below', notes: [3], target: 4, into: 'root' }),
    );
  });

  it('goes round the changes as often as the line is long', () => {
    const bars = 'F1 A1 C2 A1 | Bb1 D2 F2 G1 | Gb1 A1 C2 Eb2';
    const { notes, devices } = read(over(bars, '--format', 'json'));
    expect(notes).toHaveLength(12);
    expect(notes[8]).toMatchObject({ bar: 3, chord: 'F7' });
    // G flat is no note of F7: what leads there is no approach.
    expect(devices.filter(({ target }) => target === 8)).toEqual([]);
  });

  it('tells the same in a table, with what each bar’s devices lead to', () => {
    const text = String(over('F1 A1 C2 A1 | Bb1').output);
    expect(text).toMatch(/^Beat +Note +Chord +Degree +Devices$/m);
    expect(text).toMatch(/^1\.4 +A1 +F7 +major third +enclosure, above first, semitone below$/m);
    expect(text).toContain('Bar 1: 3-4 enclosure, above first → root.');
  });

  it('says what is wrong with the line, and with no line at all', () => {
    const { messages } = over('F1 X9 C2');
    expect(messages.join()).toContain('line:1:4: error');
    expect(over('nothing')).toMatchObject({ exitCode: 1, output: '' });
    const silent = devicesOutcome(
      bytes('F1'),
      'line',
      { input: bytes('Key: F\n'), name: 'chart' },
      command(),
    );
    expect(silent.exitCode).toBe(1);
  });

  it('counts several takes together, beside people’s figures', () => {
    const text = bytes('Key: F\n| F7 | Bb7 |\n');
    const counted = devicesOutcome(text, 'chart', null, command('--takes', '1,3', '--format', 'json'));
    const { takes, devices } = JSON.parse(String(counted.output)) as {
      readonly takes: readonly number[];
      readonly devices: readonly {
        readonly device: string;
        readonly count: number;
        readonly compared: readonly { readonly of: string; readonly people: number; readonly own: number }[];
      }[];
    };
    expect(takes).toEqual([1, 3]);
    const each = takes.map((seed) =>
      read(devicesOutcome(text, 'chart', null, command('--seed', `${seed}`, '--format', 'json'))),
    );
    for (const { device, count } of devices) {
      const found = each.flatMap((one) => one.devices.filter((span) => span.device === device));
      expect([device, count]).toEqual([device, found.length]);
    }
    const below = devices.find(({ device }) => device === 'semitone below')!;
    expect(below.compared[0]).toMatchObject({ of: 'bar line', people: 0.243 });
    const told = String(devicesOutcome(text, 'chart', null, command('--takes', '1-2')).output);
    expect(told).toMatch(/^2 takes$/m);
    expect(told).toMatch(/^semitone below +\d+ +\d+ % +24 % /m);
    for (const wrong of ['0-', '5-1', '1-900', 'x'])
      expect(() => command('--takes', wrong)).toThrow('--takes takes numbers of takes');
    expect(() => command('--takes', '1', '--changes', 'chart')).toThrow('--takes counts takes of a chart');
  });

  it('refuses what it does not know', () => {
    expect(() => parseCommand(['devices'])).toThrow('Give a file');
    expect(() => parseCommand(['devices', 'x', '--format', 'midi'])).toThrow('text, json');
  });
});
