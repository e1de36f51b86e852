import { describe, expect, it } from 'vitest';
import { readBrowserReport, readUnitReport } from '../../src/build/reports.mjs';

describe('what a runner reports', () => {
  it('names each failed unit test with its first lines, and a file that did not load', () => {
    const report = readUnitReport({
      numPassedTests: 3,
      numFailedTests: 1,
      numPendingTests: 2,
      testResults: [
        {
          name: 'a.test.ts',
          status: 'failed',
          message: '',
          assertionResults: [
            { status: 'passed', fullName: 'a holds', failureMessages: [] },
            {
              status: 'failed',
              fullName: 'a falls',
              failureMessages: ['\u001b[31mexpected 1\u001b[39m\n\n  to be 2\n at x'],
            },
          ],
        },
        { name: 'b.test.ts', status: 'failed', message: 'no such file', assertionResults: [] },
      ],
    });
    expect(report).toEqual({
      passed: 3,
      failed: 1,
      skipped: 2,
      failures: ['a falls: expected 1 / to be 2 / at x', 'b.test.ts: no such file'],
    });
  });

  it('counts a browser test that needed a second try as failed, and names it with its place', () => {
    const spec = (title: string, status: string, results: object[]) => ({
      title,
      file: 'c.spec.ts',
      line: 7,
      tests: [{ status, results }],
    });
    const report = readBrowserReport({
      stats: { expected: 1, unexpected: 1, flaky: 1, skipped: 0 },
      suites: [
        {
          specs: [spec('holds', 'expected', [{}])],
          suites: [
            {
              specs: [
                spec('falls', 'unexpected', [{ error: { message: 'not there' } }]),
                spec('wavers', 'flaky', [{ error: { message: 'late' } }, {}]),
              ],
            },
          ],
        },
      ],
    });
    expect(report).toEqual({
      passed: 1,
      failed: 2,
      skipped: 0,
      failures: ['c.spec.ts:7 falls: not there', 'c.spec.ts:7 wavers: late'],
    });
  });

  it('shows of a comparison what was there, not only that something was', () => {
    const message =
      'expect(received).toEqual(expected) // deep equality\n\n- Expected  - 1\n+ Received  + 3\n\n- Array []\n+ Array [\n+   "a name too many",\n+ ]';
    const report = readBrowserReport({
      stats: { expected: 0, unexpected: 1, flaky: 0, skipped: 0 },
      suites: [
        {
          specs: [
            {
              title: 'falls',
              file: 'c.spec.ts',
              line: 7,
              tests: [{ status: 'unexpected', results: [{ error: { message } }] }],
            },
          ],
        },
      ],
    });
    expect(report.failures[0]).toContain('a name too many');
  });
});
