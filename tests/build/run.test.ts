// The runner of TypeScript files: it and what it runs begin, end and fail together.
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const runner = join(root, 'src/build/run.mjs');
const folder = mkdtempSync(join(tmpdir(), 'ramble-run-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

function fileWith(name: string, text: string): string {
  const file = join(folder, name);
  writeFileSync(file, text);
  return file;
}

/** Whether a process is there. */
function isRunning(id: number): boolean {
  try {
    return process.kill(id, 0);
  } catch {
    return false;
  }
}

it('hands on arguments, output and the exit code', () => {
  const file = fileWith(
    'code.ts',
    'const [code = ""]: string[] = process.argv.slice(2);\nconsole.log(code);\nprocess.exitCode = Number(code);\n',
  );
  const { status, stdout } = spawnSync(process.execPath, [runner, file, '7'], {
    cwd: root,
    encoding: 'utf8',
  });
  expect({ status, stdout }).toEqual({ status: 7, stdout: '7\n' });
});

it.each(['SIGTERM', 'SIGKILL'] as const)(
  'what it runs ends with it: %s',
  async (signal) => {
    const file = fileWith('long.ts', 'console.log(process.pid);\nsetInterval(() => undefined, 1000);\n');
    const wrapper = spawn(process.execPath, [runner, file], {
      cwd: root,
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const ended = new Promise((resolve) => wrapper.once('exit', (_code, by) => resolve(by)));
    const child = await new Promise<number>((resolve) =>
      wrapper.stdout.once('data', (text: Buffer) => resolve(Number(text.toString()))),
    );
    expect(isRunning(child)).toBe(true);
    wrapper.kill(signal);
    expect(await ended).toBe(signal);
    await expect.poll(() => isRunning(child), { timeout: 120_000 }).toBe(false);
  },
  60_000,
);
