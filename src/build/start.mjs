// `npm start`: installs what is missing, builds, serves and prints the address.
import { ensureInstalled, root, run, tool } from './install.mjs';

ensureInstalled();
const config = 'src/build/vite.config.ts';
if (run(tool('vite'), ['build', '--config', config, '--logLevel', 'warn']) !== 0) process.exit(1);

const { preview } = await import('vite');
const server = await preview({
  root,
  configFile: `${root}/${config}`,
  preview: { port: Number(process.env.PORT ?? 4173) },
});
console.log(`Ramble is ready: ${server.resolvedUrls?.local[0] ?? 'see the address above'}`);
console.log('Press Ctrl+C to stop.');
