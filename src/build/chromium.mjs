// Finds a Chromium for the browser tests, or installs Debian's where that is possible.
import { spawnSync } from 'node:child_process';
import { findChromium, onPath } from '../cli/find-chromium.mjs';

export { findChromium };

/** Finds a browser or installs one with apt. Returns its path, or undefined after saying what to install. */
export function ensureChromium() {
  const found = findChromium();
  if (found) return found;
  if (process.env.CHROMIUM) {
    console.error(`CHROMIUM names ${process.env.CHROMIUM}, which cannot be run.`);
    return undefined;
  }
  const apt = onPath('apt-get');
  const isRoot = process.getuid?.() === 0;
  const sudo = isRoot ? undefined : onPath('sudo');
  if (apt && (isRoot || sudo)) {
    console.error('Installing Chromium for the browser tests…');
    const asRoot = (args) =>
      spawnSync(sudo ?? apt, sudo ? ['-n', apt, ...args] : args, {
        stdio: ['ignore', 'ignore', 'inherit'],
        env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
      }).status === 0;
    asRoot(['update', '-qq']);
    asRoot(['install', '-y', '-qq', '--no-install-recommends', 'chromium']);
  }
  const installed = findChromium();
  if (!installed) console.error('The browser tests need Chromium: install it, or set CHROMIUM to its path.');
  return installed;
}
