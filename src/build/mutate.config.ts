import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

const root = fileURLToPath(new URL('../..', import.meta.url));
const named = (process.env.MUTATE_TESTS ?? '').split(',').filter((one) => one !== '');

/** Tests in the order they are named, those that a pattern stands for last: a run ends with the first that notices a change. */
class AsNamed extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification): number => {
      const index = named.findIndex((name) => moduleId.endsWith(name));
      return index === -1 ? named.length : index;
    };
    return (await super.sort(files)).toSorted((a, b) => place(a) - place(b));
  }
}

/** The tests that mutate.mjs names: those that are to notice a change of one area. */
export default defineConfig({
  root,
  test: {
    environment: 'node',
    // Areas are pure folders, without state of their own (architecture.test.ts): modules are read once for all files of a run.
    isolate: false,
    include: named,
    sequence: { sequencer: AsNamed },
    testTimeout: 120_000,
  },
});
