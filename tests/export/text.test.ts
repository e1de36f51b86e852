import { describe, expect, it } from 'vitest';
import { parseKey, seconds, barNumber } from '../../src/music';
import { toChat, toText } from '../../src/export';
import { handPosition } from '../../src/instrument';
import { anyLine } from './arbitrary';
import { makeTest, naming, type NoteSpec } from './build';
import fc from 'fast-check';

const quarter = (index: number, midi: number, more: Partial<NoteSpec> = {}): NoteSpec => ({
  tick: index * 480,
  ticks: 480,
  midi,
  ...more,
});

const table = (text: string): string[] => {
  const lines = text.split('\n');
  return lines.slice(
    lines.findIndex((line) => line.startsWith('Bar')),
    lines.findIndex((line) => line.startsWith('~')),
  );
};

describe('toChat', () => {
  it('gives a short line for every bar, with its signs told', () => {
    const { timeline, line } = makeTest(
      {
        title: 'Small\u0007',
        tempo: 132,
        bars: [
          {
            section: 'A',
            key: parseKey('F')!,
            chords: [
              [0, 'F7'],
              [960, 'Bb7'],
            ],
          },
          { key: parseKey('F')!, chords: [[0, 'Bb7']] },
        ],
      },
      [
        quarter(0, 29, { string: 4, finger: '1' }),
        quarter(1, 33, { string: 3, finger: '0' }),
        { tick: 960, ticks: 960, midi: 34, string: 4, finger: '1' },
        { tick: 1920, ticks: 960, midi: 34, string: 3, finger: '2' },
        { tick: 3120, ticks: 240, midi: 36, string: 3, finger: '4' },
      ],
    );
    expect(toChat(timeline, line, naming)).toBe(
      [
        'Small',
        'F major, 4/4, Swing, 132 bpm, 2 bars',
        'A:',
        '1 F7 Bb7: F1 E.1, A1 A.0, Bb1 E.1, ~',
        '2 Bb7: Bb1 A.2, ~, -, &C2 A.4, -',
        '(note string.finger; ~ held; - silent; & off the beat)',
        '',
      ].join('\n'),
    );
  });

  it('has no line that a narrow window would break into columns', () => {
    fc.assert(
      fc.property(anyLine, ({ timeline, line }) => {
        const lines = toChat(timeline, line, naming).split('\n');
        expect(lines.every((row) => row === row.trim() && !row.includes('  '))).toBe(true);
        expect(lines.filter((row) => /^\d+ /.test(row))).toHaveLength(timeline.bars.length);
      }),
      { seed: 20293, numRuns: 100 },
    );
  });
});

