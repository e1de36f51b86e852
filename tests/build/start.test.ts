// What `npm start` says before it does anything.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const start = (...args: readonly string[]) =>
  spawnSync(process.execPath, ['src/build/start.mjs', ...args], {
    cwd: root,
    encoding: 'utf8',
    env: { ...process.env, PORT: '' },
  });

it('tells how it is called', () => {
  const { status, stdout, stderr } = start('--help');
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  expect(stdout).toMatch(/^Usage: npm start -- \[--port N\] \[--host ADDRESS\]/);
});

it.each([
  [['--port', 'eighty'], '--port takes a number from 1 to 65535, not "eighty"'],
  [['--port', '0'], '--port takes a number'],
  [['--port', '65536'], '--port takes a number'],
  [['--open'], "Unknown option '--open'"],
])('refuses %j with a sentence and does nothing', (args, sentence) => {
  const { status, stdout, stderr } = start(...args);
  expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
  expect(stderr.startsWith(sentence)).toBe(true);
  expect(stderr).toContain('Usage: npm start');
});
