// Installs the packages of the lockfile when they are missing or out of date. Node's own modules only: this runs first.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');

/** Runs a command in the project root with its output shown; returns its exit code. */
export function run(command, args, options = {}) {
  const result = spawnSync(command, args, { cwd: root, stdio: 'inherit', ...options });
  if (result.error) throw result.error;
  return result.status ?? 1;
}

/** As `run`, beside other work: what it says is kept. Resolves with its exit code and its output. */
export function runBeside(command, args, options = {}) {
  return new Promise((resolveWith, reject) => {
    const child = spawn(command, args, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'], ...options });
    let output = '';
    for (const stream of [child.stdout, child.stderr]) stream.on('data', (part) => (output += String(part)));
    child.on('error', reject);
    child.on('close', (status) => resolveWith({ status: status ?? 1, output }));
  });
}

/** Path of a tool that a package brought, e.g. `vite`. */
export function tool(name) {
  return resolve(root, 'node_modules/.bin', name);
}

function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    console.error(`Ramble needs Node 20.19 or later; this is Node ${process.versions.node}.`);
    process.exit(1);
  }
}

/** True when what npm installed is what the lockfile asks for. */
function isCurrent() {
  const installed = resolve(root, 'node_modules/.package-lock.json');
  if (!existsSync(installed)) return false;
  const wanted = JSON.parse(readFileSync(resolve(root, 'package-lock.json'), 'utf8')).packages;
  const have = JSON.parse(readFileSync(installed, 'utf8')).packages;
  return Object.entries(wanted).every(
    ([path, entry]) => path === '' || entry.optional === true || have[path]?.version === entry.version,
  );
}

/** Makes sure that the locked packages are there. Ends the process with a sentence when that fails. */
export function ensureInstalled() {
  checkNode();
  if (isCurrent()) return;
  console.error('Installing packages…');
  const status = run('npm', ['ci', '--include=dev', '--no-audit', '--no-fund', '--loglevel=error'], {
    stdio: ['ignore', process.stderr, process.stderr],
  });
  if (status !== 0) {
    console.error(
      'npm ci failed: see its message above. Ramble needs the npm registry once, for its packages.',
    );
    process.exit(1);
  }
}
