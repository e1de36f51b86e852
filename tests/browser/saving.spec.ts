// Work that is kept: files, the browser's own storage, two tabs, links.
import { test } from '@playwright/test';
import { expect, openApp, openChanges, watch, watchEveryTest } from './page';

watchEveryTest();

test('MusicXML, MIDI and study files are whole', async ({ page }) => {
  await openApp(page);
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  const fileOf = async (name: string): Promise<{ name: string; bytes: Buffer }> => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name, exact: true }).click(),
    ]);
    const chunks: Buffer[] = [];
    for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
    return { name: download.suggestedFilename(), bytes: Buffer.concat(chunks) };
  };
  const score = await fileOf('MusicXML');
  expect(score.name).toBe('back-stairs-blues.musicxml');
  const parsed = await page.evaluate((text) => {
    const score = new DOMParser().parseFromString(text, 'application/xml');
    return {
      broken: score.querySelector('parsererror') !== null,
      root: score.documentElement.tagName,
      notes: score.querySelectorAll('note').length,
    };
  }, score.bytes.toString('utf8'));
  expect(parsed).toMatchObject({ broken: false, root: 'score-partwise' });
  expect(parsed.notes).toBeGreaterThanOrEqual(48);
  const midi = await fileOf('MIDI');
  expect(midi.name).toBe('back-stairs-blues.mid');
  expect(midi.bytes.subarray(0, 4).toString('latin1')).toBe('MThd');
  expect(midi.bytes.readUInt16BE(12)).toBe(480);
  const study = await fileOf('Study file');
  expect(JSON.parse(study.bytes.toString('utf8'))).toMatchObject({ format: 'ramble-study', version: 2 });
});

test('work is saved by itself and comes back after a reload', async ({ page }) => {
  await openApp(page);
  const field = await openChanges(page);
  await field.fill('Title: Kept\nKey: C\n| C6 | A7 | Dm7 | G7 |');
  await expect(page.locator('header .saving')).toHaveText(/saved/);
  await expect(page.locator('header .saving')).not.toHaveText(/…/);
  await page.reload();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Kept');
});

test('two tabs on one study lose nothing', async ({ page, context, baseURL }) => {
  await openApp(page);
  const field = await openChanges(page);
  await field.fill('Title: Shared\n| C6 | C6 |');
  await expect(page.locator('header .saving')).toHaveText(/· saved/);
  const other = await context.newPage();
  const seenThere = watch(other, baseURL ?? '');
  await other.goto('./');
  await expect(other.getByRole('heading', { level: 1 })).toHaveText('Shared');
  await field.fill('Title: Shared\n| C6 | A7 |');
  await expect(page.locator('header .saving')).toHaveText(/· saved/);
  const field2 = await openChanges(other);
  await field2.fill('Title: Shared\n| C6 | D7 |');
  await expect(other.getByText('changed in another tab')).toBeVisible();
  await other.getByRole('button', { name: 'Studies', exact: true }).click();
  await expect(other.locator('#drawer-studies li .actions')).toHaveCount(2);
  expect(seenThere.errors).toEqual([]);
});

test('a link brings the study; a broken one leaves the work alone', async ({ page, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await openApp(page);
  const field = await openChanges(page);
  await field.fill('Title: Sent\nKey: Eb\n| Eb6 | Cm7 | Fm7 | Bb7 |');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Sent');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByRole('button', { name: 'Copy a link' }).click();
  const link = await page.evaluate(() => navigator.clipboard.readText());
  const other = await (await context.browser()?.newContext())?.newPage();
  if (!other) throw new Error('no second browser window');
  await other.goto(link);
  await expect(other.getByRole('heading', { level: 1 })).toHaveText('Sent');
  await expect.poll(() => other.evaluate(() => location.hash)).toBe('');
  await other.evaluate(
    (broken) => {
      location.hash = broken;
    },
    new URL(link).hash.slice(0, -5),
  );
  await expect(other.getByText('not complete')).toBeVisible();
  await expect(other.getByRole('heading', { level: 1 })).toHaveText('Sent');
  await other.context().close();
});
