// Finds an installed Chromium or Chrome: for pages as PDF, for the tests. Plain JavaScript, so that it runs before anything
// is installed.
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

/** Path of a program on the path, or undefined. */
export function onPath(name) {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    const candidate = resolve(folder, name);
    if (folder !== '' && existsSync(candidate) && isExecutable(candidate)) return candidate;
  }
  return undefined;
}

/** The program that a variable of the environment names, or the first of some names that is on the path. */
export function findProgram(variable, programs) {
  const named = process.env[variable];
  if (named) return isExecutable(named) ? named : undefined;
  return programs.map(onPath).find((path) => path !== undefined);
}

/** The browser named by CHROMIUM, or one on the path; undefined when there is none. */
export const findChromium = () => findProgram('CHROMIUM', names);
