import { defineConfig } from '@playwright/test';
import { fileURLToPath } from 'node:url';
import { findChromium } from './chromium.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const port = Number(process.env.TEST_PORT ?? 4319);
const chromium = findChromium();

export default defineConfig({
  testDir: `${root}/tests/browser`,
  testMatch: '**/*.spec.ts',
  outputDir: `${root}/test-results`,
  fullyParallel: true,
  workers: 2,
  // On a busy machine everything takes its time; what is waited for ends a wait as soon as it is there.
  timeout: 240_000,
  expect: { timeout: 45_000 },
  use: {
    baseURL: `http://127.0.0.1:${port}/`,
    viewport: { width: 1440, height: 900 },
    // Still pictures and no files kept beside: what tests do not look at should not cost them time.
    contextOptions: { reducedMotion: 'reduce' },
    serviceWorkers: 'block',
    launchOptions: {
      ...(chromium ? { executablePath: chromium } : {}),
      args: [
        '--headless=new',
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--autoplay-policy=user-gesture-required',
      ],
    },
  },
  webServer: {
    command: `node node_modules/vite/bin/vite.js preview --config src/build/vite.config.ts --port ${port} --strictPort`,
    cwd: root,
    url: `http://127.0.0.1:${port}/`,
    reuseExistingServer: false,
  },
});
