import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('../..', import.meta.url));

// The main job in other engines, on the last build. One browser at a time, and all the time that it needs.
export default defineConfig({
  root,
  test: {
    environment: 'node',
    include: ['tests/engines/*.test.ts'],
    maxWorkers: 1,
    fileParallelism: false,
    testTimeout: 300_000,
    hookTimeout: 300_000,
  },
});
