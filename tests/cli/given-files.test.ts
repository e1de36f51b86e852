// Lines from files of notation on the command line: a voice of ABC, a bass part with its own fingering.
import { describe, expect, it } from 'vitest';
import { parseCommand, type FingerCommand } from '../../src/cli/arguments';
import { chartOutcome, fingerOutcome } from '../../src/cli/commands';
import { attributes, note, score } from '../pipeline/import/score';

const command = (...args: string[]): FingerCommand => {
  const read = parseCommand(['finger', 'line', ...args]);
  if (read.command !== 'finger') throw new Error('not a command to finger');
  return read;
};
const finger = (text: string, ...args: string[]): ReturnType<typeof fingerOutcome> =>
  fingerOutcome(new TextEncoder().encode(text), 'line', command(...args));

interface Json {
  readonly title: string;
  readonly tempo: number;
  readonly key: string;
  readonly notes: readonly { readonly midi: number; readonly tick: number; readonly finger: string }[];
}
const notesOf = (text: string): Json => JSON.parse(String(finger(text, '--format', 'json').output)) as Json;

describe('a voice of ABC', () => {
  const tune =
    'X:1\nT:Ours\nM:4/4\nL:1/4\nQ:1/4=96\nK:Bb clef=bass octave=-1\nB,, D, F,>E, | (3D,C,B,, F,,2- F,, |\n';

  it('is fingered with its pitches, lengths, key and tempo', () => {
    const { notes, key, tempo, title } = notesOf(tune);
    expect(title).toBe('Ours');
    expect(notes.map(({ midi, tick }) => [midi, tick])).toEqual([
      [22 + 12, 0],
      [38, 480],
      [41, 960],
      [39, 1680],
      [38, 1920],
      [36, 2240],
      [34, 2560],
      [29, 2880],
    ]);
    expect(key).toBe('Bb major');
    expect(tempo).toBe(96);
  });

  it('is told what its clef was read as, and not that it has no chords', () => {
    const { messages, exitCode } = finger(tune.replace(' octave=-1', ''));
    expect(exitCode).toBe(0);
    expect(messages.join('\n')).toContain('[line-octave]');
    expect(messages.join('\n')).not.toContain('score-no-chords');
  });

  it('without notes is refused in words', () => {
    const { messages, exitCode } = finger('X:1\nM:4/4\nK:C\n"C7"z8 |\n');
    expect(exitCode).toBe(1);
    expect(messages.at(-1)).toContain('no note');
  });
});

describe('a score without a part for the bass', () => {
  const duet = score([
    { measures: [`${attributes()}${note('E5', 8)}`], listed: '<part-name>Flute</part-name>' },
    {
      measures: [`${attributes()}${note('G2', 4)}${note('A2', 4)}`],
      listed: '<part-name>Guitar</part-name>',
    },
  ]);

  it('says which parts there are', () => {
    const { messages, exitCode, output } = finger(duet);
    expect([exitCode, output]).toEqual([1, '']);
    expect(messages[0]).toContain('its parts are 1 “Flute” (1 note), 2 “Guitar” (2 notes)');
  });

  it('gives the part that is asked for, or says that there is none', () => {
    const read = JSON.parse(String(finger(duet, '--track', '2', '--format', 'json').output)) as Json;
    expect(read.notes.map(({ midi }) => midi)).toEqual([43, 45]);
    const { messages, exitCode } = finger(duet, '--track', '5');
    expect(exitCode).toBe(1);
    expect(messages[0]).toContain('no notes in a part 5; its parts are 1 “Flute”');
  });

  it('is told to hold a line where it has a bass part and no chords', () => {
    const bass = score([
      { measures: [`${attributes()}${note('G2', 8)}`], listed: '<part-name>Bass</part-name>' },
    ]);
    const read = parseCommand(['chart', 'x']);
    if (read.command !== 'chart') throw new Error('no chart');
    const { messages, exitCode } = chartOutcome(new TextEncoder().encode(bass), 'x', read);
    expect(exitCode).toBe(1);
    expect(messages[0]).toContain('its bass part (1 notes) can be fingered as a line');
    expect(finger(bass).exitCode).toBe(0);
  });
});

describe('a bass part with its own fingering', () => {
  const technical = (content: string): string => `<notations><technical>${content}</technical></notations>`;
  const part = (...notes: readonly string[]): string =>
    score([{ measures: [`${attributes()}${notes.join('')}`], listed: '<part-name>Double Bass</part-name>' }]);

  it('has it beside ours, with a mark where they differ', () => {
    const text = part(
      note('E1', 2, technical('<fingering>0</fingering><string>4</string>')),
      note('F1', 2, technical('<fingering>T</fingering>')),
      note('G2', 4),
    );
    const lines = String(finger(text).output).split('\n');
    const at = lines.findIndex((line) => line.startsWith('Given with the line'));
    expect(lines[at]).toContain('1 of 2 as ours');
    expect(lines.slice(at + 1).map((line) => line.trim().split(/ {2,}/))).toEqual([
      ['beat', 'note', 'ours', 'given'],
      ['1.1', 'E1', 'E.0', 'E.0'],
      ['1.2', 'F1', 'E.1', 'T', '*'],
    ]);
  });

  it('has other fingers in brackets', () => {
    const two = technical('<fingering>1</fingering><fingering alternate="yes">4</fingering>');
    expect(String(finger(part(note('F1', 8, two))).output)).toMatch(/^1\.1 +F1 +E\.1 +1 \(4\)$/m);
  });

  it('none, no table; and none in the other formats', () => {
    expect(String(finger(part(note('F1', 8))).output)).not.toContain('Given with');
    const given = part(note('E1', 8, technical('<fingering>0</fingering>')));
    expect(() => JSON.parse(String(finger(given, '--format', 'json').output)) as unknown).not.toThrow();
  });
});
