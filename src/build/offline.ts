// Builds the service worker after the program, with the list of all files that the program may ask for.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { build, type Plugin } from 'vite';

/** The service worker keeps everything but itself. */
const kept = (url: string): boolean => url !== 'sw.js';
/** A picture for readers of the repository; no page asks for it. */
const picture = 'ramble.png';
/** Names that carry a hash of their content need no revision. */
const hashed = /^assets\/.*-[\w-]{8}\.\w+$/;

/** One file of the program; the revision is null where the name says it. */
export interface ProgramFile {
  readonly url: string;
  readonly revision: string | null;
}

/** All files below a built program, in a fixed order. */
export function programFiles(folder: string): ProgramFile[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .filter(kept)
    .sort()
    .map((url) => ({
      url,
      revision: hashed.test(url)
        ? null
        : createHash('sha256')
            .update(readFileSync(join(folder, url)))
            .digest('hex')
            .slice(0, 16),
    }));
}

/** The plugin: `entry` is the service worker's source, `outDir` the folder of the built program; `seen` sees what it is made of. */
export const offline = (entry: string, outDir: string, seen: Plugin): Plugin => ({
  name: 'offline',
  apply: 'build',
  closeBundle: {
    order: 'post',
    sequential: true,
    async handler() {
      rmSync(join(outDir, picture), { force: true });
      await build({
        configFile: false,
        logLevel: 'warn',
        publicDir: false,
        plugins: [seen],
        define: {
          programFiles: JSON.stringify(programFiles(outDir)),
          'process.env.NODE_ENV': JSON.stringify('production'),
        },
        build: {
          outDir,
          emptyOutDir: false,
          target: 'es2022',
          rollupOptions: { input: entry, output: { format: 'iife', entryFileNames: 'sw.js' } },
        },
      });
    },
  },
});
