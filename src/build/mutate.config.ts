import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('../..', import.meta.url));
const named = (process.env.MUTATE_TESTS ?? '').split(',').filter((one) => one !== '');

/**
 * The tests that mutate.mjs names: those that are to notice a change of one area. They are read as one file, in the order they
 * are named: what they need is read once a change, and a run ends with the first that notices it.
 */
export default defineConfig({
  root,
  plugins: [
    {
      name: 'named-tests',
      resolveId: (id) => (id === 'virtual:named-tests' ? `\0${id}` : undefined),
      load: (id) =>
        id === '\0virtual:named-tests'
          ? named.map((name) => `import.meta.glob('/${name}', { eager: true });`).join('\n')
          : undefined,
    },
  ],
  test: { environment: 'node', include: ['src/build/mutate.test.ts'], testTimeout: 120_000 },
});
