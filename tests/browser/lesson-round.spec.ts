// A round through the keys: listed, on small staves, on paper, and any key of it on the sheet.
import { test } from '@playwright/test';
import { openLessons, sheetOf } from './lesson-page';
import { axeFindings, expect, layPaper, openApp, settled, watchEveryTest } from './page';

watchEveryTest();

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
  await expect(sheet).toContainText('A♭: Ground on');
  await expect(keys.nth(3)).toHaveAttribute('aria-pressed', 'true');
  expect(await axeFindings(page)).toEqual([]);

  const carry = page.getByRole('region', { name: 'This line in another key' });
  await carry.getByRole('combobox', { name: 'Key' }).selectOption({ label: 'G' });
  await carry.getByRole('button', { name: 'Take it there' }).press('Enter');
  await expect(sheet).toContainText('Your line in G');
  await expect(sheet).toContainText('2 semitones up');
  await sheet.getByRole('button', { name: 'Your line, before it' }).press('Enter');
  await sheet.getByRole('button', { name: 'Back to my line' }).press('Enter');
  await expect(sheet).toHaveCount(0);
});

test('a round stands on one page of small staves, on a phone, too, and on one sheet of paper', async ({
  page,
}) => {
  await page.addInitScript(() => {
    window.print = () => undefined;
  });
  await openApp(page);
  await settled(page);
  await openLessons(page);
  const round = page.getByRole('region', { name: 'Round the keys' });
  await round.getByRole('combobox', { name: 'Layer' }).selectOption('ground');
  await round.getByRole('button', { name: 'Make the round' }).press('Enter');
  await round.getByRole('button', { name: 'All keys on small staves' }).press('Enter', { timeout: 120_000 });
  const all = page.getByRole('main', { name: 'Round the keys' });
  await expect(all).toBeFocused();
  for (const size of [
    { width: 1440, height: 900 },
    { width: 390, height: 844 },
  ]) {
    await page.setViewportSize(size);
    await expect(all.locator('figure')).toHaveCount(12);
    await expect(all.getByRole('img', { name: /^F, bars 1 to/ })).toBeVisible();
    const fingers = (await all.locator('.fingers').allTextContents()).join('').replace(/\s/g, '');
    expect(fingers).toHaveLength(12 * 48);
    // No staff is cut off at the side, a picture after the window is another size.
    const isCut = (): Promise<boolean> =>
      all.evaluate((main) =>
        [...main.querySelectorAll('figure')].some((figure) => figure.scrollWidth > figure.clientWidth + 2),
      );
    await expect.poll(isCut).toBe(false);
    await expect
      .poll(() => page.evaluate(() => document.documentElement.scrollWidth > innerWidth))
      .toBe(false);
    expect(await axeFindings(page)).toEqual([]);
  }
  await all.getByRole('button', { name: 'Print the twelve keys' }).click();
  await layPaper(page);
  const paper = page.locator('.paper');
  await expect(paper.locator('figure')).toHaveCount(12);
  await expect(paper).toContainText('Ground round the keys.');
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  expect(pdf.match(/\/Type \/Page\b/g)).toHaveLength(1);
  await page.emulateMedia({ media: null });
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  await all.getByRole('button', { name: 'Open A♭ on the sheet' }).click();
  await expect(sheetOf(page)).toContainText('A♭: Ground on');
});
