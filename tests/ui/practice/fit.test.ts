import { describe, expect, it } from 'vitest';
import { barsPerSystem } from '../../../src/notation/spacing';
import { boardZoom, fitBars, fitLine } from '../../../src/ui/practice/fit';

describe('two bars on the stand', () => {
  it('lie side by side in a wide room and one under the other in a narrow one', () => {
    const wide = fitBars(1400, 400, 4);
    expect(wide.zoom).toBeGreaterThan(2.4);
    expect(wide.width * wide.zoom).toBeGreaterThan(1390);
    const phone = fitBars(366, 460, 4);
    expect(phone.zoom).toBeGreaterThan(1.4);
    expect(phone.width).toBeLessThan(260);
  });

  it('keep inside the room, whatever its shape and however many notes they have', () => {
    for (const densest of [1, 4, 6, 8]) {
      for (let width = 300; width <= 2000; width += 50) {
        for (let height = 150; height <= 1200; height += 50) {
          const fit = fitBars(width, height, densest);
          const notes = Math.max(4, densest);
          // The width is in whole pixels of the sheet.
          const lines = fit.width > 98 + 2 * 30 * notes ? 1 : 2;
          expect(fit.width * fit.zoom).toBeLessThan(width + 0.01);
          // In the smallest rooms the notes stay readable, and what does not fit is cut off.
          if (fit.zoom > 0.9) expect(lines * 138 * fit.zoom).toBeLessThanOrEqual(height + 1);
        }
      }
    }
  });
});

describe('a line on the projector', () => {
  it('has as many bars as can be read from far: the smallest words a thirtieth of the screen, or one bar', () => {
    expect(fitLine(1392, 631, 4, 900)).toMatchObject({ bars: 2 });
    expect(fitLine(2500, 631, 4, 900)).toMatchObject({ bars: 4 });
    expect(fitLine(366, 651, 4, 844)).toMatchObject({ bars: 1 });
    for (let width = 300; width <= 3000; width += 50) {
      const { bars, zoom } = fitLine(width, 631, 6, 900);
      if (bars > 1) expect(11 * zoom).toBeGreaterThanOrEqual(30);
    }
  });

  it('is one line, and keeps inside the room', () => {
    for (const densest of [1, 4, 6, 8]) {
      for (let width = 350; width <= 3000; width += 50) {
        for (let height = 200; height <= 1200; height += 50) {
          const fit = fitLine(width, height, densest, height + 250);
          expect(fit.width * fit.zoom).toBeLessThan(width + 0.01);
          expect(barsPerSystem(fit.width)).toBeGreaterThanOrEqual(fit.bars);
          if (fit.zoom > 0.9) expect(165 * fit.zoom).toBeLessThanOrEqual(height + 1);
        }
      }
    }
  });
});

describe('the board on the stand', () => {
  it('is enlarged as far as its room allows, and never made smaller', () => {
    expect(boardZoom(1400, 300)).toBeCloseTo(300 / 145, 6);
    expect(boardZoom(4000, 4000)).toBe(2.6);
    expect(boardZoom(200, 90)).toBe(1);
  });
});
