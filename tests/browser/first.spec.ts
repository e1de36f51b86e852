// What a first visit sees before the program runs.
import { test } from '@playwright/test';
import { expect, openApp, testTimeout, watch } from './page';
import { bytesOfPage } from './page-bytes';

test.describe.configure({ timeout: testTimeout });

for (const [width, height] of [
  [1440, 900],
  [768, 1024],
  [390, 844],
] as const)
  test(`the line stands before the program runs, ${width} wide`, async ({ page, baseURL }) => {
    await page.setViewportSize({ width, height });
    const seen = watch(page, baseURL ?? '');
    const held: (() => void)[] = [];
    await page.route('**/start.js', (route) => void held.push(() => void route.continue()));
    await page.goto('./', { waitUntil: 'commit' });
    // The whole page has been read, and waits for its script.
    await expect.poll(() => page.evaluate(() => document.readyState)).toBe('interactive');
    const fingers = (sheet: string): Promise<(string | null)[]> =>
      page
        .locator(`${sheet} svg >> visible=true`)
        .first()
        .evaluate((system) => [...system.querySelectorAll('.fingers')].map((text) => text.textContent));
    await expect(page.locator('.first-sheet >> visible=true')).toHaveCount(1);
    await expect(page.locator('.first-head')).toContainText('Back Stairs Blues');
    const before = await fingers('.first-sheet');
    expect(before.join('')).toMatch(/^[0-4T]{4,}$/);
    // Engraved for this very width, so that nothing moves when the program takes over.
    const place = await page.locator('.first-sheet svg >> visible=true').first().boundingBox();
    await expect.poll(() => held.length).toBe(1);
    for (const go of held) go();
    await page.locator('[data-note]').first().waitFor();
    await expect(page.locator('.first')).toHaveCount(0);
    expect(await fingers('.staff')).toEqual(before);
    expect(await page.locator('.staff svg').first().boundingBox()).toEqual(place);
    expect(seen.errors).toEqual([]);
  });

test('whoever has been here, or follows a link, is not shown the first study', async ({ page }) => {
  await page.route('**/start.js', (route) => route.abort());
  await page.addInitScript(() => localStorage.setItem('ramble.visited', 'yes'));
  await page.goto('./');
  await expect(page.locator('.first')).toBeHidden();
});

test('what the first picture needs is sent in 200 KB, without player, solver and reader', () => {
  const files = bytesOfPage();
  expect(files.length).toBeGreaterThan(20);
  expect(files.reduce((sum, [, bytes]) => sum + bytes, 0) / 1024).toBeLessThan(200);
  const names = files.map(([file]) => file).join(' ');
  expect(names).not.toMatch(/\/(tone|read|doers|worker|lesson)-/);
});

test('a change marks the visit', async ({ page }) => {
  await openApp(page);
  const mark = (): Promise<string | null> => page.evaluate(() => localStorage.getItem('ramble.visited'));
  expect(await mark()).toBeNull();
  await page.keyboard.press('Shift+R');
  await expect.poll(mark).toBe('yes');
});
