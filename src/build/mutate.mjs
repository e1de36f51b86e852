// `npm run mutate -- AREA…`: changes one operator or literal of an area after another and tells which changes no test notices.
// Ends with an error where fewer than the floor are noticed. AREA:NAME takes one file of an area (features:shifting); without a
// name every area comes, one after another; that takes hours.
import { Stryker } from '@stryker-mutator/core';
import { dirname, relative } from 'node:path';

/** Changes that tests must notice, in hundredths. */
const floor = 85;

const pipeline = 'src/pipeline';
/** Files of an area, and the tests that are to notice its changes, quick ones first. */
const areas = {
  history: { files: ['src/state/history.ts'], tests: ['tests/state/history.test.ts'] },
  features: {
    files: [`${pipeline}/5-line/features/*.ts`],
    tests: [
      ...['hand-terms', 'melody-terms', 'wished-terms', 'sums', 'moves', 'report'].map(
        (name) => `tests/pipeline/5-line/${name}.test.ts`,
      ),
      'tests/pipeline/5-line/grammar/*.test.ts',
    ],
  },
  // Without the tests of whole tunes and of the kernel: a change that no other notices takes them a minute.
  solver: {
    files: [`${pipeline}/4-solver/*.ts`],
    tests: [
      ...[
        'lattice',
        'boltzmann',
        'weights',
        'chain',
        'matching',
        'filtering',
        'wide-messages',
        'checkpointing',
        'look-ahead-entropy',
        'best-otherwise',
        'sampler',
      ],
      ...['messages', 'min-marginals', 'block-draw', 'solved-cache'],
    ].map((name) => `tests/pipeline/4-solver/${name}.test.ts`),
  },
  instrument: { files: ['src/instrument/*.ts'], tests: ['tests/instrument/*.test.ts'] },
  schedule: {
    files: [
      'src/playback/schedule.ts',
      'src/playback/comping.ts',
      'src/playback/lean.ts',
      'src/playback/lookup.ts',
    ],
    tests: ['schedule', 'comping', 'comp-hits', 'schedule-band', 'lean', 'lookup', 'swing'].map(
      (name) => `tests/playback/${name}.test.ts`,
    ),
  },
  chords: {
    files: ['lexer', 'grammar', 'parse', 'characters'].map((name) => `src/music/chord/${name}.ts`),
    tests: [
      ...['lexer', 'grammar', 'around', 'parse', 'spellings'].map(
        (name) => `tests/music/chord/${name}.test.ts`,
      ),
      'tests/music/chord/*.test.ts',
    ],
  },
  musicxml: {
    files: ['src/export/musicxml*.ts', `${pipeline}/1-chart/import/musicxml*.ts`],
    tests: [
      ...['whole-document', 'musicxml', 'lead-sheet'].map((name) => `tests/export/${name}.test.ts`),
      ...['pieces', 'pitches', 'measures', 'words', 'form', 'chords', 'line', 'faults'].map(
        (name) => `tests/pipeline/import/musicxml-${name}.test.ts`,
      ),
      ...['parts', 'heading'].map((name) => `tests/pipeline/import/musicxml-${name}.test.ts`),
      'tests/checks/musicxml.test.ts',
      'tests/export/round-trip-line.test.ts',
      'tests/pipeline/import/round-trip.test.ts',
    ],
  },
};

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !(name.split(':')[0] in areas));
if (unknown.length > 0) {
  console.error(`No area is named ${unknown.join(', ')}. Areas: ${Object.keys(areas).join(', ')}.`);
  process.exit(2);
}

/** What became of each change of these files or ranges, by the tests that MUTATE_TESTS names. */
function changesOf(mutate, coverageAnalysis = 'perTest') {
  return new Stryker({
    mutate,
    testRunner: 'vitest',
    plugins: ['@stryker-mutator/vitest-runner'],
    vitest: { configFile: 'src/build/mutate.config.ts', related: false },
    coverageAnalysis,
    // Sentences are judged by people; loads of data have their own tests.
    mutator: { excludedMutations: ['StringLiteral'] },
    // What is worked out while a file is read is the same for every test: each change of it would need a run of its own.
    ignoreStatic: coverageAnalysis === 'perTest',
    // A line put before files would be seen by a test that compares one with what it is made from.
    disableTypeChecks: false,
    concurrency: 2,
    timeoutMS: 5_000,
    tempDirName: 'node_modules/.mutants',
    ignorePatterns: ['dist', 'bin', 'test-results'],
    reporters: ['clear-text', 'progress-append-only'],
    clearTextReporter: { allowColor: false, logTests: false, reportTests: false, reportScoreTable: true },
    allowEmpty: false,
    checkers: [],
  }).runMutationTest();
}

/** The place of a change as the tool takes it, with columns from 0; it tells them from 1. */
function rangeOf({ fileName, location: { start, end } }) {
  return `${relative(process.cwd(), fileName)}:${start.line}:${start.column - 1}-${end.line}:${end.column - 1}`;
}

let isEnough = true;
for (const name of asked.length > 0 ? asked : Object.keys(areas)) {
  const [area, file] = name.split(':');
  const { tests } = areas[area];
  const files = file ? areas[area].files.map((path) => `${dirname(path)}/${file}.ts`) : areas[area].files;
  process.env.MUTATE_TESTS = tests.join(',');
  const results = await changesOf([...new Set(files)]);
  // A run that executed no test says nothing, and some do (https://github.com/stryker-mutator/stryker-js/issues/6073).
  const unheard = results.filter(
    ({ status, coveredBy, testsCompleted }) =>
      status === 'Survived' && coveredBy?.length > 0 && !testsCompleted,
  );
  if (unheard.length > 0) {
    console.log(`\n${unheard.length} changes were left without a test that ran: tried with all tests.`);
    const again = await changesOf(unheard.map(rangeOf), 'off');
    for (const change of unheard) {
      const same = again.find(
        (one) => rangeOf(one) === rangeOf(change) && one.replacement === change.replacement,
      );
      if (same) change.status = same.status;
    }
  }
  const counted = results.filter(
    ({ status }) => !['Ignored', 'CompileError', 'RuntimeError'].includes(status),
  );
  const noticed = counted.filter(({ status }) => status === 'Killed' || status === 'Timeout').length;
  const score = (100 * noticed) / Math.max(1, counted.length);
  console.log(
    `\n${name}: ${noticed} of ${counted.length} changes noticed, ${score.toFixed(1)} % (floor ${floor} %)`,
  );
  isEnough &&= score >= floor;
}
process.exitCode = isEnough ? 0 : 1;
