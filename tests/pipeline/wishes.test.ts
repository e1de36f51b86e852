import { describe, expect, it } from 'vitest';
import { namedPositions, type StringNumber } from '../../src/instrument';
import { soundingMidi, barNumber } from '../../src/music';
import { type Limits, type Pin } from '../../src/pipeline';
import { chartText, positions, requestFor, walked, walkKept } from './request';

const blues = chartText('back-stairs-blues.txt');
const noLimits: Limits = { barredPositions: [] };

describe('pins', () => {
  const pin = (wish: Omit<Pin, 'bar' | 'beat'>): Pin => ({ bar: barNumber(3), beat: 2, ...wish });

  it.each([
    ['a note', pin({ midi: soundingMidi(41) }), (note) => note.midi === 41],
    ['a note outside chord and scale', pin({ midi: soundingMidi(42) }), (note) => note.midi === 42],
    ['a string', pin({ string: 4 as StringNumber }), (note) => note.placement.string === 4],
    ['a finger', pin({ finger: '2' }), (note) => note.placement.finger === '2'],
    ['a position', pin({ position: positions('VI')[0]! }), (note) => note.placement.position === 10],
    ['the root', pin({ role: 'root' }), (note) => note.midi % 12 === 5],
    ['an open string', pin({ role: 'open' }), (note) => note.placement.stop === 0],
    ['a place on the board', pin({ string: 2 as StringNumber, stop: 6 }), (note) => note.midi === 44],
  ] satisfies [
    string,
    Pin,
    (note: {
      midi: number;
      placement: { string: number; finger: string; position: number; stop: number };
    }) => boolean,
  ][])('hold %s at its beat, in the best line and in takes', (_what, wish, holds) => {
    for (const temperature of [0, 0.8]) {
      const { line } = walked(blues, { pins: [wish], take: { seed: 3, temperature } });
      const note = line.notes.find((one) => one.bar === 3 && one.beat === 2)!;
      expect(holds(note)).toBe(true);
      expect(line.notes).toHaveLength(48);
    }
  });

  it('cost the line what they take from it, never less than nothing', () => {
    const free = walked(blues).line.cost;
    expect(walked(blues, { pins: [pin({ midi: soundingMidi(54) })] }).line.cost).toBeGreaterThan(free);
  });
});

describe('limits', () => {
  const everyNote = (limits: Partial<Limits>): ReturnType<typeof walked>['line']['notes'] =>
    walked(blues, { choruses: 2, limits: { ...noLimits, ...limits }, take: { seed: 5, temperature: 0.8 } })
      .line.notes;

  it('keep to range, strings, stops and the relaxed span', () => {
    for (const note of everyNote({ lowest: soundingMidi(33), highest: soundingMidi(48) })) {
      expect(note.midi).toBeGreaterThanOrEqual(33);
      expect(note.midi).toBeLessThanOrEqual(48);
    }
    for (const note of everyNote({ barredStrings: [4 as StringNumber] }))
      expect(note.placement.string).not.toBe(4);
    for (const note of everyNote({ highestStop: 5 })) expect(note.placement.stop).toBeLessThanOrEqual(5);
    for (const note of everyNote({ relaxedOnly: true })) expect(note.placement.frame).not.toBe('extended');
  });

  it('keep the hand from staying low for longer than asked, exactly', () => {
    for (const beats of [1, 2, 4]) {
      for (const seed of [1, 2, 3]) {
        const { line } = walked(blues, {
          choruses: 2,
          limits: { ...noLimits, stay: { region: 'low', beats } },
          take: { seed, temperature: 1 },
        });
        let run = 0;
        for (const note of line.notes) {
          const isLow = note.placement.finger !== '0' && note.placement.position <= 2;
          run = isLow ? run + 1 : 0;
          expect(run).toBeLessThanOrEqual(beats);
        }
      }
    }
  });

  it('a longest stay costs nothing when the best line keeps to it anyway, and never makes a line cheaper', () => {
    const free = walked(blues).line;
    const stays = [2, 3, 4, 64].map(
      (beats) => walked(blues, { limits: { ...noLimits, stay: { region: 'low', beats } } }).line,
    );
    for (const line of stays) expect(line.cost).toBeGreaterThanOrEqual(free.cost);
    expect(stays.at(-1)!.cost).toBe(free.cost);
    for (let index = 1; index < stays.length; index++)
      expect(stays[index]!.cost).toBeLessThanOrEqual(stays[index - 1]!.cost);
  });
});

