import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** The tests that mutate.mjs names: those that are to notice a change of one area. */
export default defineConfig({
  root,
  test: {
    environment: 'node',
    include: (process.env.MUTATE_TESTS ?? '').split(',').filter((one) => one !== ''),
    testTimeout: 120_000,
  },
});
