import { describe, expect, it } from 'vitest';
import { handPosition, regionOf, type StringNumber } from '../../src/instrument';
import { soundingMidi, barNumber, numberOfBar, barIndex, type BarNumber } from '../../src/music';
import { keptOf, barMarks, type KeptBar, type WalkRequest } from '../../src/pipeline';
import { placeKept } from '../../src/pipeline/problem/kept-bars';
import { giveUp, newStudy } from '../../src/state/document';
import { chartText, requestFor, walked, walkKept, type Walked } from './request';

const blues = chartText('back-stairs-blues.txt');
const free: Partial<WalkRequest> = { take: { seed: 7, temperature: 1 } };

const shape = ({ line }: Pick<Walked, 'line'>) =>
  line.notes.map(({ bar, beat, ticks, placement }) => {
    const { midi, string, stop, finger, position } = placement;
    return { bar, beat, ticks, midi, string, stop, finger, position };
  });
const barsOf = (result: Pick<Walked, 'line'>, ...bars: number[]) =>
  shape(result).filter(({ bar }) => bars.includes(bar));
const kept = ({ line, timeline }: Walked, locked: readonly BarNumber[] = []): readonly KeptBar[] =>
  keptOf(line, timeline, locked);
/** As an edit leaves it: every bar with what it was made for. */
const marked = (result: Walked, locked: readonly BarNumber[] = []): readonly KeptBar[] => {
  const marks = barMarks(result.timeline.bars, result.timeline.feel, false);
  return kept(result, locked).map((bar, index) => ({ ...bar, mark: marks[index]! }));
};

