// The command line as a terminal meets it: pipes, disks, folders, help, and the packed bundle somewhere else.
import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { version } from '../../package.json' with { type: 'json' };

const root = fileURLToPath(new URL('../..', import.meta.url));
const bundle = join(root, 'bin/ramble.mjs');
const blues = join(root, 'shared/charts/back-stairs-blues.txt');
const folder = mkdtempSync(join(tmpdir(), 'ramble-terminal-'));
const outside = (name: string): string => join(folder, name);

/** The environment without what npm tells its scripts. */
const plainEnv = Object.fromEntries(Object.entries(process.env).filter(([name]) => !name.startsWith('npm_')));

interface Call {
  readonly args: readonly string[];
  readonly program?: string;
  readonly cwd?: string;
  readonly input?: string | Uint8Array;
  readonly env?: Readonly<Record<string, string>>;
}

function ramble({ args, program = bundle, cwd = folder, input = '', env = {} }: Call) {
  const run = spawnSync(process.execPath, [program, ...args], {
    cwd,
    input,
    encoding: 'utf8',
    env: { ...plainEnv, ...env },
  });
  return { status: run.status, out: run.stdout, error: run.stderr };
}
const shell = (script: string) => {
  const run = spawnSync('bash', ['-c', script], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...plainEnv, RAMBLE: bundle, CHART: blues, NODE: process.execPath },
  });
  return { status: run.status, out: run.stdout, error: run.stderr };
};

beforeAll(() => {
  const made = spawnSync(process.execPath, ['src/build/ramble.mjs', '--version'], {
    cwd: root,
    encoding: 'utf8',
  });
  expect(made).toMatchObject({ status: 0, stdout: `ramble ${version}\n` });
}, 240_000);
afterAll(() => {
  rmSync(folder, { recursive: true });
});

describe('what is said about itself', () => {
  it.each(['--version', '-V', 'version'])('%s', (word) => {
    expect(ramble({ args: [word] })).toEqual({ status: 0, out: `ramble ${version}\n`, error: '' });
  });

  it.each(['walk', 'chart', 'finger', 'scale'])('help for %s, however it is asked for', (name) => {
    const { status, out, error } = ramble({ args: [name, '--help'] });
    expect({ status, error }).toEqual({ status: 0, error: '' });
    expect(out).toMatch(new RegExp(`^ramble ${name}: .*\\n\\nUsage:\\n  ramble ${name} `));
    expect(out).toMatch(/Exit codes: 0 /);
    for (const args of [
      [name, 'x.txt', '-h'],
      ['help', name],
    ])
      expect(ramble({ args }).out).toBe(out);
  });

  it('all commands at once, on standard output when asked and on standard error when guessed', () => {
    const { status, out } = ramble({ args: ['--help'] });
    expect(status).toBe(0);
    for (const name of ['walk', 'chart', 'finger', 'scale', 'devices', 'ways'])
      expect(out).toContain(`  ramble ${name} `);
    expect(ramble({ args: [] })).toEqual({
      status: 2,
      out: '',
      error:
        'ramble: which command? There are walk, chart, finger, scale, night, devices, ways, lesson, round and help\nTry: ramble --help\n',
    });
  });

  it.each([
    [['dance'], 'there is no command "dance"', '--help'],
    [['help', 'dance'], 'there is no command "dance"', '--help'],
    [['walk', 'x.txt', '--nope'], 'Unknown option "--nope"', 'walk --help'],
    [['walk', 'x.txt', '--tempo', '-5'], '--tempo takes a number from 40 to 320, not "-5"', 'walk --help'],
    [
      ['walk', 'x.txt', '--comfort', '-.5'],
      '--comfort takes a number from 0 to 10, not "-.5"',
      'walk --help',
    ],
    [['scale', 'Bb major', '--span', '-1'], '--span takes a number', 'scale --help'],
  ])('wrong usage is one sentence and where to read on: %j', (args, sentence, help) => {
    const { status, out, error } = ramble({ args });
    expect({ status, out }).toEqual({ status: 2, out: '' });
    expect(error.startsWith(`ramble: ${sentence}`)).toBe(true);
    expect(error.endsWith(`\nTry: ramble ${help}\n`)).toBe(true);
  });
});

