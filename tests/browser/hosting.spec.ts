// The built folder on any static host: from any path, with nothing absolute in it, and as the preview serves it.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { networkInterfaces } from 'node:os';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { test } from '@playwright/test';
import { cacheFor, headersForAll } from '../../src/build/hosting';
import { serve } from './host';
import { expect, fingerboard, testTimeout, watch } from './page';

test.describe.configure({ timeout: testTimeout });

const root = fileURLToPath(new URL('../..', import.meta.url));
const dist = join(root, 'dist');
const files = readdirSync(dist, { withFileTypes: true, recursive: true })
  .filter((entry) => entry.isFile())
  .map((entry) => relative(dist, join(entry.parentPath, entry.name)));
const texts = files
  .filter((name) => /\.(html|js|css|svg|webmanifest)$/.test(name))
  .map((name) => ({ name, text: readFileSync(join(dist, name), 'utf8') }));

/** Addresses that are names or are read by people: nothing is fetched from them. Each with where it comes from. */
const names: readonly RegExp[] = [
  // Names of XML languages and of the public MusicXML grammar.
  /^http:\/\/www\.w3\.org\/(1999\/xhtml|2000\/svg|2000\/xmlns\/|XML\/1998\/namespace|1998\/Math\/MathML|1999\/xlink)$/,
  /^http:\/\/www\.musicxml\.org\/dtds\/partwise\.dtd$/,
  // In messages of errors, to be looked up by a developer.
  /^https:\/\/svelte\.dev\/e\/\w+$/,
  /^https:\/\/bit\.ly\/wb-precache$/,
  // In licence texts.
  /^https?:\/\/(github\.com\/|scripts\.sil\.org\/OFL|openfontlicense\.org|mathiasbynens\.be|www\.apache\.org\/licenses|blueoakcouncil\.org\/license)/,
];

test('nothing in the build points outside it', () => {
  const outside = texts.flatMap(({ name, text }) =>
    [...text.matchAll(/(?:https?|wss?):\/\/[^\s"'`\\)<>,]*[\w/]/g)]
      .map(([address]) => address)
      .filter((address) => !names.some((known) => known.test(address)))
      .map((address) => `${name}: ${address}`),
  );
  expect(outside).toEqual([]);
});

test('nothing in the build is tied to a path of a host or of the machine that built it', () => {
  const absolute = texts.flatMap(({ name, text }) =>
    [
      ...text.matchAll(
        /\b(?:src|href|content|action)="\/[^"]*|url\(["']?\/[^)]*|["'`]\/(?:assets|samples|fonts)\/[^"'`]*/g,
      ),
    ].map(([place]) => `${name}: ${place}`),
  );
  expect(absolute).toEqual([]);
  expect(texts.filter(({ text }) => text.includes(root.replace(/\/$/, ''))).map(({ name }) => name)).toEqual(
    [],
  );
});

test('nothing is shipped that no page asks for', () => {
  const all = texts.map(({ text }) => text).join('\n');
  const unasked = files.filter((name) => {
    const base = name.split('/').at(-1)!;
    // Sounds are asked for by the stem of their name.
    return !all.includes(base) && !all.includes(base.replace(/-?\w*\.mp3$/, '')) && name !== 'index.html';
  });
  expect(unasked).toEqual([]);
  expect(existsSync(join(dist, 'ramble.png'))).toBe(false);
});

test('the page works from a path of any name, its workers and sounds and offline copy with it', async ({
  browser,
}) => {
  const host = await serve(dist, '/musik für alle/a+b/ramble/');
  const context = await browser.newContext({ serviceWorkers: 'allow' });
  const page = await context.newPage();
  const seen = watch(page, host.address);
  await page.goto(host.address);
  await expect(fingerboard(page)).toHaveAttribute('aria-label', /string/);
  await page.keyboard.press('Shift+R');
  await expect(page.locator('main .board figure')).toHaveAttribute('aria-busy', 'false');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toBeVisible();
  await expect
    .poll(() => page.evaluate(async () => (await navigator.serviceWorker.ready).scope))
    .toBe(host.address);
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  expect(seen).toEqual({ errors: [], strangers: [] });
  expect(host.missed.filter((path) => !path.endsWith('/favicon.ico'))).toEqual([]);
  await context.close();
  await host.close();
});

test('the preview answers as a host should: what is missing is missing, and no other page may frame it', async ({
  page,
  request,
}) => {
  for (const path of ['./nothing', './assets/nothing.js', './samples/nothing.mp3', './a/b/'])
    expect((await request.get(path)).status(), path).toBe(404);
  const asset = `/${files.find((name) => name.startsWith('assets/'))!}`;
  for (const path of ['/', asset, '/sw.js']) {
    const answer = await request.get(`.${path}`);
    expect(answer.status()).toBe(200);
    expect(answer.headers()['cache-control'], path).toBe(cacheFor(path));
    for (const [name, value] of Object.entries(headersForAll))
      expect(answer.headers()[name.toLowerCase()], name).toBe(value);
  }
  const framing = await serve(join(root, 'tests/browser/frame'));
  await page.goto(framing.address);
  const address = (await request.get('./')).url();
  await page.evaluate((source) => {
    const frame = document.createElement('iframe');
    frame.src = source;
    document.body.append(frame);
    return new Promise((loaded) => frame.addEventListener('load', loaded));
  }, address);
  expect(await page.frames()[1]?.locator('#app').count()).toBe(0);
  await framing.close();
});

test('the preview is there for this machine only', async ({ baseURL }) => {
  const others = Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(({ internal, family }) => !internal && family === 'IPv4')
    .map(({ address }) => address);
  test.skip(others.length === 0, 'this machine has no address that another could use');
  const { port } = new URL(baseURL ?? '');
  for (const address of others) await expect(fetch(`http://${address}:${port}/`)).rejects.toThrow();
});
