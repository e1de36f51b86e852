import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('../..', import.meta.url));

// Two projects: the core runs in plain Node; runes need a DOM, where effects really run.
export default defineConfig({
  root,
  test: {
    projects: [
      {
        root,
        test: {
          name: 'node',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.dom.test.ts', 'tests/browser/**', 'node_modules/**'],
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
