import { describe, expect, it } from 'vitest';
import { defaultInstrument } from '../../../src/instrument';
import {
  carryArc,
  drawStrings,
  ebonyOutline,
  edgeBand,
  headOutline,
  shoulderOutline,
  stringThickness,
  tick,
} from '../../../src/ui/fingerboard/drawing';
import { drawHand, handShapes } from '../../../src/ui/fingerboard/hand';
import { boardOf, boards } from './boards';

describe('the drawing', () => {
  it('has numbers only, in every direction and in a box of no size', () => {
    for (const board of [...boards, boardOf({ width: 0, height: 0 })]) {
      const paths = [
        ebonyOutline(board),
        headOutline(board),
        shoulderOutline(board, 7),
        tick(board, 3),
        tick(board, 12),
        edgeBand(board, 1, 3, 7),
        carryArc(board, 4, 7).arc,
        ...drawStrings(board).flatMap((string) => [string.path, string.swing]),
        ...handShapes.map((shape) => drawHand(board, shape).outline),
      ];
      for (const path of paths) expect(path).toMatch(/^M[-\d. MLCQSAHVZ]+$/);
    }
  });

  // Mersenne's law: at one tension and material, thickness goes as one over the frequency; E to G is 15 semitones.
  it('makes the low E about 2.4 times as thick as the G', () => {
    const [g, , , e] = defaultInstrument.strings;
    expect(stringThickness(e!) / stringThickness(g!)).toBeCloseTo(2 ** (15 / 12), 6);
    const drawn = drawStrings(boardOf()).map((string) => string.thickness);
    expect(drawn).toEqual(drawn.toSorted((a, b) => a - b));
  });

  it('draws no arc for a carry that leads nowhere', () => {
    expect(carryArc(boardOf(), 5, 5)).toEqual({ arc: '', arrow: '' });
  });
});
