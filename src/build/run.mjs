// Runs a TypeScript file of the project on Node: `node src/build/run.mjs FILE ARGS…`.
import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureInstalled, root } from './install.mjs';

/** The child ends when this process does, however that came: a channel between them closes. */
const endTogether = `data:text/javascript,${encodeURIComponent(
  'process.on("disconnect", () => process.exit(1)); process.channel?.unref();',
)}`;
const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'];

/** Runs the file with the caller's standard streams and folder, hands signals on, and resolves with the exit code. */
export function runTypeScript(file, args, nodeOptions = []) {
  ensureInstalled();
  const loader = pathToFileURL(resolve(root, 'node_modules/tsx/dist/loader.mjs')).href;
  const child = spawn(
    process.execPath,
    [...nodeOptions, '--import', endTogether, '--import', loader, resolve(root, file), ...args],
    {
      stdio: ['inherit', 'inherit', 'inherit', 'ipc'],
      env: { ...process.env, TSX_TSCONFIG_PATH: resolve(root, 'tsconfig.json') },
    },
  );
  for (const signal of signals) process.on(signal, () => child.kill(signal));
  return new Promise((resolve) => {
    child.once('error', () => resolve(1));
    child.once('exit', (code, signal) => {
      for (const name of signals) process.removeAllListeners(name);
      // Ended by a signal, this ends by the same.
      if (signal) process.kill(process.pid, signal);
      resolve(code ?? 1);
    });
  });
}

const isMain = process.argv[1] && pathToFileURL(process.argv[1]).href === import.meta.url;
if (isMain) {
  const [file, ...args] = process.argv.slice(2);
  process.exitCode = await runTypeScript(file, args, ['--expose-gc']);
}