describe('notes that were shown', () => {
  it.each([0, 0.4, 1])('stay to the fingering whatever the seed and variety (density %d)', (density) => {
    for (const feel of ['swing', 'two-feel'] as const) {
      const wish = { feel, density };
      const first = walked(blues, { ...free, ...wish });
      for (const take of [
        { seed: 99, temperature: 1 },
        { seed: 7, temperature: 0 },
      ]) {
        const again = walked(blues, { ...wish, take, kept: kept(first) });
        expect(shape(again)).toEqual(shape(first));
        expect(again.keeping).toEqual({ locked: [], lostLocks: 0, lostNotes: 0 });
      }
    }
  });

  it('stay through a change of tempo and with more choruses', () => {
    const first = walked(blues, free);
    expect(shape(walked(blues, { ...free, tempo: 200 as never, kept: kept(first) }))).toEqual(shape(first));
    const longer = walked(blues, { ...free, choruses: 2, kept: kept(first) });
    // The last note leads into another bar now.
    expect(shape(longer).slice(0, 47)).toEqual(shape(first).slice(0, 47));
    expect(longer.line.notes).toHaveLength(96);
  });

  it('go on over an edit at no variety where they are locked alone, along with their bars', () => {
    const take = { seed: 1, temperature: 0 };
    const first = walked('Key: F\n| F7 | Bb7 | F7 | C7 |', free);
    const held = marked(first, [barNumber(3)]);
    const longer = 'Key: F\n| F7 | Bb7 | Bdim7 | F7 | C7 |';
    const again = walked(longer, { take, kept: held });
    expect(barsOf(again, 4)).toEqual(barsOf(first, 3).map((note) => ({ ...note, bar: barNumber(4) })));
    expect(again.keeping).toMatchObject({ locked: [4], lostLocks: 0 });
    const alone: KeptBar = { bar: barNumber(4), hold: 'locked', notes: held[2]!.notes };
    expect(shape(again)).toEqual(shape(walked(longer, { take, kept: [alone] })));
    expect(shape(again)).not.toEqual(shape(walked(longer, { ...free, kept: held })));
    const bare = marked(first).map((bar) => ({ ...bar, hold: 'free' as const }));
    expect(shape(walked(longer, { take, kept: bare }))).toEqual(shape(walked(longer, { take })));
  });

  it('stay but near a chord that was changed', () => {
    const before = walked('Key: F\n| F7 | Bb7 | F7 | C7 | Dm7 | G7 | Gm7 | C7 |', free);
    const after = walked('Key: F\n| F7 | Bb7 | F7 | C7 | Dbmaj7 | G7 | Gm7 | C7 |', {
      ...free,
      kept: marked(before),
    });
    expect(barsOf(after, 1, 2, 3, 6, 7, 8)).toEqual(barsOf(before, 1, 2, 3, 6, 7, 8));
    expect(barsOf(after, 4).slice(0, 3)).toEqual(barsOf(before, 4).slice(0, 3));
    expect(barsOf(after, 5)).not.toEqual(barsOf(before, 5));
  });

  it('move along when bars are put in', () => {
    const before = walked('Key: F\n| F7 | Bb7 | Am7 | D7 | Gm7 | C7 |', free);
    const after = walked('Key: F\n| F7 | Bb7 | Bdim7 | Am7 | D7 | Gm7 | C7 |', {
      ...free,
      kept: marked(before, [barNumber(5)]),
    });
    const moved = barsOf(before, 3, 4, 5, 6).map((note) => ({ ...note, bar: note.bar + 1 }));
    expect(barsOf(after, 4, 5, 6, 7)).toEqual(moved);
    expect(after.keeping?.locked).toEqual([6]);
  });

  it('give way near a pin, and the pin holds', () => {
    const before = walked(blues, free);
    const pin = { bar: barNumber(5), beat: 3, midi: soundingMidi(50) };
    const after = walked(blues, { ...free, kept: marked(before), pins: [pin] });
    expect(barsOf(after, 5)[2]?.midi).toBe(50);
    expect(barsOf(after, 1, 2, 3, 6, 7, 8, 9)).toEqual(barsOf(before, 1, 2, 3, 6, 7, 8, 9));
  });

  it('a pin on what is played already changes nothing', () => {
    const before = walked(blues, free);
    const { placement } = before.line.notes[20]!;
    const { midi, string, stop, finger, position } = placement;
    const { bar, beat } = before.line.notes[20]!;
    const pins = [{ bar, beat, midi, string, stop, finger, position }];
    expect(shape(walked(blues, { ...free, kept: marked(before), pins }))).toEqual(shape(before));
  });

  it('give way to a limit and to the longest stay only where they break it', () => {
    const before = walked(blues, free);
    const barred = before.line.notes.find(({ placement }) => placement.finger !== '0')!.placement.position;
    const limits = { barredPositions: [barred] };
    const after = walked(blues, { ...free, kept: marked(before), limits });
    expect(shape(after).every(({ position }) => position !== barred)).toBe(true);
    const low = walked(blues, {
      ...free,
      kept: kept(before),
      limits: { barredPositions: [], stay: { region: 'low', beats: 1 } },
    });
    const isLow = (index: number): boolean => {
      const { placement } = low.line.notes[index]!;
      return placement.finger !== '0' && regionOf(placement.position) === 'low';
    };
    for (let index = 1; index < low.line.notes.length; index++)
      expect(isLow(index) && isLow(index - 1)).toBe(false);
  });

  it('that are broken are left out, never a throw', () => {
    const note = {
      at: 0,
      ticks: 480,
      midi: soundingMidi(90),
      string: 9 as StringNumber,
      stop: -4,
      finger: 'T' as const,
      position: handPosition(12),
    };
    const broken: KeptBar[] = [
      { bar: barNumber(1), notes: [note, note, { ...note, at: -5 }] },
      { bar: barNumber(2), hold: 'locked', notes: [{ ...note, at: 9_999 }] },
      { bar: barNumber(77), hold: 'locked', notes: [] },
    ];
    const result = walkKept(requestFor(blues, { ...free, kept: broken }));
    expect(result.line?.notes).toHaveLength(48);
    expect(result.keeping?.lostNotes).toBe(4);
    expect(result.keeping?.lostLocks).toBe(1);
  });
});

describe('the place of kept bars in a form', () => {
  const bars = (...marks: string[]): KeptBar[] =>
    marks.map((mark, index) => ({ bar: numberOfBar(barIndex(index)), mark, notes: [] }));
  const places = (kept: readonly KeptBar[], ...marks: string[]) =>
    [...placeKept(kept, marks).held]
      .map(([index, { bar }]) => [bar, index + 1])
      .sort((a, b) => a[0]! - b[0]!);

  it('is where they were when as many bars as before are written', () => {
    expect(places(bars('a', 'b', 'c'), 'a', 'x', 'c')).toEqual([
      [1, 1],
      [3, 3],
    ]);
    expect([...placeKept(bars('a', 'b', 'c'), ['a', 'x', 'c']).loose]).toEqual([0]);
  });

  it('is found again by the longest run in common when bars came or went', () => {
    expect(places(bars('a', 'b', 'c', 'd'), 'a', 'c', 'd')).toEqual([
      [1, 1],
      [3, 2],
      [4, 3],
    ]);
    expect(places(bars('a', 'b', 'a', 'b'), 'x', 'a', 'b', 'y', 'a', 'b')).toEqual([
      [1, 2],
      [2, 3],
      [3, 5],
      [4, 6],
    ]);
    expect(places(bars('a', 'b'), 'x', 'y', 'z')).toEqual([]);
  });

  it('stays with a locked bar whose chord has changed', () => {
    const kept = bars('a', 'b').map((bar) => ({ ...bar, hold: 'locked' as const }));
    expect(places(kept, 'a', 'x')).toEqual([
      [1, 1],
      [2, 2],
    ]);
  });
});

