// What notes do, as takes say it, beside the predicates of the brief, which are not part of the program: they are run where
// they lie beside it.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const predicates = resolve(root, '../shared/checks/devices.mts');
const isThere = existsSync(predicates);

describe('the roles of takes', () => {
  it.skipIf(!isThere)(
    'are those of the predicates, but for notes that lead to what is no chord note (skipped where these do not lie beside the program)',
    { timeout: 600_000 },
    () => {
      const { stdout, stderr, status } = spawnSync(process.execPath, ['src/build/run.mjs', predicates, '1'], {
        cwd: root,
        encoding: 'utf8',
      });
      expect([status, stderr]).toEqual([0, '']);
      const counts = new Map(
        stdout
          .split('\n')
          .map((line) => /^(.*\S)\s+(\d+)$/.exec(line))
          .flatMap((found): [string, number][] => (found ? [[found[1]!, Number(found[2])]] : [])),
      );
      expect(counts.get('takes')).toBeGreaterThan(3);
      expect(counts.get('targets')).toBeGreaterThan(100);
      // A target that is no chord note gets no approach: the predicates count such steps all the same.
      const strange = counts.get('targets not chord tone') ?? 0;
      for (const [name, count] of counts) {
        if (!name.startsWith('DIS ')) continue;
        expect(name).toMatch(/into target (not )?called/);
        expect(count).toBeLessThanOrEqual(strange);
      }
    },
  );
});
