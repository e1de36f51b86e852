import { describe, expect, it } from 'vitest';
import {
  markCount,
  markOf,
  markOpacity,
  noteIndexOf,
  placesOn,
  routeReach,
  spotOf,
  threadPath,
} from '../../../src/ui/fingerboard/route';
import { boardOf } from './boards';
import { madeLine } from './made-line';

describe('the route', () => {
  it('gives each note one mark, and one mark alone another note at a step', () => {
    const shown = (current: number): number[] =>
      Array.from({ length: markCount }, (_, slot) => noteIndexOf(slot, current));
    for (let current = 0; current < 40; current++) {
      expect(new Set(shown(current)).size).toBe(markCount);
      const changed = shown(current + 1).filter((index, slot) => index !== shown(current)[slot]);
      expect(changed).toEqual([current + 1 + routeReach.ahead]);
    }
  });

  it('grows fainter ahead, fades behind, and is gone where a mark is used again', () => {
    const ahead = [0, 1, 2, 3, 4, 5, 6].map(markOpacity);
    expect(ahead).toEqual(ahead.toSorted((a, b) => b - a));
    expect(ahead.at(-1)).toBeGreaterThan(0.2);
    expect(markOpacity(-1)).toBeGreaterThan(markOpacity(-2));
    expect(markOpacity(-3)).toBe(0);
    expect(markOpacity(7)).toBe(0);
  });

  it('lays a note and the thread from the note before, once for every step it is seen at', () => {
    const board = boardOf();
    const placeOf = placesOn(board, madeLine);
    const [first, second] = [madeLine.notes[0]!, madeLine.notes[1]!];
    const [from, to] = [spotOf(board, first), spotOf(board, second)];
    expect(placeOf(second)).toEqual({
      mark: `translate(${to.x}px, ${to.y}px)`,
      thread: `translate(${from.x}px, ${from.y}px)`,
      path: threadPath(from, to),
    });
    expect(placeOf(second)).toBe(placeOf(second));
    expect(placeOf(first).path).toBe('');
  });

  it('shows no mark before the beginning or after the end', () => {
    const marks = Array.from({ length: markCount }, (_, slot) => markOf(madeLine, slot, 15));
    expect(
      marks
        .filter((mark) => mark !== null)
        .map((mark) => mark.note.index)
        .toSorted((a, b) => a - b),
    ).toEqual([12, 13, 14, 15]);
  });

  it('bows to and fro on different sides, and draws nothing from a spot to itself', () => {
    const control = (path: string): number => Number(/Q[-\d.]+ ([-\d.]+)/.exec(path)?.[1]);
    expect(control(threadPath({ x: 0, y: 0 }, { x: 100, y: 0 }))).toBeLessThan(0);
    expect(control(threadPath({ x: 100, y: 0 }, { x: 0, y: 0 }))).toBeGreaterThan(0);
    expect(threadPath({ x: 5, y: 5 }, { x: 5, y: 5 })).toBe('');
  });
});
