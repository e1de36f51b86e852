// The two labels of a note against a table of our own.
import { describe, expect, it } from 'vitest';
import { midiOf, noteName } from '../../../../src/music';
import { labelsOf } from '../../../../src/pipeline';
import { readTable } from '../../../table';
import { played, timelineOf } from './made';

const midi = (text: string): number =>
  midiOf({ name: noteName(text.slice(0, -1)), octave: Number(text.at(-1)) });

describe('labels', () => {
  const table = readTable('checks/labels.tsv');

  it('are a table of five chords of each of twelve kinds', () => {
    expect(table.rows).toHaveLength(60);
  });

  it.each(
    table.rows.map(
      (row) =>
        [
          row.at('chord'),
          row.at('line'),
          row.at('next'),
          row.at('target'),
          row.at('labels').split(' | '),
        ] as const,
    ),
  )('%s: %s into %s', (chord, line, next, target, expected) => {
    const timeline = timelineOf(`| ${chord} | ${next} |`);
    const labels = labelsOf(played(timeline, [...line.split(' '), target].map(midi)));
    expect(labels.slice(0, 4).map(({ label }) => label)).toEqual(expected);
    expect(labels[4]!.degree).toMatchObject({ place: 'chord', number: 1 });
  });

  it('has no column that nobody reads', () => {
    table.expectAllRead();
  });
});

describe('several labels', () => {
  it('are kept: over C the B into C is major seventh and a semitone below', () => {
    const last = labelsOf(played(timelineOf('| Cmaj7 | Cmaj7 |'), [36, 35, 36, 35, 36]))[3]!;
    expect(last.degree.name).toBe('major seventh');
    expect(last.label).toBe('semitone below');
  });

  it('give a target that is no chord note no approach', () => {
    const [, , , last] = labelsOf(played(timelineOf('| C7 | F7 |'), [36, 40, 43, 41, 42]));
    expect(last!.devices.map(({ device }) => device)).toEqual([]);
    const [, , , into] = labelsOf(played(timelineOf('| C7 | F7 |'), [36, 40, 43, 40, 41]));
    expect(into!.device).not.toBeNull();
  });

  it('tell the bass of a slash with what it is over the root', () => {
    const [bass] = labelsOf(played(timelineOf('| F7/A | Bb7 |'), [33]));
    expect(bass!.degree).toMatchObject({ place: 'bass', number: 3, short: 'bass', name: 'major third' });
    const [foreign] = labelsOf(played(timelineOf('| F/G | C |'), [31]));
    expect(foreign!.degree).toMatchObject({ place: 'bass', number: null, name: 'ninth' });
  });

  it('tell a pedal under changes, and no pedal where the chord stays', () => {
    const over = labelsOf(played(timelineOf('| F7 Bb7 | Gm7 C7 |'), [29, 29, 29, 29]));
    expect(over[1]!.devices.map(({ device }) => device)).toContain('pedal');
    const still = labelsOf(played(timelineOf('| F7 | F7 |'), [29, 29, 29, 29]));
    expect(still.flatMap(({ devices }) => devices.map(({ device }) => device))).not.toContain('pedal');
  });
});
