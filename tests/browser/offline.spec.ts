// After the first visit the program needs no connection.
import { appendFileSync, cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from '@playwright/test';
import {
  expect,
  fingerboard,
  firstTake,
  openApp,
  readLine,
  secondTake,
  settled,
  testTimeout,
  watch,
} from './page';
import { serve } from './host';

test.describe.configure({ timeout: testTimeout });
test.use({ serviceWorkers: 'allow' });

test('opens, solves and plays without a connection from the second visit on', async ({
  page,
  context,
  baseURL,
}) => {
  const seen = watch(page, baseURL ?? '');
  await openApp(page);
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
  });
  await settled(page);
  const before = await readLine(page);
  await context.setOffline(true);
  await page.reload();
  await expect(fingerboard(page)).toHaveAttribute('aria-label', /string/);
  await settled(page);
  expect(await readLine(page)).toEqual(before);

  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toBeVisible();
  await page.waitForTimeout(1500);
  await expect(page.getByText('stand-ins play')).toHaveCount(0);
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  expect(seen.errors).toEqual([]);
  expect(seen.strangers).toEqual([]);
});

test('a new version waits until the person reloads, and the work stays', async ({ page }) => {
  const folder = mkdtempSync(join(tmpdir(), 'ramble-versions-'));
  cpSync('dist', folder, { recursive: true });
  const server = await serve(folder);
  try {
    await openApp(page, server.address);
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await page.getByRole('button', { name: firstTake, exact: true }).waitFor();
    await page.keyboard.press('Shift+R');
    await expect(page.getByRole('button', { name: secondTake, exact: true })).toBeVisible();
    await settled(page);
    appendFileSync(join(folder, 'sw.js'), '\n// the next version\n');
    await page.evaluate(async () => {
      Object.assign(globalThis, { isTheSamePage: true });
      await (await navigator.serviceWorker.ready).update();
    });
    const notice = page.getByText('A new version of Ramble is ready.');
    await expect(notice).toBeVisible();
    expect(await page.evaluate(() => 'isTheSamePage' in globalThis)).toBe(true);
    const loaded = page.waitForEvent('load');
    await page.getByRole('button', { name: 'Reload', exact: true }).click();
    await loaded;
    expect(await page.evaluate(() => 'isTheSamePage' in globalThis)).toBe(false);
    await expect(page.getByRole('button', { name: secondTake, exact: true })).toBeVisible();
    await expect(notice).toHaveCount(0);
  } finally {
    await server.close();
    rmSync(folder, { recursive: true });
  }
});

test('can be installed: manifest, icons and one start address', async ({ page }) => {
  await openApp(page);
  const manifest = await page.evaluate(async () => {
    const link = document.querySelector<HTMLLinkElement>('link[rel=manifest]');
    return (await (await fetch(link?.href ?? '')).json()) as {
      start_url: string;
      display: string;
      icons: { src: string; sizes: string }[];
    };
  });
  expect(manifest.display).toBe('standalone');
  expect(manifest.start_url).toBe('./');
  for (const size of ['192x192', '512x512']) expect(manifest.icons.map(({ sizes }) => sizes)).toContain(size);
  for (const { src } of manifest.icons) expect((await page.request.get(src)).ok()).toBe(true);
});
