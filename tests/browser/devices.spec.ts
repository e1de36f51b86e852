// Approaches and devices on the screen: shown by a key, kept as a preference, said in the panel.
import { axeFindings, expect, openApp, settled, watchEveryTest } from './page';
import { test } from '@playwright/test';

watchEveryTest();

test('devices are bracketed and named under the staff by a key, and stay so', async ({ page }) => {
  await openApp(page);
  await settled(page);
  const names = page.locator('.device-names');
  await expect(names).toHaveCount(0);
  await page.keyboard.press('d');
  await expect(names.first()).toContainText(/semitone|step|fifth|chromatic|enclosure|run/);
  expect(await axeFindings(page)).toEqual([]);
  await page.reload();
  await settled(page);
  await expect(names.first()).toBeVisible();
  await page.getByRole('button', { name: 'Menu', exact: true }).click();
  const check = page.getByRole('checkbox', { name: 'Show approaches and devices in brackets' });
  await expect(check).toBeChecked();
  await check.uncheck();
  await expect(names).toHaveCount(0);
});

test('the panel says what a note is in its chord and what it does', async ({ page }) => {
  await openApp(page);
  await settled(page);
  const panel = page.getByRole('complementary', { name: 'Beat and hand' });
  const note = (index: number) => page.locator(`.note[data-note="${index}"]`);
  await note(0).click();
  await expect(panel.locator('.labels')).toHaveText(/^(root|major third|fifth|minor seventh)(;|$)/);
  // The note says the same to those who do not see the panel.
  for (const index of [1, 2, 3]) {
    await note(index).click();
    const spoken = await note(index).getAttribute('aria-label');
    const label = /; ([^;]+), over /.exec(spoken!)![1]!;
    await expect(panel.locator('.labels')).toContainText(label.replace(/^outside$/, 'outside,'));
  }
});
