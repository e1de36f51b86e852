// `npm start`: installs what is missing, builds, serves and prints the address. `npm start -- --port 8080 --host 0.0.0.0`.
import { parseArgs } from 'node:util';
import { ensureInstalled, root, run, tool } from './install.mjs';

const help = `Usage: npm start -- [--port N] [--host ADDRESS]
Builds Ramble and serves it. It is served to this machine only (127.0.0.1) unless --host names another address: 0.0.0.0
serves it to every machine that can reach this one. The port is 4173, or PORT, or the next one that is free.`;

function fail(message) {
  console.error(`${message}\n\n${help}`);
  process.exit(2);
}

function wishes() {
  try {
    return parseArgs({
      options: { port: { type: 'string' }, host: { type: 'string' }, help: { type: 'boolean', short: 'h' } },
    }).values;
  } catch (error) {
    return fail(error.message);
  }
}

const values = wishes();
if (values.help) {
  console.log(help);
  process.exit(0);
}
const port = Number(values.port ?? (process.env.PORT || 4173));
if (!Number.isInteger(port) || port < 1 || port > 65_535)
  fail(`--port takes a number from 1 to 65535, not "${values.port ?? process.env.PORT}"`);

ensureInstalled();
const config = 'src/build/vite.config.ts';
if (run(tool('vite'), ['build', '--config', config, '--logLevel', 'warn']) !== 0) process.exit(1);

const { preview } = await import('vite');
try {
  const server = await preview({
    root,
    configFile: `${root}/${config}`,
    preview: { port, host: values.host ?? '127.0.0.1', strictPort: values.port !== undefined },
  });
  const { local = [], network = [] } = server.resolvedUrls ?? {};
  console.log(`Ramble is ready: ${[...local, ...network].join('  ') || 'see the address above'}`);
  console.log('Press Ctrl+C to stop.');
} catch (error) {
  console.error(`It cannot be served there: ${error.message}`);
  process.exit(1);
}
