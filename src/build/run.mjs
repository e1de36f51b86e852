// Runs a TypeScript file of the project on Node: `node src/build/run.mjs FILE ARGS…`.
import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureInstalled, root } from './install.mjs';

/** Runs the file with the caller's standard streams and folder; returns the exit code. */
export function runTypeScript(file, args, nodeOptions = []) {
  ensureInstalled();
  const loader = pathToFileURL(resolve(root, 'node_modules/tsx/dist/loader.mjs')).href;
  const result = spawnSync(
    process.execPath,
    [...nodeOptions, '--import', loader, resolve(root, file), ...args],
    {
      stdio: 'inherit',
      env: { ...process.env, TSX_TSCONFIG_PATH: resolve(root, 'tsconfig.json') },
    },
  );
  return result.status ?? 1;
}

const isMain = process.argv[1] && pathToFileURL(process.argv[1]).href === import.meta.url;
if (isMain) {
  const [file, ...args] = process.argv.slice(2);
  process.exitCode = runTypeScript(file, args, ['--expose-gc']);
}