describe('wishes that cannot hold together', () => {
  it('are named in words, the smallest set of them, with the cheapest to give up', () => {
    const result = walkKept(
      requestFor(blues, {
        limits: {
          ...noLimits,
          barredPositions: positions('half'),
          barredStrings: [1 as StringNumber],
          highest: soundingMidi(40),
        },
        pins: [
          { bar: barNumber(2), beat: 1, midi: soundingMidi(46) },
          { bar: barNumber(5), beat: 3, role: 'root' },
        ],
      }),
    );
    expect(result.line).toBeNull();
    const { conflict, cheapest, message } = result.impossible!;
    expect(conflict.map((wish) => wish.words).sort()).toEqual(['bar 2, beat 1: Bb2', 'nothing above E2']);
    expect(cheapest).not.toBeNull();
    expect(message).toContain('bar 2, beat 1');
    expect(message).not.toContain('half barred');
  });

  it('each member of the set is needed: without it the rest can hold', () => {
    const pins: Pin[] = [
      { bar: barNumber(1), beat: 1, string: 4 as StringNumber, finger: '0', midi: soundingMidi(30) },
    ];
    const result = walkKept(requestFor(blues, { pins }));
    expect(result.line).toBeNull();
    expect(result.impossible!.conflict).toHaveLength(1);
    expect(walkKept(requestFor(blues)).line).not.toBeNull();
  });

  it('all positions barred: freeing one is offered and works', () => {
    const result = walkKept(requestFor(blues, { limits: { barredPositions: namedPositions } }));
    const { freeing } = result.impossible!;
    expect(freeing.length).toBeGreaterThan(0);
    const barredPositions = namedPositions.filter((one) => one !== freeing[0]);
    expect(walkKept(requestFor(blues, { limits: { barredPositions } })).line).not.toBeNull();
  });
});

describe('shares of a region', () => {
  const share = (changes: Parameters<typeof walked>[1]): number => {
    const { report } = walked(chartText('wet-gravel-blues.txt'), changes).line;
    return report.byRegion.find((row) => row.region === 'middle')!.share;
  };

  it.each([0, 0.7])('are kept, at no more cost than needed (temperature %d)', (temperature) => {
    const take = { seed: 4, temperature };
    expect(share({ take })).toBeGreaterThan(0.2);
    for (const most of [0.2, 0.1]) {
      const limits = { barredPositions: [], shares: [{ region: 'middle' as const, share: most }] };
      expect(share({ take, limits })).toBeLessThanOrEqual(most + 1e-9);
    }
  });

  it('that no line can keep are said to be impossible', () => {
    const pins: Pin[] = [{ bar: barNumber(1), beat: 1, position: positions('III')[0]!, finger: '1' }];
    const limits = { barredPositions: [], shares: [{ region: 'middle' as const, share: 0 }] };
    const result = walkKept(requestFor(blues, { limits, pins }));
    expect(result.line).toBeNull();
    expect(result.impossible?.message).toMatch(/0 % in the middle region/);
  });
});

describe('variety', () => {
  it('leaves no bar figure twice in a row, nor a chorus like the one before', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const { line, timeline } = walked('Key: D\n| D6 | D6 | D6 | D6 |\n', {
        choruses: 8,
        take: { seed, temperature: 0.4 },
      });
      const figures = timeline.bars.map((bar) =>
        line.notes
          .filter((note) => note.bar === bar.index + 1)
          .map((note) => note.midi)
          .join(),
      );
      for (let bar = 1; bar < figures.length; bar++) expect(figures[bar]).not.toBe(figures[bar - 1]);
      for (let bar = 4; bar < figures.length; bar++) expect(figures[bar]).not.toBe(figures[bar - 4]);
    }
  });
});
