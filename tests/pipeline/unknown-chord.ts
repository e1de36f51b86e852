// A problem as a chart gives it: a chord nobody knows, in its second line.
import type { Problem } from '../../src/pipeline';

export const unknownChord: Problem = {
  code: 'unknown-chord',
  severity: 'error',
  message: 'No chord is called "Hm".',
  line: 2,
  column: 3,
  length: 2,
};
