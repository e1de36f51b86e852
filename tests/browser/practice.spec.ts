// Practising as a person does it: the stand view by pedal, what each time round brings, and a sound file.
import { readFile } from 'node:fs/promises';
import { test } from '@playwright/test';
import { axeFindings, expect, openApp, testTimeout, watch } from './page';

test.setTimeout(testTimeout);

test('the stand view is reached by keys, starts and stops by pedal, and gives the focus back', async ({
  page,
  baseURL,
}) => {
  const seen = watch(page, baseURL ?? '');
  await openApp(page);
  const opener = page.getByRole('button', { name: /^Practise/ });
  await opener.focus();
  await page.keyboard.press('Enter');
  const panel = page.getByRole('region', { name: 'Practise' });
  await expect(panel).toBeVisible();
  expect(await axeFindings(page)).toEqual([]);
  await panel.getByRole('button', { name: 'Stand view' }).press('Enter');
  const stand = page.getByRole('dialog', { name: 'Stand view' });
  await expect(stand.getByText('Next')).toBeVisible();
  await expect(stand.locator('.bars .system').first()).toBeVisible();
  expect(await axeFindings(page)).toEqual([]);
  const where = stand.locator('.where');
  await page.keyboard.press('PageDown');
  await expect(stand.getByRole('button', { name: 'Stop' })).toBeVisible();
  // It follows: the bar after the one it was opened on.
  const first = Number(/\d+/.exec((await where.textContent()) ?? '')?.[0]);
  await expect(where).toContainText(`Bar ${first + 1}`);
  await page.keyboard.press('PageUp');
  await expect(stand.getByRole('button', { name: 'Play' })).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(stand).toBeHidden();
  expect(seen).toEqual({ errors: [], strangers: [] });
});

test('a sound file of one bar is downloaded, exact in length', async ({ page }) => {
  await openApp(page);
  await page.getByRole('button', { name: /^Practise/ }).click();
  const panel = page.getByRole('region', { name: 'Practise' });
  await panel.getByLabel('to bar').fill('1');
  await panel.getByLabel('to bar').press('Enter');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByLabel('What is heard').selectOption('bass');
  const arriving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Make it' }).click();
  const download = await arriving;
  expect(download.suggestedFilename()).toMatch(/\.wav$/);
  const bytes = await readFile(await download.path());
  // The first study is in four at 132; two seconds are left to ring out.
  const frames = Math.round(((4 * 60) / 132 + 2) * 44_100);
  expect(bytes.length).toBe(44 + 2 * frames);
  expect(bytes.toString('latin1', 0, 4)).toBe('RIFF');
});

test('each time round in another key: the line follows, the study stays', async ({ page }) => {
  await openApp(page);
  await page.getByRole('button', { name: /^Practise/ }).click();
  const panel = page.getByRole('region', { name: 'Practise' });
  await panel.getByLabel('to bar').fill('2');
  await panel.getByLabel('to bar').press('Enter');
  await panel.getByLabel('Count-in').selectOption('0');
  await panel.getByLabel('Repeats').selectOption('next key');
  await panel.getByRole('button', { name: 'Close' }).click();
  const first = page.locator('main .system [data-bar="0"]').first();
  await expect(first).toHaveAccessibleName(/Bar 1, F/);
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await expect(first).toHaveAccessibleName(/Bar 1, B/);
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await expect(first).toHaveAccessibleName(/Bar 1, F/);
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
});
