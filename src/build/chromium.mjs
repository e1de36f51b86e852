// Finds a Chromium for the browser tests, or installs Debian's where that is possible.
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, resolve } from 'node:path';

const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];

function isExecutable(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

function onPath(name) {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    const candidate = resolve(folder, name);
    if (folder !== '' && existsSync(candidate) && isExecutable(candidate)) return candidate;
  }
  return undefined;
}

/** The browser named by CHROMIUM, or one on the path; undefined when there is none. */
export function findChromium() {
  const named = process.env.CHROMIUM;
  if (named) return isExecutable(named) ? named : undefined;
  return names.map(onPath).find((path) => path !== undefined);
}

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
