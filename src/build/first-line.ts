// The study of a first visit, worked out while the program is built: its line comes with the page, and so does a picture of
// it, so that neither waits for the program to run. Both come from the very code that runs on the page.
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { readFileSync } from 'node:fs';
import { createServer, type Plugin } from 'vite';
import type * as Pipeline from '../pipeline/index.ts';
import type * as State from '../state/index.ts';
import type * as Picture from '../ui/first/picture.ts';

export interface FirstStudy {
  readonly chartText: string;
  /** What the computation answers for a new study of the chart, packed (see src/state/packed.ts). */
  readonly answer: string;
  /** The picture of the line, to stand on the page until the program runs. */
  readonly picture: string;
}

interface FirstPlaces {
  /** The folder `src`. */
  readonly source: string;
  readonly svelteConfig: string;
  /** The folder of the charts that come with the program. */
  readonly charts: string;
}

/** The first chart that is offered, its line and its picture. */
export async function firstStudy({ source, svelteConfig, charts }: FirstPlaces): Promise<FirstStudy> {
  const { charts: rows } = JSON.parse(readFileSync(`${charts}/charts.json`, 'utf8')) as {
    charts: { id: string; take: number }[];
  };
  const [first] = rows;
  if (!first) throw new Error('no chart is offered');
  const chartText = readFileSync(`${charts}/${first.id}.txt`, 'utf8');
  const server = await createServer({
    configFile: false,
    root: source,
    logLevel: 'error',
    appType: 'custom',
    mode: 'production',
    plugins: [svelte({ configFile: svelteConfig, compilerOptions: { dev: false } })],
    // Nothing is bundled beforehand: nobody waits here for a page to load, and the cache on disk is left alone.
    optimizeDeps: { noDiscovery: true },
    ssr: { optimizeDeps: { noDiscovery: true, include: [] } },
    server: { middlewareMode: true, hmr: false, ws: false, watch: null },
  });
  const load = async <Module>(path: string): Promise<Module> => (await server.ssrLoadModule(path)) as Module;
  try {
    const { walk } = await load<typeof Pipeline>('/pipeline/index.ts');
    const state = await load<typeof State>('/state/index.ts');
    const { firstPicture } = await load<typeof Picture>('/ui/first/picture.ts');
    const request = state.requestOf(state.studyOf({ text: chartText, seed: first.take }));
    const answer = walk(request);
    const { timeline, line } = answer;
    if (!timeline || !line) throw new Error(`no line for ${first.id}`);
    const title = state.titleOf(chartText) ?? '';
    return {
      chartText,
      answer: state.pack(answer),
      picture: firstPicture({ title, timeline, line, instrument: request.instrument }),
    };
  } finally {
    await server.close();
  }
}

/** The built page with the picture in it; the program is fetched at once and started by static/start.js. */
export function pageWith(picture: string, html: string): string {
  const script = /<script type="module" crossorigin src="([^"]+)"><\/script>/;
  const place = '<div id="app">';
  if (!script.test(html) || !html.includes(place)) throw new Error('the built page is not as expected');
  return html
    .replace(script, '<link rel="modulepreload" crossorigin href="$1" data-program />')
    .replace(place, () => place + picture)
    .replace('</body>', '  <script type="module" src="./start.js"></script>\n  </body>');
}

const name = 'virtual:first-line';

/** The plugin: gives the program the answer as `virtual:first-line`, and puts the picture into the page. */
export function firstLine(places: FirstPlaces): Plugin {
  let isBuild = false;
  let study: Promise<FirstStudy> | undefined;
  const made = (): Promise<FirstStudy> => (study ??= firstStudy(places));
  return {
    name: 'first-line',
    configResolved: ({ command }) => {
      isBuild = command === 'build';
    },
    resolveId: (id) => (id === name ? `\0${name}` : undefined),
    load: {
      filter: { id: new RegExp(`^\0${name}$`) },
      // While developing, the line is always worked out by the code as it is now.
      handler: async () => `export default ${isBuild ? JSON.stringify((await made()).answer) : 'null'};`,
    },
    transformIndexHtml: {
      order: 'post',
      handler: async (html) => (isBuild ? pageWith((await made()).picture, html) : html),
    },
  };
}
