// Who may import whom. One short test instead of a rule in everybody's head.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));
const source = join(root, 'src');

/** Layers, each with the layers it may import; types count. Deeper folders come before the folder they lie in. */
const allowed: Readonly<Record<string, readonly string[]>> = {
  cache: [],
  music: [],
  instrument: ['music'],
  'pipeline/1-chart': ['music'],
  'pipeline/2-timeline': ['music', 'pipeline/1-chart'],
  'pipeline/3-candidates': ['cache', 'music', 'instrument', 'pipeline/2-timeline'],
  'pipeline/4-solver': ['cache'],
  'pipeline/5-line': [
    'cache',
    'music',
    'instrument',
    'pipeline/2-timeline',
    'pipeline/3-candidates',
    'pipeline/4-solver',
  ],
  pipeline: [
    'cache',
    'music',
    'instrument',
    'pipeline/1-chart',
    'pipeline/2-timeline',
    'pipeline/3-candidates',
    'pipeline/4-solver',
    'pipeline/5-line',
  ],
  playback: ['cache', 'music', 'instrument', 'pipeline'],
  notation: ['music', 'instrument', 'pipeline'],
  export: ['music', 'instrument', 'pipeline'],
  page: ['music', 'instrument', 'pipeline', 'notation'],
  night: ['cache', 'music', 'instrument', 'pipeline'],
  worker: ['pipeline', 'night'],
  offline: [],
  'state/night': ['music', 'instrument', 'pipeline', 'night', 'state'],
  'state/evening': ['music', 'instrument', 'pipeline', 'night', 'worker', 'state', 'state/night'],
  'state/auditions': ['music', 'instrument', 'pipeline', 'worker', 'state'],
  'state/both-ways': ['music', 'instrument', 'pipeline', 'worker', 'state'],
  'state/lessons': ['music', 'instrument', 'pipeline', 'worker', 'state'],
  state: ['music', 'instrument', 'pipeline', 'worker', 'playback', 'export'],
  ui: [
    'music',
    'instrument',
    'pipeline',
    'night',
    'state',
    'state/auditions',
    'state/both-ways',
    'state/lessons',
    'state/night',
    'state/evening',
    'notation',
  ],
  cli: ['music', 'instrument', 'pipeline', 'export', 'page', 'night', 'state/night'],
};

/** Folders that must give the same answer to the same question: nothing from outside may enter. */
const pure = ['cache', 'music', 'instrument', 'pipeline', 'night', 'notation', 'export', 'page'];

/** The one folder or file that may use a library. */
const soleUsers: Readonly<Record<string, string>> = {
  'lru-cache': 'cache/',
  tonal: 'music/tonal.ts',
  tone: 'playback/tone',
  'workbox-core': 'offline/',
  'workbox-window': 'offline/',
  'workbox-precaching': 'offline/',
};

