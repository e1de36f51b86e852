// Bundles sound-harness.ts and serves it with the sample files on an address of its own: nothing of it is in the program.
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page, Route } from '@playwright/test';
import { build, type Rollup } from 'vite';

const root = fileURLToPath(new URL('../..', import.meta.url));
const origin = 'http://sound.localhost';
const entry = 'harness';

/** The bundle's files by name. */
type Bundle = ReadonlyMap<string, string>;

async function bundleHarness(): Promise<Bundle> {
  const result = await build({
    root,
    configFile: false,
    logLevel: 'error',
    worker: { format: 'es' },
    publicDir: false,
    build: {
      write: false,
      minify: false,
      target: 'es2022',
      modulePreload: false,
      assetsInlineLimit: 0,
      rollupOptions: {
        input: { [entry]: join(root, 'tests/browser/sound-harness.ts') },
        output: { entryFileNames: '[name].js', chunkFileNames: '[name].js' },
      },
    },
  });
  const outputs = (Array.isArray(result) ? result : [result]) as Rollup.RollupOutput[];
  const files = outputs.flatMap(({ output }) => output);
  // Workers come as assets.
  return new Map(
    files.map((file) => [file.fileName, file.type === 'chunk' ? file.code : file.source.toString()]),
  );
}

const page = `<!doctype html><meta charset="utf-8"><title>Sound</title><button>Play</button><script type="module" src="/${entry}.js"></script>`;

/** One is enough for all files that a worker of the runner goes through. */
let bundled: Promise<Bundle> | undefined;

export interface Serving {
  /** Have the page press Play itself as it loads. */
  readonly playsAlone?: boolean;
  /** Answer requests for sample files with "not found". */
  readonly withoutSamples?: boolean;
}

/** Opens the harness; the page has a button and `harness` as a global. */
export async function openHarness(target: Page, serving: Serving = {}): Promise<void> {
  bundled ??= bundleHarness();
  const bundle = await bundled;
  await target.route(`${origin}/**`, async (route: Route) => {
    const path = new URL(route.request().url()).pathname.slice(1);
    const code = bundle.get(path);
    if (path === '') return route.fulfill({ contentType: 'text/html', body: page });
    if (code !== undefined) return route.fulfill({ contentType: 'text/javascript', body: code });
    const isSample = /^samples\/[a-z0-9-]+\.mp3$/.test(path) && !serving.withoutSamples;
    if (!isSample) return route.fulfill({ status: 404, body: '' });
    return route.fulfill({ contentType: 'audio/mpeg', body: await readFile(join(root, 'static', path)) });
  });
  await target.goto(`${origin}/${serving.playsAlone ? '#play' : ''}`);
  // To look into a page counts as a gesture in it.
  if (!serving.playsAlone) await target.waitForSelector('body[data-ready]');
}
