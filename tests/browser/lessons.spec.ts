// A student's day with the Lessons drawer, by keyboard, on a phone, and kept until tomorrow.
import { test } from '@playwright/test';
import { openLessons } from './lesson-page';
import { axeFindings, expect, layPaper, openApp, settled, watchEveryTest } from './page';

watchEveryTest();

test('a student’s day: the plan, a card that shows itself only when it was answered, a clean pass', async ({
  page,
}) => {
  await openApp(page);
  await settled(page);
  await openLessons(page);
  const drawer = page.getByRole('region', { name: 'Lessons' });
  await expect(drawer.getByRole('listitem').first()).toContainText('Anchors');
  await drawer.getByRole('button', { name: 'Start the clock' }).press('Enter');
  await expect(drawer.getByRole('timer')).toContainText('left');
  await drawer.getByRole('button', { name: 'Next part' }).press('Enter');
  await expect(drawer.locator('[aria-current=step]')).toContainText('The new layer');
  await drawer.getByRole('button', { name: 'Next part' }).press('Enter');
  await expect(drawer.locator('[aria-current=step]')).toContainText('Names');
  await drawer.getByRole('button', { name: 'Stop the clock' }).press('Enter');

  const cards = drawer.getByRole('region', { name: 'Cards' });
  await expect(cards).toContainText('Semitone below, into the root of C7');
  await expect(cards.locator('.system')).toHaveCount(0);
  await cards.getByRole('button', { name: 'Had it', exact: true }).press('Enter');
  await expect(cards.locator('.answer')).toHaveText('B → C');
  await expect(cards.locator('.system').first()).toBeVisible();
  expect(await axeFindings(page)).toEqual([]);
  await cards.getByRole('button', { name: 'Next card' }).press('Enter');
  await expect(cards).toContainText('4 cards left today');

  await drawer.getByRole('button', { name: 'A clean pass' }).press('Enter');
  await expect(drawer).toContainText('1 of 1 passes clean today.');
  await expect(drawer.getByRole('table', { name: 'Devices in this line' })).toContainText('semitone below');

  await page.reload();
  await settled(page);
  await page.getByRole('button', { name: 'Lessons', exact: true }).click();
  await expect(drawer).toContainText('1 of 1 passes clean today.');
  await expect(drawer).toContainText('4 cards left today');
});

test('on a phone the drawer is found in the menu, and times are the player’s to set', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openApp(page);
  await settled(page);
  await page.getByRole('button', { name: 'Menu', exact: true }).click();
  await page.locator('#panel-menu').getByRole('button', { name: 'Lessons', exact: true }).click();
  const drawer = page.getByRole('region', { name: 'Lessons' });
  await drawer.getByText('Minutes, and when cards come back').click();
  await drawer.getByRole('spinbutton', { name: 'Minutes a day' }).fill('10');
  await drawer.getByRole('spinbutton', { name: 'Minutes a day' }).press('Enter');
  await drawer.getByRole('spinbutton', { name: 'New cards a day' }).fill('2');
  await drawer.getByRole('spinbutton', { name: 'New cards a day' }).press('Enter');
  await expect(drawer).toContainText('2 cards left today');
  expect(await axeFindings(page)).toEqual([]);
});

test('the ways into a chosen note have prices, can be heard and printed, and one can be kept', async ({
  page,
}) => {
  await page.addInitScript(() => {
    window.print = () => undefined;
  });
  await openApp(page);
  await settled(page);
  await page.locator('.note[data-note="4"]').click();
  await page.getByRole('button', { name: 'Lessons', exact: true }).click();
  const ways = page.getByRole('region', { name: 'Ways in' });
  await ways.getByRole('button', { name: 'Work out the ways into bar 2, beat 1' }).click();
  const below = ways.getByRole('button', { name: /^semitone below/ });
  // Dozens of solves: as long as a busy machine takes.
  await expect(below).toContainText(/\d/, { timeout: 150_000 });
  // Tried and heard by keys: the way lies on the sheet while it sounds, and the line comes back after it.
  const noteAt = (index: number): Promise<string | null> =>
    page.locator(`.note[data-note="${index}"]`).getAttribute('aria-label');
  const own = await noteAt(3);
  await ways.locator('button.way').first().focus();
  await page.keyboard.press('ArrowDown');
  await expect(ways.locator('button.way').nth(1)).toBeFocused();
  await expect(ways.locator('button.way').nth(1)).toHaveAttribute('aria-expanded', 'true');
  await below.focus();
  await page.keyboard.press(' ');
  await expect(below).toHaveAttribute('aria-expanded', 'true');
  await expect(ways.getByRole('status')).toContainText('Semitone below is heard and shown');
  expect(await axeFindings(page)).toEqual([]);
  await expect(ways.getByRole('status')).not.toContainText('is heard');
  expect(await noteAt(3)).toBe(own);

  const paper = page.locator('.paper');
  for (const name of ['Letter', 'A4']) {
    await ways.getByRole('combobox', { name: 'Paper' }).selectOption(name);
    await ways.getByRole('button', { name: 'Print the five best on one sheet' }).click();
    await layPaper(page);
    await expect(paper.locator('li')).toHaveCount(5);
    await expect(paper).toContainText(/The 5 best ways into bar 2, beat 1: the root of/);
    await expect(paper).toContainText(/price \+?\d/);
    await expect(paper.locator('.device-names')).toHaveCount(5);
    expect(await paper.locator('.fingers').first().textContent()).toMatch(/\d/);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type \/Page\b/g)).toHaveLength(1);
    await page.emulateMedia({ media: null });
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    await expect(paper).toHaveCount(0);
  }

  await ways.getByRole('button', { name: 'Keep this way' }).click();
  await settled(page);
  // It may be part of something longer now; the panel tells all of it.
  await page.locator('.note[data-note="3"]').click();
  const panel = page.getByRole('complementary', { name: 'Beat and hand' });
  await expect(panel.locator('.labels')).toContainText('semitone below');
  await expect(panel).toContainText('Pinned');
});
