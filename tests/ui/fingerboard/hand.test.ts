import { describe, expect, it } from 'vitest';
import { defaultHand } from '../../../src/instrument';
import { drawReach, handMatrix, reachMatrix, reachOfShape, shapeOf } from '../../../src/ui/fingerboard/hand';
import { boardOf, boards } from './boards';

describe('the hand', () => {
  it('covers a whole tone closed, a minor third extended, and from the thumb to the third finger at the octave', () => {
    expect(reachOfShape('closed')).toEqual([0, 2]);
    expect(reachOfShape('extended')).toEqual([0, 3]);
    expect(reachOfShape('thumb')).toEqual([-2, 2]);
  });

  it('keeps the shape it would have there while an open string rings', () => {
    expect(shapeOf({ frame: 'open', position: 7 })).toBe('closed');
    expect(shapeOf({ frame: 'open', position: 12 })).toBe('thumb');
    expect(shapeOf({ frame: 'extended', position: 7 })).toBe('extended');
  });

  it('drawn once at the nut, lies with every finger on its stop in every position', () => {
    for (const board of boards) {
      for (let position = 1; position <= 12; position++) {
        const [a, b, , , e, f] = handMatrix(board, position);
        for (const offset of [0, 1, 2, 3]) {
          const atNut = board.along(offset);
          const finger = board.place(board.along(position + offset), 0);
          expect(e + a * atNut).toBeCloseTo(finger.x, 6);
          expect(f + b * atNut).toBeCloseTo(finger.y, 6);
        }
      }
    }
  });

  it('shows a reach in millimetres that does not shrink up the neck', () => {
    const board = boardOf();
    // 0.73 and 0.92 of the flat span (Parncutt et al. 1997, finger pair 2-5).
    expect(drawReach(board, defaultHand).comfortable / board.scale).toBeCloseTo(109.5, 6);
    expect(drawReach(board, defaultHand).most / board.scale).toBeCloseTo(138, 6);
    const stretchOf = (position: number): number => reachMatrix(board, position)[0];
    expect(stretchOf(1)).toBeCloseTo(stretchOf(12), 6);
    expect(stretchOf(1)).toBeCloseTo(1, 2);
  });
});