describe('toText', () => {
  it('sets a bar in a row: chords, notes with string and finger, positions, carries', () => {
    const { timeline, line } = makeTest(
      {
        title: 'Small',
        tempo: 132,
        bars: [
          {
            section: 'A',
            key: parseKey('F')!,
            chords: [
              [0, 'F7'],
              [960, 'Bb7'],
            ],
          },
          { key: parseKey('F')!, chords: [[0, 'Bb7']] },
        ],
      },
      [
        quarter(0, 29, { string: 4, finger: '1', position: 1 }),
        quarter(1, 33, { string: 3, finger: '0', carry: [1, 6], position: 6 }),
        quarter(2, 34, { string: 4, finger: '1', position: 6 }),
        quarter(3, 46, { string: 1, finger: '4', position: 1 }),
        { tick: 1920, ticks: 960, midi: 34, string: 3, finger: '2', position: 1 },
        { tick: 3120, ticks: 240, midi: 36, string: 3, finger: '4', position: 1 },
      ],
    );
    const text = toText(timeline, line, naming);
    expect(text.split('\n').slice(0, 3)).toEqual(['Small', 'F major, 4/4, Swing, 132 bpm, 2 bars', '']);
    expect(table(text)).toEqual([
      'Bar  Chords   Notes (string.finger)               Position    Carries',
      '',
      'A',
      '1    F7  Bb7  F1 E.1   A1 A.0   Bb1 E.1  Bb2 G.4  P1, P6, P1  P1→P6',
      '2    Bb7      Bb1 A.2  ~        -        &C2 A.4',
      '              -',
      '',
    ]);
  });

  it('tells under a bar what its notes do together and what they lead to', () => {
    const { timeline, line } = makeTest({ bars: [{}, {}] }, [
      quarter(0, 36),
      quarter(1, 43),
      quarter(2, 38),
      quarter(3, 35),
      quarter(4, 36),
      quarter(5, 38),
    ]);
    const devices = [
      { device: 'enclosure above first', notes: [2, 3], target: 4 },
      { device: 'semitone below', notes: [3], target: 4 },
      { device: 'step above', notes: [5], target: 6 },
      { device: 'neighbour', notes: [1], target: 2 },
    ] as const;
    const rows = table(toText(timeline, { ...line, devices }, naming));
    expect(rows[2]).toBe('     3-4 enclosure, above first → root');
    expect(rows[4]).toBe('     2 scale step above → the top');
  });

  it('numbers choruses when there are several', () => {
    const { timeline, line } = makeTest({ bars: [{ section: 'A' }, { section: 'A', chorus: 1 }] }, []);
    expect(table(toText(timeline, line, naming)).filter((row) => /^[AC]/.test(row))).toEqual([
      'Chorus 1: A',
      'Chorus 2: A',
    ]);
  });

  it('counts the beats of a pickup from its end', () => {
    const { timeline, line } = makeTest({ bars: [{ ticks: 720 }, {}] }, [
      { tick: 0, ticks: 240, midi: 36 },
      { tick: 240, ticks: 480, midi: 38 },
    ]);
    const row = table(toText(timeline, line, naming)).find((one) => one.startsWith('1'))!;
    expect(row).toContain('C2 A.1');
    expect(row).toContain('D2 D.0');
  });

  it('gives the hand report with its cautions', () => {
    const { timeline, line } = makeTest({ bars: [{}] }, [quarter(0, 29), quarter(1, 31)]);
    const move = {
      ...line.notes[1]!.move,
      kind: 'bare shift' as const,
      from: handPosition(1),
      to: handPosition(3),
    };
    const report = {
      ...line.report,
      hardestMove: {
        bar: barNumber(1),
        beat: 2,
        semitones: -2,
        bits: 3,
        needed: seconds(0.08),
        move: { ...move, pressure: 0.5 },
      },
    };
    const text = toText(timeline, { ...line, report }, naming);
    expect(text).toMatch(/^low +2 +100 %$/m);
    expect(text).toContain('Positions: P2 2 beats.');
    expect(text).toContain(
      '1 bare shift (1 with the same finger along one string), 2 covered shifts, 0 pivots',
    );
    expect(text).toContain('Longest stay: 2 beats in the low region from bar 1.');
    expect(text).toContain('bar 1, beat 2, a bare shift from P1 to P3 (2 semitones, 0 mm), easy.');
    expect(text).not.toMatch(/\d s\b/);
    expect(toText(timeline, { ...line, report }, { ...naming, isCalibrated: true })).toMatch(
      /about 0\.25 s of the\s0\.50 s there is\.$/m,
    );
    expect(text.replace(/\n/g, ' ')).toContain(
      'geometry, not the risk of injury. Stop when something hurts.',
    );
  });

  it('lets no title drive the terminal', () => {
    const { timeline, line } = makeTest(
      { title: '\u001b[2Ja\u202eb\u0007\nc', bars: [{ section: '\u009b31mX' }] },
      [],
    );
    const text = toText(timeline, line, naming);
    expect(text.replace(/\n/g, '')).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    expect(text.startsWith('[2Jabc\n')).toBe(true);
  });

  it('shows every note of any line once, in lines of at most 100 characters without trailing blanks', () => {
    fc.assert(
      fc.property(anyLine, ({ timeline, line }) => {
        const text = toText(timeline, line, naming);
        const rows = table(text).join('\n');
        expect(rows.match(/ [EADG]\.[0-4T]/g)?.length ?? 0).toBe(line.notes.length);
        for (const one of text.split('\n')) {
          expect(one.length).toBeLessThanOrEqual(100);
          expect(one).toBe(one.trimEnd());
        }
      }),
      { numRuns: 60 },
    );
  });
});
