import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';
import { firstLine } from './first-line.ts';
import { hosting } from './hosting.ts';
import { licences } from './licences.ts';
import { offline } from './offline.ts';

const path = (relative: string): string => fileURLToPath(new URL(relative, import.meta.url));

/** While developing, styles come as elements made by scripts, which the built page's security policy forbids. */
const allowInjectedStyles: Plugin = {
  name: 'allow-injected-styles',
  apply: 'serve',
  transformIndexHtml: (html, { server }) =>
    server ? html.replace("style-src 'self'", "style-src 'self' 'unsafe-inline'") : html,
};

const { collect, check } = licences();

export default defineConfig({
  root: path('..'),
  publicDir: path('../../static'),
  base: './',
  plugins: [
    svelte({ configFile: path('../../svelte.config.js') }),
    allowInjectedStyles,
    firstLine({
      source: path('..'),
      svelteConfig: path('../../svelte.config.js'),
      charts: path('../../shared/charts'),
    }),
    collect(),
    offline(path('../offline/service-worker.ts'), path('../../dist'), collect()),
    check(),
    hosting(),
  ],
  worker: { format: 'es', plugins: () => [collect()] },
  build: {
    outDir: path('../../dist'),
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // Working out the first line takes its time, and is meant to.
    rolldownOptions: {
      checks: { pluginTimings: false },
      // Of the note-arithmetic library two parts are used; the others fill dictionaries when they are run, and need not be.
      treeshake: { moduleSideEffects: [{ test: /node_modules\/@?tonal/, sideEffects: false }] },
    },
  },
  preview: { port: 4173, host: '127.0.0.1' },
  server: { host: '127.0.0.1', fs: { allow: [path('../..')] } },
});
