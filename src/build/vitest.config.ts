import { svelte } from '@sveltejs/vite-plugin-svelte';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('../..', import.meta.url));

// Two projects: the core runs in plain Node; runes need a DOM, where effects really run.
export default defineConfig({
  root,
  test: {
    // One worker a core; by itself the runner leaves one core free.
    maxWorkers: availableParallelism(),
    projects: [
      {
        root,
        test: {
          name: 'node',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.dom.test.ts', 'tests/browser/**', 'tests/engines/**', 'node_modules/**'],
          testTimeout: 30_000,
        },
      },
      {
        root,
        plugins: [svelte({ configFile: `${root}/svelte.config.js` })],
        resolve: { conditions: ['browser'] },
        test: {
          name: 'dom',
          environment: 'jsdom',
          include: ['tests/**/*.dom.test.ts'],
          testTimeout: 30_000,
        },
      },
    ],
  },
});