describe('files that are none', () => {
  it.each([
    [['walk', 'missing.txt'], 'cannot read missing.txt: there is no such file'],
    [['chart', '.'], 'cannot read .: it is a folder'],
    [['finger', 'missing.mid'], 'cannot read missing.mid: there is no such file'],
    [['finger', './line'], 'cannot read ./line: there is no such file'],
    [['walk', `${blues}/x`], `cannot read ${blues}/x: a part of its path is not a folder`],
    [['walk', blues, '--out', '.'], 'cannot write .: it is a folder'],
    [['walk', blues, '--out', 'no/where.txt'], 'cannot write no/where.txt: there is no such folder'],
    [['walk', 'n'.repeat(300)], `cannot read ${'n'.repeat(300)}: its name is too long`],
  ])('%j', (args, sentence) => {
    expect(ramble({ args })).toEqual({ status: 1, out: '', error: `ramble: ${sentence}\n` });
  });

  it('and files without an end are refused by their size', () => {
    const much = new Uint8Array(4 * 1024 * 1024 + 1).fill(32);
    expect(ramble({ args: ['walk', '-'], input: much })).toEqual({
      status: 1,
      out: '',
      error: 'ramble: standard input is larger than 4 MB: not a chart\n',
    });
    if (existsSync('/dev/zero'))
      expect(ramble({ args: ['walk', '/dev/zero'] }).error).toContain('larger than');
  });

  it.skipIf(!existsSync('/dev/full'))('a full disk is told in words', () => {
    expect(shell('"$NODE" "$RAMBLE" walk "$CHART" > /dev/full')).toEqual({
      status: 1,
      out: '',
      error: 'ramble: cannot write to standard output: no room is left\n',
    });
    expect(shell('"$NODE" "$RAMBLE" walk "$CHART" --out /dev/full')).toMatchObject({
      status: 1,
      error: 'ramble: cannot write /dev/full: no room is left\n',
    });
  });

  it('a closed pipe ends it quietly, as a closed pipe ends any program', () => {
    expect(shell('set -o pipefail; "$NODE" "$RAMBLE" walk "$CHART" | true')).toEqual({
      status: 141,
      out: '',
      error: '',
    });
    const listening = shell('"$NODE" "$RAMBLE" walk "$CHART" --choruses 64 --format json | head -c 10');
    expect(listening).toMatchObject({ status: 0, error: '' });
    expect(listening.out).toHaveLength(10);
  }, 240_000);
});

describe('where it runs', () => {
  it('paths are meant from where npm was called', () => {
    cpSync(blues, outside('mine.txt'));
    const called = { npm_lifecycle_event: 'ramble', INIT_CWD: folder };
    const program = join(root, 'src/build/ramble.mjs');
    const { status, out, error } = ramble({ program, cwd: root, args: ['chart', 'mine.txt'], env: called });
    expect({ status, error }).toEqual({ status: 0, error: '' });
    expect(out).toMatch(/^Title: Back Stairs Blues/);
  });

  it('ends with the process that was started: there is no other', async () => {
    const child = spawn(process.execPath, [join(root, 'src/build/ramble.mjs'), 'walk', '-'], {
      cwd: root,
      stdio: ['pipe', 'ignore', 'ignore'],
    });
    const ended = new Promise((resolve) => child.once('exit', (code, signal) => resolve({ code, signal })));
    await new Promise((resolve) => setTimeout(resolve, 50));
    child.kill('SIGTERM');
    expect(await ended).toEqual({ code: null, signal: 'SIGTERM' });
  });

  it('the bundle stands alone: it asks for nothing but what Node brings', () => {
    const asked = [...readFileSync(bundle, 'utf8').matchAll(/(?:\bfrom|\bimport)\s*\(?\s*["']([^"']+)["']/g)];
    expect(asked.length).toBeGreaterThan(0);
    expect(asked.map(([, name]) => name).filter((name) => !isBuiltin(name!))).toEqual([]);
  });

  it('a packed tarball holds the bundle with its licences, needs no other package, and runs elsewhere', () => {
    const packed = spawnSync('npm', ['pack', '--json', '--ignore-scripts', '--pack-destination', folder], {
      cwd: root,
      encoding: 'utf8',
    });
    const [{ filename, files }] = JSON.parse(packed.stdout) as [
      { filename: string; files: { path: string }[] },
    ];
    expect(files.map(({ path }) => path).sort()).toEqual([
      'LICENSE',
      'README.md',
      'bin/LICENCES.txt',
      'bin/ramble.mjs',
      'package.json',
    ]);
    const licences = readFileSync(join(root, 'bin/LICENCES.txt'), 'utf8');
    for (const name of ['tonal', 'saxes', 'xmlchars', 'fflate'])
      expect(licences).toMatch(new RegExp(`^${name} `, 'm'));
    expect(spawnSync('tar', ['xzf', filename], { cwd: folder }).status).toBe(0);
    const described = JSON.parse(readFileSync(outside('package/package.json'), 'utf8')) as object;
    expect(described).not.toHaveProperty('dependencies');
    const program = outside('package/bin/ramble.mjs');
    expect(ramble({ program, args: ['walk', blues, '--seed', '3'] })).toEqual(
      ramble({ args: ['walk', blues, '--seed', '3'] }),
    );
  });
});