describe('bars drawn anew', () => {
  it('change, and nothing else does; the counter draws another, and the same one again', () => {
    const before = walked(blues, free);
    for (const temperature of [0, 1]) {
      const anew = kept(before).map((bar) => (bar.bar === 4 ? { ...bar, hold: 'free' as const } : bar));
      const drawn = [1, 2, 3, 4, 5, 6].map((redraws) =>
        walked(blues, { take: { seed: 7, temperature, redraws }, kept: anew }),
      );
      const others = [1, 2, 3, 5, 6, 7, 8, 9, 10, 11, 12];
      for (const one of drawn) {
        expect(barsOf(one, ...others)).toEqual(barsOf(before, ...others));
        const midis = (result: Walked): number[] => barsOf(result, 4).map(({ midi }) => midi);
        expect(midis(one)).not.toEqual(midis(before));
      }
      expect(new Set(drawn.map((one) => JSON.stringify(barsOf(one, 4)))).size).toBeGreaterThan(1);
      const again = walked(blues, { take: { seed: 7, temperature, redraws: 2 }, kept: anew });
      expect(shape(again)).toEqual(shape(drawn[1]!));
    }
  });
});

describe('locked bars', () => {
  it('stay in every take', () => {
    const before = walked(blues, free);
    const locks = kept(before, [2, 9].map(barNumber)).filter(({ hold }) => hold === 'locked');
    for (const seed of [1, 2, 3]) {
      const take = walked(blues, { take: { seed, temperature: 1 }, kept: locks });
      expect(barsOf(take, 2, 9)).toEqual(barsOf(before, 2, 9));
      expect(take.keeping?.locked).toEqual([2, 9]);
    }
  });

  it('that a limit forbids are named, and freeing one gives a line', () => {
    const before = walked(blues, free);
    const { bar, placement } = before.line.notes.find((note) => note.placement.finger !== '0')!;
    const limits = { barredPositions: [placement.position] };
    const locks = marked(before, [bar]);
    const result = walkKept(requestFor(blues, { ...free, kept: locks, limits }));
    expect(result.line).toBeNull();
    expect(result.impossible?.conflict.map(({ words }) => words)).toContain(`bar ${bar} held`);
    expect(result.impossible?.conflict.map(({ words }) => words)).not.toContain('the notes shown before');
    expect(result.impossible?.cheapest).not.toBeNull();
    expect(walked(blues, { ...free, kept: marked(before), limits }).line.notes).toHaveLength(48);
  });

  it('that moved along are named where they stand and let go of where they were kept', () => {
    const before = walked('Key: F\n| F7 | Bb7 | Am7 | D7 | Gm7 | C7 |', free);
    const text = 'Key: F\n| F7 | Bb7 | Bdim7 | Am7 | D7 | Gm7 | C7 |';
    const { placement } = before.line.notes.find(({ bar }) => bar === 5)!;
    const pin = { bar: barNumber(6), beat: 1, midi: soundingMidi(placement.midi + 3) };
    const kept = marked(before, [barNumber(5)]);
    const { impossible } = walkKept(requestFor(text, { ...free, kept, pins: [pin] }));
    const held = impossible?.conflict.find(({ words }) => words === 'bar 6 held');
    expect(held?.source).toMatchObject({ limit: 'kept bar', bar: 5 });
    const freed = giveUp(newStudy(text, { kept }), held!).kept;
    expect(barsOf(walked(text, { ...free, kept: freed, pins: [pin] }), 6)[0]?.midi).toBe(pin.midi);
  });
});

describe('pins off the beat', () => {
  it('keep a note of their own whatever the take', () => {
    const pins = [{ bar: barNumber(3), beat: 2.5, midi: soundingMidi(45) }];
    for (const seed of [1, 2]) {
      for (const density of [0, 0.5]) {
        const { line } = walked(blues, { take: { seed, temperature: 1 }, density, pins: pins });
        expect(line.notes.find(({ bar, beat }) => bar === 3 && beat === 2.5)?.midi).toBe(45);
      }
    }
  });
});

describe('a final ending', () => {
  it('owes nothing for a return to the top', () => {
    const features = (ending: 'round' | 'final'): string[] =>
      walked(blues, { ending })
        .line.notes.at(-1)!
        .items.map(({ feature }) => feature);
    expect(features('round')).toContain('return to the top');
    expect(features('final')).not.toContain('return to the top');
  });
});
