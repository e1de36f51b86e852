// The command line as it is run.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'ramble-cli-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

interface Run {
  readonly status: number | null;
  readonly out: string;
  readonly error: string;
}

function ramble(args: readonly string[], input = ''): Run {
  const run = spawnSync(process.execPath, ['src/build/ramble.mjs', ...args], {
    cwd: root,
    input,
    encoding: 'utf8',
    env: { ...process.env, INIT_CWD: root },
  });
  return { status: run.status, out: run.stdout, error: run.stderr };
}

const blues = 'shared/charts/back-stairs-blues.txt';

describe('ramble walk', () => {
  it('gives JSON with every field a program needs, costs adding up', () => {
    const { status, out, error } = ramble(['walk', blues, '--format', 'json', '--avoid', 'half,II']);
    expect(error).toBe('');
    expect(status).toBe(0);
    const result = JSON.parse(out) as {
      title: string;
      key: string;
      tempo: number;
      cost: number;
      notes: Record<string, unknown>[];
      report: object;
      problems: unknown[];
    };
    expect(result).toMatchObject({ title: 'Back Stairs Blues', key: 'F major', tempo: 132, problems: [] });
    expect(result.notes).toHaveLength(48);
    for (const note of result.notes) {
      for (const field of 'bar beat tick ticks midi name chord role string stop finger position positionSemitone cost'.split(
        ' ',
      )) {
        expect(note).toHaveProperty(field);
      }
      expect(['half', 'II']).not.toContain(note.position);
      expect(note.string).toMatch(/^(I|II|III|IV)$/);
    }
    expect(result.notes.reduce((sum, note) => sum + (note.cost as number), 0)).toBe(result.cost);
  });

  it('reads standard input and writes a file', () => {
    const file = join(folder, 'line.mid');
    const { status, out } = ramble(
      ['walk', '-', '--format', 'midi', '--out', file],
      'Key: C\n| C6 | Dm7 G7 |\n',
    );
    expect(status).toBe(0);
    expect(out).toBe('');
    expect(readFileSync(file).subarray(0, 4).toString('latin1')).toBe('MThd');
  });

  it('explains on request: prices, elbow room, what an open string buys', () => {
    const { out } = ramble(['walk', blues, '--format', 'json', '--explain']);
    const { notes } = JSON.parse(out) as {
      notes: { price: number; elbowRoom: number; alternatives: { price: number }[] }[];
    };
    for (const note of notes) {
      expect(note.price).toBeGreaterThanOrEqual(0);
      expect(note.elbowRoom).toBeGreaterThanOrEqual(1);
      expect(note.alternatives[0]!.price).toBeLessThanOrEqual(note.price);
    }
  });

  it('says what is wrong with its line and column, and still plays the rest', () => {
    const { status, error, out } = ramble(['walk', '-'], 'Key: C\n| C6 | Qm7 | G7 |\n');
    expect(status).toBe(0);
    expect(error).toMatch(/^input:2:8: error: /);
    expect(out).toContain('G7');
  });

  it('ends with 1 when nothing could be made, with 2 for wrong usage', () => {
    expect(ramble(['walk', '-'], '').status).toBe(1);
    expect(ramble(['walk', join(folder, 'missing.txt')]).status).toBe(1);
    expect(ramble(['walk', blues, '--pin', '3.1=E1@I'])).toMatchObject({ status: 1, out: '' });
    expect(ramble(['walk', blues, '--tempo', 'fast']).status).toBe(2);
    expect(ramble([]).status).toBe(2);
    expect(ramble(['--help']).status).toBe(0);
  });
});

describe('ramble chart', () => {
  it('prints text that reads back as the same chart, and JSON in playing order', () => {
    const text = 'Key: F\n|: F7 |1 C7 :|2 F6 ||\n';
    const printed = ramble(['chart', '-'], text);
    expect(printed.status).toBe(0);
    expect(ramble(['chart', '-'], printed.out).out).toBe(printed.out);
    const { bars } = JSON.parse(ramble(['chart', '-', '--format', 'json'], text).out) as {
      bars: { number: number; chords: { symbol: string; tones: string[] }[] }[];
    };
    expect(bars.map((bar) => bar.chords.map((chord) => chord.symbol).join())).toEqual([
      'F7',
      'C7',
      'F7',
      'F6',
    ]);
    expect(bars[0]!.chords[0]!.tones).toEqual(['F', 'A', 'C', 'Eb']);
  });
});

describe('files of other kinds', () => {
  it.each(['musicxml', 'abc'])('a chart goes to %s and comes back the same', (kind) => {
    const file = join(folder, `chart.${kind}`);
    expect(ramble(['chart', blues, '--to', kind, '--out', file]).status).toBe(0);
    expect(ramble(['chart', file]).out).toBe(ramble(['chart', blues]).out);
    expect(ramble(['walk', file, '--seed', '3']).out).toBe(ramble(['walk', blues, '--seed', '3']).out);
  });

  it('that are no charts are refused with a sentence', () => {
    const bomb = '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bbbb">]><a>&b;</a>';
    const { status, error, out } = ramble(['walk', '-'], bomb);
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(error).toMatch(/^input:\d+:\d+: error: \S/);
  });
});

describe('ramble finger', () => {
  it('fingers a B flat scale without half position, the hand never leaving III½ (common practice, no source)', () => {
    const { status, out } = ramble([
      'finger',
      'Bb1 C2 D2 Eb2 F2 G2 A2 Bb2',
      '--avoid',
      'half',
      '--format',
      'json',
    ]);
    expect(status).toBe(0);
    const { notes } = JSON.parse(out) as { notes: { position: string; name: string }[] };
    expect(notes.map((note) => note.name)).toEqual(['Bb1', 'C2', 'D2', 'Eb2', 'F2', 'G2', 'A2', 'Bb2']);
    expect(new Set(notes.map((note) => note.position))).toEqual(new Set(['III½']));
  });

  it('says where a note cannot be read', () => {
    expect(ramble(['finger', 'Bb1 X9 D2']).error).toMatch(/^line:1:5: error: /);
  });
});
