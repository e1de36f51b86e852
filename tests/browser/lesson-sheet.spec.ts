// A lesson on the sheet: made by keyboard, seen and heard before and after, on a phone, and left without a trace.
import { test, type Page } from '@playwright/test';
import { axeFindings, expect, openApp, settled, watchEveryTest } from './page';

watchEveryTest();

async function openLessons(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Menu', exact: true }).press('Enter');
  await page.locator('#panel-menu').getByRole('button', { name: 'Lessons', exact: true }).press('Enter');
}

const sheetOf = (page: Page) => page.getByRole('region', { name: 'Lesson', exact: true });
const notesOf = (page: Page): Promise<string[]> =>
  page
    .locator('.note')
    .evaluateAll((notes) =>
      notes.map((note) => (note.getAttribute('aria-label') ?? '').replace(/; [\d.]+ good choices.*$/, '')),
    );

test('a lesson changes as little as it can, marks what changed, and gives the line back', async ({
  page,
}) => {
  await openApp(page);
  await settled(page);
  const own = await notesOf(page);
  await openLessons(page);
  const maker = page.getByRole('region', { name: 'A lesson on this chart' });
  await maker.getByRole('combobox', { name: 'Layer', exact: true }).selectOption('below');
  await maker.getByRole('combobox', { name: 'Ground', exact: true }).selectOption('block');
  await maker.getByRole('combobox', { name: 'Changed from' }).selectOption('frame');
  await maker.getByRole('button', { name: 'Make the lesson' }).press('Enter');
  const sheet = sheetOf(page);
  await expect(sheet).toContainText('Lean below on Block');
  await expect(sheet).toContainText(/\d+ of 48 notes changed, marked with a wedge/);
  await expect(page.locator('.wedges').first()).toBeVisible();
  const count = Number(/(\d+) of 48/.exec(await sheet.innerText())![1]);
  await expect
    .poll(async () => (await notesOf(page)).filter((label) => label.endsWith('; changed')).length)
    .toBe(count);
  expect(await axeFindings(page)).toEqual([]);

  const after = await notesOf(page);
  await sheet.getByRole('button', { name: 'Frame, before it' }).press('Enter');
  await expect(page.locator('.wedges')).toHaveCount(0);
  await expect.poll(() => notesOf(page)).not.toEqual(after);
  const before = await notesOf(page);
  const place = (label: string): string => label.split(/[,;]/).slice(0, 2).join();
  const differing = before.filter((label, index) => place(label) !== place(after[index]!)).length;
  expect(differing).toBe(count);

  await sheet.getByRole('button', { name: 'Back to my line' }).press('Enter');
  await expect(sheet).toHaveCount(0);
  await expect.poll(() => notesOf(page)).toEqual(own);
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
});

test('a round lists twelve keys and opens any one; the line goes to another key and comes back', async ({
  page,
}) => {
  await openApp(page);
  await settled(page);
  await openLessons(page);
  const round = page.getByRole('region', { name: 'Round the keys' });
  await round.getByRole('combobox', { name: 'Layer' }).selectOption('ground');
  await round.getByRole('button', { name: 'Make the round' }).press('Enter');
  const keys = round.getByRole('list', { name: /Keys of the round/ }).getByRole('button');
  await expect(keys).toHaveCount(12, { timeout: 120_000 });
  await keys.nth(3).press('Enter');
  const sheet = sheetOf(page);
  await expect(sheet).toContainText('Ab major: Ground on');
  await expect(keys.nth(3)).toHaveAttribute('aria-pressed', 'true');
  expect(await axeFindings(page)).toEqual([]);

  await round.getByRole('combobox', { name: 'Key' }).selectOption({ label: 'G' });
  await round.getByRole('button', { name: 'Carry it there' }).press('Enter');
  await expect(sheet).toContainText('Your line in G');
  await expect(sheet).toContainText('2 semitones up');
  await sheet.getByRole('button', { name: 'Your line, before it' }).press('Enter');
  await sheet.getByRole('button', { name: 'Back to my line' }).press('Enter');
  await expect(sheet).toHaveCount(0);
});

test('on a phone the lesson is read under its sentence, and what cannot be says why', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openApp(page);
  await settled(page);
  await openLessons(page);
  const maker = page.getByRole('region', { name: 'A lesson on this chart' });
  await maker.getByRole('combobox', { name: 'Layer', exact: true }).selectOption('stairs');
  await maker.getByRole('button', { name: 'Make the lesson' }).click();
  await expect(maker).toContainText('Stairs on Anywhere lies on the sheet.');
  await page.getByRole('region', { name: 'Lessons' }).getByRole('button', { name: 'Close' }).click();
  await expect(sheetOf(page)).toContainText('Stairs on Anywhere');
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
  expect(wide).toBe(false);
  expect(await axeFindings(page)).toEqual([]);
});
