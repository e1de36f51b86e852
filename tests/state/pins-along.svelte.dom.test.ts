// Pins where bars come and go before them: by hand, and on a desk whose lines are really worked out.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barIndex, barNumber, numberOfBar } from '../../src/music';
import { walk, type KeptBar, type Pin } from '../../src/pipeline';
import { newStudy, type Study } from '../../src/state/document';
import { pinsAlong } from '../../src/state/pins-along';
import { desk } from './desk';

const barsOf = (...marks: string[]): KeptBar[] =>
  marks.map((mark, index) => ({ bar: numberOfBar(barIndex(index)), mark, notes: [] }));
const pinsAt = (...bars: number[]): Pin[] =>
  bars.map((bar) => ({ bar: barNumber(bar), beat: 2, role: 'root' }));
const along = (pins: Pin[], kept: readonly KeptBar[], ...marks: string[]): number[] | null =>
  pinsAlong({ pins, kept }, marks)?.pins.map(({ bar }) => bar) ?? null;

describe('pins', () => {
  it('lie as they should where nothing moved, and where nothing is known of the bars', () => {
    const kept = barsOf('a', 'b', 'c');
    expect(along(pinsAt(1, 3), kept, 'a', 'b', 'c')).toBeNull();
    expect(along(pinsAt(2), kept, 'a', 'x', 'c')).toBeNull();
    expect(along(pinsAt(2), [], 'x', 'a', 'b')).toBeNull();
    expect(along([], kept, 'x', 'a', 'b', 'c')).toBeNull();
    const unmarked = kept.map(({ bar, notes }) => ({ bar, notes }));
    expect(along(pinsAt(2), unmarked, 'x', 'a', 'b', 'c')).toBeNull();
    // Behind what moved.
    expect(along(pinsAt(1), kept, 'a', 'x', 'b', 'c')).toBeNull();
  });

  it('go along with their bars, and come back', () => {
    expect(along(pinsAt(1, 2, 3), barsOf('a', 'b', 'c'), 'a', 'x', 'b', 'c')).toEqual([1, 3, 4]);
    expect(along(pinsAt(1, 3, 4), barsOf('a', 'x', 'b', 'c'), 'a', 'b', 'c')).toEqual([1, 2, 3]);
  });

  it('go with a bar whose chord has changed as far as the bar before it, and away with one taken out', () => {
    expect(along(pinsAt(3), barsOf('a', 'b', 'c', 'd'), 'x', 'a', 'b', 'y', 'd')).toEqual([4]);
    expect(along(pinsAt(2, 3), barsOf('a', 'b', 'c'), 'a', 'c')).toEqual([2]);
  });

  it('go away with bars taken out between two that stayed, and never into another pin’s bar', () => {
    const kept = barsOf('a', 'b', 'c', 'd', 'e', 'f');
    // Bars 2 to 4 became none; the last one's chord changed.
    expect(along(pinsAt(3, 6), kept, 'a', 'e', 'x')).toEqual([3]);
    const bars = fc.array(fc.constantFrom('a', 'b', 'c', 'd'), { minLength: 1, maxLength: 9 });
    fc.assert(
      fc.property(bars, bars, (before, after) => {
        const found = along(pinsAt(...before.map((_, index) => index + 1)), barsOf(...before), ...after);
        for (const [place, bar] of (found ?? []).entries())
          expect(bar).toBeGreaterThan(found![place - 1] ?? 0);
      }),
    );
  });

  it('say which locked bars are gone, and number those that are kept as they are now', () => {
    const kept = barsOf('a', 'b', 'c').map((bar) => ({ ...bar, hold: 'locked' as const }));
    const found = pinsAlong({ pins: pinsAt(3), kept }, ['a', 'c']);
    expect(found?.lostLocks).toBe(1);
    expect(found?.kept.map(({ bar, mark }) => [bar, mark])).toEqual([
      [1, 'a'],
      [2, 'c'],
    ]);
    expect(pinsAlong({ pins: found!.pins, kept: found!.kept }, ['a', 'c'])).toBeNull();
  });
});

const chartOf = (bars: string): string => `Key: F\n\n| ${bars} |`;
const before = chartOf('F7 | Bb7 | Am7 | D7 | Gm7 | C7');
const after = chartOf('F7 | Bb7 | Bdim7 | Am7 | D7 | Gm7 | C7');

/** A desk whose asks are really worked out when told. */
function working(study: Study) {
  const { studio, source, kept } = desk(study);
  const answer = (): void => {
    const ask = source.asks.at(-1)!;
    source.onanswer({ ask, answer: walk(ask), isLatest: true });
  };
  /** The bars in which the line has what is pinned: an open string on the third beat. */
  const openBars = (): number[] =>
    studio
      .shown!.line.notes.filter(({ beat, placement }) => beat === 3 && placement.finger === '0')
      .map(({ bar }) => bar);
  return { studio, source, kept, answer, openBars };
}
const pin: Pin = { bar: barNumber(5), beat: 3, role: 'open' };

describe('pins on the desk', () => {
  it('go along when a bar is put in before them, before the line is shown, and back with an undo', () => {
    const { studio, source, kept, answer, openBars } = working(newStudy(before, { pins: [pin] }));
    answer();
    expect(openBars()).toContain(5);
    const was = studio.shown;
    studio.setChartText(after);
    answer();
    // Asked for anew: what was found with the pin in another bar is not shown.
    expect(studio.shown).toBe(was);
    expect(studio.isSolving).toBe(true);
    expect(source.asks.at(-1)?.pins?.map(({ bar }) => bar)).toEqual([6]);
    answer();
    expect(studio.isSolving).toBe(false);
    expect(studio.study.pins).toEqual([{ ...pin, bar: 6 }]);
    expect(openBars()).toContain(6);
    expect(kept.at(-1)?.pins).toEqual([{ ...pin, bar: 6 }]);
    studio.undo();
    expect(studio.study.pins).toEqual([pin]);
    answer();
    expect(studio.study.pins).toEqual([pin]);
    expect(openBars()).toContain(5);
  });

  it('go along at no variety, too, as locked bars do', () => {
    const { studio, answer, openBars } = working(newStudy(before, { pins: [pin], temperature: 0 }));
    answer();
    studio.toggleLocked({ from: barIndex(4), to: barIndex(4) });
    answer();
    const notesOf = (bar: number): readonly number[] =>
      studio.shown!.line.notes.filter((note) => note.bar === bar).map(({ placement }) => placement.midi);
    const locked = notesOf(5);
    studio.setChartText(after);
    answer();
    answer();
    expect(studio.study.pins).toEqual([{ ...pin, bar: 6 }]);
    expect(openBars()).toContain(6);
    expect(studio.locked).toEqual([6]);
    expect(notesOf(6)).toEqual(locked);
  });

  it('are where they were once a bar is typed and taken back', () => {
    const { studio, answer } = working(newStudy(before, { pins: [pin] }));
    answer();
    for (const text of [after, chartOf('F7 | Bb7 | Am7 | D7 | C7'), before]) {
      studio.setChartText(text);
      answer();
      if (studio.isSolving) answer();
    }
    expect(studio.isSolving).toBe(false);
    expect(studio.study.pins).toEqual([pin]);
  });

  it('stay where the player moved on: a pin set after the chart is one of the new chart', () => {
    const { studio, answer } = working(newStudy(before, { pins: [pin] }));
    answer();
    studio.setChartText(after);
    answer();
    answer();
    studio.pin(0);
    answer();
    expect(studio.study.pins.map(({ bar }) => bar)).toEqual([6, 1]);
  });
});
