import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const path = (relative: string): string => fileURLToPath(new URL(relative, import.meta.url));

export default defineConfig({
  root: path('..'),
  publicDir: path('../../static'),
  base: './',
  plugins: [svelte({ configFile: path('../../svelte.config.js') })],
  worker: { format: 'es' },
  build: {
    outDir: path('../../dist'),
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  preview: { port: 4173, host: '127.0.0.1' },
  server: { host: '127.0.0.1', fs: { allow: [path('../..')] } },
});
