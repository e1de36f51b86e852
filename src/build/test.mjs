// `npm test`: installs what is missing and runs every check; the last line says how many passed and failed.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ensureChromium } from './chromium.mjs';
import { findFirefox, findWebKit, missingEngines } from './engines.mjs';
import { ensureInstalled, run, runBeside, tool } from './install.mjs';
import { readBrowserReport, readUnitReport } from './reports.mjs';

ensureInstalled();
const chromium = ensureChromium();
const reports = mkdtempSync(join(tmpdir(), 'ramble-test-'));
const total = { passed: 0, failed: 0, skipped: 0 };
const failures = [];

function count(passed, failed, skipped = 0) {
  total.passed += passed;
  total.failed += failed;
  total.skipped += skipped;
}

function heading(text) {
  console.log(`\n== ${text}`);
}

function told(name, passed) {
  console.log(`${passed ? 'passed' : 'FAILED'}: ${name}`);
  count(passed ? 1 : 0, passed ? 0 : 1);
  if (!passed) failures.push(name);
  return passed;
}

/** A step that is one check: it passes when the command ends with 0. */
function check(name, command, args) {
  heading(name);
  return told(name, run(command, args) === 0);
}

/** Checks one after another, beside other work; what they say is told together, when they have ended. */
async function checksBeside(checks) {
  const results = [];
  for (const [name, command, args] of checks) results.push([name, await runBeside(command, args)]);
  return () => {
    for (const [name, { status, output }] of results) {
      heading(name);
      if (output !== '') console.log(output.trimEnd());
      told(name, status === 0);
    }
  };
}

/** Reads a runner's JSON report; a run that left none counts as one failure, as does one that failed for no counted test. */
function suite(name, command, args, env, report, read) {
  heading(name);
  const status = run(command, args, { env: { ...process.env, ...env } });
  let result = { passed: 0, failed: 0, skipped: 0, failures: [] };
  try {
    result = read(JSON.parse(readFileSync(report, 'utf8')));
  } catch {
    console.log(`FAILED: ${name} left no report`);
  }
  if (result.failed === 0 && (status !== 0 || result.passed === 0)) {
    result.failed = 1;
    if (result.failures.length === 0) failures.push(`${name}: ended with ${status}, for no test of its own`);
  }
  failures.push(...result.failures.map((failure) => `${name}: ${failure}`));
  count(result.passed, result.failed, result.skipped);
}

// Each has a thread of its own: beside each other they leave no core idle.
const typed = checksBeside([
  [
    'types',
    tool('svelte-check'),
    ['--tsconfig', './tsconfig.json', '--fail-on-warnings', '--output', 'human'],
  ],
  ['types of the pure core, without a page', tool('tsc'), ['--project', 'src/build/tsconfig.core.json']],
  ['format', tool('prettier'), ['--check', '--log-level', 'warn', 'src', 'tests']],
]);
const linted = checksBeside([
  ['lint', tool('eslint'), ['--config', 'src/build/eslint.config.js', '--max-warnings', '0', 'src', 'tests']],
]);
for (const tell of [await typed, await linted]) tell();

const unitReport = join(reports, 'unit.json');
suite(
  'unit, property, golden, architecture, documents',
  tool('vitest'),
  [
    'run',
    '--config',
    'src/build/vitest.config.ts',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${unitReport}`,
  ],
  {},
  unitReport,
  readUnitReport,
);

const built = check('build', tool('vite'), [
  'build',
  '--config',
  'src/build/vite.config.ts',
  '--logLevel',
  'warn',
]);

if (built && chromium) {
  const browserReport = join(reports, 'browser.json');
  suite(
    'browser',
    tool('playwright'),
    ['test', '--config', 'src/build/playwright.config.ts', '--reporter=list,json'],
    { CHROMIUM: chromium, PLAYWRIGHT_JSON_OUTPUT_NAME: browserReport },
    browserReport,
    readBrowserReport,
  );
} else {
  told('the browser tests could not run', false);
}

// Other engines are a matter of what is there: nothing is installed for them, and what is left out is said.
if (built && (findFirefox() || findWebKit())) {
  const engineReport = join(reports, 'engines.json');
  suite(
    'other engines',
    tool('vitest'),
    [
      'run',
      '--config',
      'src/build/engines.config.ts',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${engineReport}`,
    ],
    {},
    engineReport,
    readUnitReport,
  );
}
if (missingEngines() !== '') console.log(`\n${missingEngines()}`);

rmSync(reports, { recursive: true, force: true });
// Once more at the end, where a long output is cut last.
for (const failure of failures) console.log(`FAILED: ${failure}`);
const skipped = total.skipped > 0 ? `, ${total.skipped} skipped` : '';
console.log(`\n${total.passed} passed, ${total.failed} failed${skipped}`);
process.exitCode = total.failed === 0 ? 0 : 1;
