// Puts the command line with all it needs into one file, bin/ramble.mjs: `node src/build/bundle.mjs`. Node's own modules
// only until the packages are known to be there.
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ensureInstalled, root } from './install.mjs';
import { licenceHome } from './licence-home.mjs';

const folder = resolve(root, 'bin');
export const bundle = resolve(folder, 'ramble.mjs');
const licences = resolve(folder, 'LICENCES.txt');

/** When something below these was last changed, in milliseconds since 1970. */
function newest(...paths) {
  return Math.max(
    ...paths.map((path) => {
      const { mtimeMs } = statSync(path);
      const below = statSync(path).isDirectory() ? readdirSync(path).map((name) => join(path, name)) : [];
      return Math.max(mtimeMs, below.length > 0 ? newest(...below) : 0);
    }),
  );
}

/** Whether the bundle is what its sources say. */
export function isFresh() {
  if (!existsSync(bundle) || !existsSync(licences)) return false;
  const sources = ['src', 'shared', 'static/fonts', 'package.json', 'package-lock.json'].map((name) =>
    resolve(root, name),
  );
  return statSync(bundle).mtimeMs > newest(...sources);
}

/** Licence texts of the packages whose code is in a bundle, told by the paths of its modules. */
function licenceTexts(modules) {
  const packages = new Set(
    modules.flatMap((path) => /^.*[\\/]node_modules[\\/]((?:@[^\\/]+[\\/])?[^\\/]+)/.exec(path)?.[1] ?? []),
  );
  const homes = new Set([...packages].map((name) => licenceHome(name.replace('\\', '/'))));
  return [...homes].sort().map((name) => {
    const path = resolve(root, 'node_modules', name);
    const { version, license } = JSON.parse(readFileSync(join(path, 'package.json'), 'utf8'));
    const file = readdirSync(path).find((one) => /^licen[cs]e(\.|$)/i.test(one));
    // A package that comes without its text has it in shared/licences.
    const text = readFileSync(
      file ? join(path, file) : resolve(root, 'shared/licences', `${name}.txt`),
      'utf8',
    ).trim();
    return `${name} ${version}, ${license}\n\n${text}\n`;
  });
}

/** Licences of the fonts that pages are set in. */
const fontTexts = () =>
  [
    'static/fonts/ramble-notes-licence.txt',
    'node_modules/@fontsource/alegreya/LICENSE',
    'node_modules/@fontsource/alegreya-sans/LICENSE',
  ].map((name) => `${readFileSync(resolve(root, name), 'utf8').trim()}\n`);

/** Builds it beside its place and moves it there whole: others may be running it, or building it, too. */
export async function makeBundle() {
  ensureInstalled();
  const { build } = await import('vite');
  const workshop = resolve(folder, `.building-${process.pid}`);
  try {
    const { output } = await build({
      configFile: false,
      root,
      logLevel: 'warn',
      publicDir: false,
      ssr: { noExternal: true, target: 'node' },
      build: {
        ssr: resolve(root, 'src/cli/main.ts'),
        outDir: workshop,
        emptyOutDir: true,
        target: 'node20',
        minify: true,
        rolldownOptions: {
          output: { entryFileNames: 'ramble.mjs', codeSplitting: false, banner: '#!/usr/bin/env node' },
        },
      },
    });
    const made = resolve(workshop, 'ramble.mjs');
    const texts = resolve(workshop, 'LICENCES.txt');
    chmodSync(made, 0o755);
    const modules = output.flatMap((one) => (one.type === 'chunk' ? one.moduleIds : []));
    writeFileSync(texts, [...licenceTexts(modules), ...fontTexts()].join('\n––––––––––\n\n'));
    mkdirSync(folder, { recursive: true });
    renameSync(texts, licences);
    renameSync(made, bundle);
  } finally {
    rmSync(workshop, { recursive: true, force: true });
  }
}

const isMain = process.argv[1] && pathToFileURL(process.argv[1]).href === import.meta.url;
if (isMain) await makeBundle();