interface Import {
  readonly from: string;
  readonly target: string;
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.(ts|svelte)$/.test(entry.name))
    .map((entry) => relative(source, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
}

const files = filesBelow(source).filter((file) => !file.startsWith('build/'));
const textOf = (file: string): string => readFileSync(join(source, file), 'utf8');
const layerOf = (file: string): string | undefined =>
  Object.keys(allowed).find((layer) => file.startsWith(`${layer}/`));

const importPattern = /(?:\bfrom\s*|\bimport\s*\(?\s*)['"]([^'"]+)['"]/g;

function importsOf(file: string): Import[] {
  return [...textOf(file).matchAll(importPattern)].map((match) => ({ from: file, target: match[1]! }));
}

/** A relative import as a path below src; undefined for packages and for what lies outside. */
function insideTarget({ from, target }: Import): string | undefined {
  if (!target.startsWith('.')) return undefined;
  const path = relative(source, resolve(source, dirname(from), target.replace(/\?.*$/, '')));
  return path.startsWith('..') ? undefined : path.split(sep).join('/');
}

/** A layer outside the pipeline that may import it may import its stages' types and functions, too. */
function mayImport(layer: string, target: string | undefined): boolean {
  if (target === undefined) return false;
  const list = allowed[layer]!;
  return list.includes(target) || (!layer.startsWith('pipeline') && list.includes(target.split('/')[0]!));
}

const imports = files.flatMap(importsOf);

describe('architecture', () => {
  it('sees the files and their imports', () => {
    expect(files.length).toBeGreaterThan(40);
    expect(imports.length).toBeGreaterThan(100);
  });

  it('lets each layer import only what the table allows', () => {
    const wrong = imports.filter((one) => {
      const layer = layerOf(one.from);
      const target = insideTarget(one);
      if (layer === undefined || target === undefined) return false;
      const targetLayer = layerOf(`${target}/`);
      return targetLayer !== layer && !mayImport(layer, targetLayer);
    });
    expect(wrong).toEqual([]);
  });

  it('enters a layer through its index', () => {
    const wrong = imports.filter((one) => {
      const target = insideTarget(one);
      if (target === undefined) return false;
      const from = layerOf(one.from);
      const to = layerOf(`${target}/`);
      if (to === undefined || from === to || target === to || target === `${to}/index`) return false;
      // A folder within a layer sees the files of the layer that it lies in.
      if (from?.startsWith(`${to}/`)) return false;
      // Svelte components are entered by file, the worker by its own URL, large parts are fetched when they are needed.
      return !/\.svelte$|\.css$/.test(target) && one.from !== 'main.ts';
    });
    expect(wrong).toEqual([]);
  });

  it('keeps the rooms of the pipeline in their order', () => {
    const rooms: Readonly<Record<string, readonly string[]>> = {
      problem: [],
      choice: ['problem'],
      explain: ['problem', 'choice'],
      given: ['problem', 'choice'],
      lessons: ['problem', 'choice', 'given', 'pipeline'],
    };
    const others = [...Object.keys(rooms), 'pipeline', 'plain-settings', 'index'];
    const wrong = imports.filter((one) => {
      const from = /^pipeline\/(\w+)\//.exec(one.from)?.[1] ?? '';
      const to = /^pipeline\/([\w-]+)/.exec(insideTarget(one) ?? '')?.[1] ?? '';
      return from in rooms && from !== to && others.includes(to) && !rooms[from]!.includes(to);
    });
    expect(wrong).toEqual([]);
    for (const room of Object.keys(rooms))
      expect(
        files.some((file) => file.startsWith(`pipeline/${room}/`)),
        room,
      ).toBe(true);
  });

  it('says by name what leaves the pipeline, and nothing that nobody asks for', () => {
    const index = textOf('pipeline/index.ts');
    expect(index).not.toMatch(/export \*/);
    const names = [...index.matchAll(/^ {2}(?:type )?(\w+),$/gm)].map(([, name]) => name!);
    expect(names.length).toBeGreaterThan(100);
    const asked = [...filesBelow(source), ...filesBelow(join(root, 'tests'))]
      .filter((file) => !file.startsWith('pipeline/'))
      .flatMap((file) => [...textOf(file).matchAll(/\{([^{}]*)\}\s*from '[^']*\/pipeline'/g)])
      .flatMap(([, list]) => [...list!.matchAll(/(?:type )?(\w+)(?: as \w+)?/g)].map(([, name]) => name!));
    expect(names.filter((name) => !asked.includes(name))).toEqual([]);
  });

  it('keeps data free of imports and logic free of other people’s data', () => {
    const dataFiles = readdirSync(join(root, 'shared'), { withFileTypes: true, recursive: true })
      .filter((entry) => entry.isFile())
      .map((entry) => entry.name);
    expect(dataFiles.filter((name) => !/\.(json|tsv|txt|md)$/.test(name))).toEqual([]);
  });

  it('gives libraries one user each', () => {
    const wrong = imports.filter(({ from, target }) =>
      Object.entries(soleUsers).some(
        ([library, user]) =>
          (target === library || target.startsWith(`${library}/`)) && !from.startsWith(user),
      ),
    );
    expect(wrong).toEqual([]);
  });

  it('keeps clock, chance, page and storage out of the pure folders', () => {
    const forbidden =
      /\b(Date\.now|new Date|Math\.random|performance\.now|document\.|window\.|localStorage|indexedDB|fetch\(|\$state|\$derived|\$effect)/;
    const wrong = files
      .filter((file) => pure.some((folder) => file.startsWith(`${folder}/`)))
      .filter((file) => forbidden.test(textOf(file).replace(/\/\/.*|\/\*[\s\S]*?\*\//g, '')));
    expect(wrong).toEqual([]);
  });

  it('keeps nothing at module level in the pure folders', () => {
    // A weak map from a value to what is worked out of it alone goes with the value, and is no state.
    const changing =
      /^(?:export )?(?:(?:let|var) (\w+)|const (\w+)(?:: [^=]+)? = new (?:Map|Set|Array)(?:<.*>)?\(\))/gm;
    const found = files
      .filter((file) => pure.some((folder) => file.startsWith(`${folder}/`)))
      .flatMap((file) =>
        [...textOf(file).matchAll(changing)].map(([, counted, kept]) => `${file}: ${(counted ?? kept)!}`),
      );
    expect(found).toEqual([]);
  });

  it('has no import cycles', () => {
    const graph = new Map<string, string[]>();
    const resolveFile = (path: string): string | undefined =>
      [path, `${path}.ts`, `${path}/index.ts`, path.replace(/\.js$/, '.ts')].find((one) =>
        files.includes(one),
      );
    for (const file of files) {
      const targets = importsOf(file).map((one) => insideTarget(one));
      graph.set(
        file,
        targets.flatMap((target) => (target === undefined ? [] : (resolveFile(target) ?? []))),
      );
    }
    const done = new Set<string>();
    const cycles: string[] = [];
    const visit = (file: string, trail: readonly string[]): void => {
      if (trail.includes(file)) {
        cycles.push([...trail.slice(trail.indexOf(file)), file].join(' -> '));
        return;
      }
      if (done.has(file)) return;
      for (const next of graph.get(file) ?? []) visit(next, [...trail, file]);
      done.add(file);
    };
    for (const file of files) visit(file, []);
    expect(cycles).toEqual([]);
  });

  it('keeps the top level as it is laid out', () => {
    const expected = new Set(
      `README.md DEVELOPERS.md package.json package-lock.json tsconfig.json svelte.config.js LICENSE src tests shared static .ci .gitignore .npmrc`.split(
        ' ',
      ),
    );
    const ignored = new Set(['node_modules', 'dist', 'bin', '.git', 'test-results']);
    const extra = readdirSync(root).filter(
      (name) => !expected.has(name) && !ignored.has(name) && !name.endsWith('.tgz'),
    );
    expect(extra).toEqual([]);
  });
});
