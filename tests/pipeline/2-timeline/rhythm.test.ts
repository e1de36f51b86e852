import { describe, expect, it } from 'vitest';
import { feels, parseMeter, type Feel } from '../../../src/pipeline/1-chart';
import { feelOffsets, strengthAt } from '../../../src/pipeline/2-timeline/rhythm';

const meter = (text: string): NonNullable<ReturnType<typeof parseMeter>> => parseMeter(text)!;

describe('when the bass plays', () => {
  // Common practice, no source.
  it.each<[Feel, string, readonly number[]]>([
    ['swing', '4/4', [0, 480, 960, 1440]],
    ['straight', '4/4', [0, 480, 960, 1440]],
    ['ballad', '4/4', [0, 480, 960, 1440]],
    ['two-feel', '4/4', [0, 960]],
    ['bossa', '4/4', [0, 720, 960, 1680]],
    ['bossa', '3/4', [0, 480, 960]],
    ['waltz', '3/4', [0, 480, 960]],
    ['two-feel', '3/4', [0]],
    ['swing', '2/4', [0, 480]],
    ['swing', '5/4', [0, 480, 960, 1440, 1920]],
    ['two-feel', '5/4', [0, 1440]],
    ['two-feel', '6/4', [0, 1440]],
    ['two-feel', '7/4', [0, 960, 1920]],
    ['swing', '6/8', [0, 720]],
    ['swing', '12/8', [0, 720, 1440, 2160]],
    ['two-feel', '12/8', [0, 1440]],
    ['swing', '7/8', [0, 480, 960]],
    ['swing', '2/2', [0, 480, 960, 1440]],
  ])('%s in %s', (feel, text, offsets) => {
    expect(feelOffsets(feel, meter(text))).toEqual(offsets);
  });

  it('always begins with the downbeat and stays inside the bar', () => {
    for (const feel of feels) {
      for (const unit of [2, 4, 8]) {
        for (let beats = 1; beats <= 16; beats += 1) {
          const offsets = feelOffsets(feel, meter(`${beats}/${unit}`));
          expect(offsets[0]).toBe(0);
          expect(offsets.every(Number.isInteger)).toBe(true);
          expect([...offsets].sort((a, b) => a - b)).toEqual(offsets);
          expect(offsets.at(-1)).toBeLessThan((beats * 1920) / unit);
        }
      }
    }
  });
});

describe('how strong a moment is', () => {
  it.each([
    ['4/4', [3, 1, 2, 1]],
    ['3/4', [3, 1, 1]],
    ['2/4', [3, 1]],
    ['5/4', [3, 1, 1, 2, 1]],
    ['6/4', [3, 1, 1, 2, 1, 1]],
    ['7/4', [3, 1, 2, 1, 2, 1, 1]],
  ])('%s', (text, strengths) => {
    expect(strengths.map((_, beat) => strengthAt(beat * 480, meter(text)))).toEqual(strengths);
  });

  it('is nothing between beats', () => {
    expect([720, 1680, 1].map((offset) => strengthAt(offset, meter('4/4')))).toEqual([0, 0, 0]);
    expect([480, 240].map((offset) => strengthAt(offset, meter('12/8')))).toEqual([0, 0]);
    expect(strengthAt(1440, meter('12/8'))).toBe(2);
  });
});
