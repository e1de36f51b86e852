import { svelte } from '@sveltejs/vite-plugin-svelte';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('../..', import.meta.url));

// Every project is patient: on a busy machine a test that hangs is told apart from one that waits for its turn.
const common = { testTimeout: 120_000, hookTimeout: 120_000, setupFiles: ['tests/seeds.ts'] };

const elsewhere = ['tests/browser/**', 'tests/engines/**', 'node_modules/**'];
/** Pure folders: without state of their own (architecture.test.ts), so their modules can be read once for many files. */
const pure = [
  'cache',
  'music',
  'instrument',
  'pipeline',
  'night',
  'notation',
  'export',
  'page',
  'checks',
  'playback',
].map((folder) => `tests/${folder}/**/*.test.ts`);
const dom = 'tests/**/*.dom.test.ts';

// Three projects: the pure core, where a worker keeps its modules from file to file; what else runs in plain Node, each file
// for itself; and runes, which need a DOM, where effects really run.
export default defineConfig({
  root,
  test: {
    // One worker a core; by itself the runner leaves one core free.
    maxWorkers: availableParallelism(),
    projects: [
      {
        root,
        test: {
          name: 'core',
          environment: 'node',
          isolate: false,
          include: pure,
          exclude: [dom, ...elsewhere],
          ...common,
        },
      },
      {
        root,
        test: {
          name: 'node',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: [dom, ...pure, ...elsewhere],
          ...common,
        },
      },
      {
        root,
        plugins: [svelte({ configFile: `${root}/svelte.config.js` })],
        resolve: { conditions: ['browser'] },
        test: {
          name: 'dom',
          environment: 'jsdom',
          include: [dom],
          ...common,
        },
      },
    ],
  },
});
