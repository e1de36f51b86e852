import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Problem } from '../../../src/pipeline';
import { lineMarks, offsetsOf, stretchesOf } from '../../../src/ui/changes/marks';

const problem = (
  line: number,
  column: number,
  length: number,
  severity: Problem['severity'] = 'error',
): Problem => ({
  code: 'x',
  message: 'x',
  line,
  column,
  length,
  severity,
});

describe('marks in the chart text', () => {
  const text = 'Title: T\n| F7 | Hm7 |\n| C |';

  it('stand where the remark says', () => {
    const [from, to] = offsetsOf(text, problem(2, 8, 3));
    expect(text.slice(from, to)).toBe('Hm7');
    expect(stretchesOf(text, [problem(2, 8, 3)]).map((stretch) => [stretch.text, stretch.severity])).toEqual([
      ['Title: T\n| F7 | ', null],
      ['Hm7', 'error'],
      [' |\n| C |', null],
    ]);
  });

  it('show the graver remark where two overlap', () => {
    const stretches = stretchesOf(text, [problem(2, 3, 8, 'note'), problem(2, 8, 3, 'error')]);
    expect(stretches.map(({ severity }) => severity)).toEqual([null, 'note', 'error', null]);
    expect(lineMarks([problem(2, 3, 8, 'note'), problem(2, 8, 3, 'error')]).get(2)).toBe('error');
  });

  it('together are always the whole text, wherever a remark points', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom('a', '|', ' ', '\n', '♭') }),
        fc.array(
          fc.tuple(
            fc.integer({ min: -2, max: 9 }),
            fc.integer({ min: -2, max: 30 }),
            fc.integer({ min: 0, max: 30 }),
          ),
        ),
        (chart, places) => {
          const problems = places.map(([line, column, length]) => problem(line, column, length));
          expect(
            stretchesOf(chart, problems)
              .map((stretch) => stretch.text)
              .join(''),
          ).toBe(chart);
        },
      ),
    );
  });
});
