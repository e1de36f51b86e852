// Engines other than Chromium that are installed: stock Firefox, and WebKit by Debian's driver. Nothing is installed for them.
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { findProgram } from '../cli/find-chromium.mjs';

/** Where distributions keep the browser that WebKit's driver opens. */
const libraries = ['/usr/lib', '/usr/lib64', '/usr/libexec'];

function miniBrowser() {
  const folders = libraries.filter((folder) => existsSync(folder));
  const inner = folders.flatMap((folder) =>
    readdirSync(folder, { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map(({ name }) => join(folder, name)),
  );
  for (const folder of [...folders, ...inner])
    for (const name of ['webkit2gtk-4.1', 'webkitgtk-6.0', 'webkit2gtk-4.0']) {
      const path = join(folder, name, 'MiniBrowser');
      if (existsSync(path)) return path;
    }
  return undefined;
}

/** Path of a stock Firefox, or undefined. */
export const findFirefox = () => findProgram('FIREFOX', ['firefox-esr', 'firefox']);

/** WebKit's driver, its browser and a display without a screen; undefined unless all are there. */
export function findWebKit() {
  const driver = findProgram('WEBKIT_DRIVER', ['WebKitWebDriver']);
  const browser = miniBrowser();
  const display = findProgram('XVFB', ['Xvfb']);
  return driver && browser && display ? { driver, browser, display } : undefined;
}

/** What is not tested for want of an engine, in a sentence; empty when both are there. */
export function missingEngines() {
  const missing = [
    ...(findFirefox() ? [] : ['Firefox (Debian package firefox-esr)']),
    ...(findWebKit() ? [] : ['WebKit (Debian packages webkit2gtk-driver and xvfb)']),
  ];
  return missing.length === 0 ? '' : `The main job is not tried in ${missing.join(' and ')}: not installed.`;
}
