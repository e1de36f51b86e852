// What the runners' JSON reports say: counts, and each failure by name with the first line of its message.

const COLOUR = new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, 'g');

/** The first lines of a message, enough of them to name what differed, without colours and blank lines. */
export function firstLines(message, count = 8) {
  return String(message)
    .replace(COLOUR, '')
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .slice(0, count)
    .join(' / ')
    .slice(0, 800);
}

/** Of the unit runner. @returns {{passed: number, failed: number, skipped: number, failures: string[]}} */
export function readUnitReport(json) {
  const failures = [];
  for (const file of json.testResults) {
    const failed = file.assertionResults.filter((test) => test.status === 'failed');
    for (const test of failed)
      failures.push(`${test.fullName}: ${firstLines(test.failureMessages[0] ?? '')}`);
    if (file.status === 'failed' && failed.length === 0) {
      failures.push(`${file.name}: ${firstLines(file.message)}`);
    }
  }
  return {
    passed: json.numPassedTests,
    failed: json.numFailedTests,
    skipped: json.numPendingTests,
    failures,
  };
}

function* specsOf(suite) {
  yield* suite.specs ?? [];
  for (const inner of suite.suites ?? []) yield* specsOf(inner);
}

/** Of the browser runner. A test that needed a second try counts as failed: it would fail somebody. */
export function readBrowserReport(json) {
  const failures = [];
  for (const suite of json.suites) {
    for (const spec of specsOf(suite)) {
      for (const test of spec.tests) {
        if (test.status !== 'unexpected' && test.status !== 'flaky') continue;
        const error = test.results.find((result) => result.error)?.error;
        failures.push(
          `${spec.file}:${spec.line} ${spec.title}: ${firstLines(error?.message ?? test.status)}`,
        );
      }
    }
  }
  return {
    passed: json.stats.expected,
    failed: json.stats.unexpected + json.stats.flaky,
    skipped: json.stats.skipped,
    failures,
  };
}
