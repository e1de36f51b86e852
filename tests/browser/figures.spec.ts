// Figures on every page and panel stand on the line and are equally wide: counts, tables, tempo, keys.
import { test, type Page } from '@playwright/test';
import { expect, openApp, openFromMenu, settled, watchEveryTest } from './page';

watchEveryTest();

/** Texts with figures that are not lining. */
const oldStyle = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const found = new Set<string>();
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let text = texts.nextNode(); text; text = texts.nextNode()) {
      const parent = text.parentElement;
      const said = text.textContent?.trim() ?? '';
      if (!parent || !/\d/.test(said) || !parent.checkVisibility({ visibilityProperty: true })) continue;
      const { fontVariantNumeric, fontFamily } = getComputedStyle(parent);
      // The editor of chart text is set in a plain face that has but one kind of figures.
      if (fontFamily.includes('monospace')) continue;
      if (!fontVariantNumeric.includes('lining-nums')) found.add(`${parent.className}: ${said}`);
    }
    return [...found];
  });

test('figures are lining ones wherever they stand', async ({ page }) => {
  await page.setViewportSize({ width: 1024, height: 768 });
  await openApp(page);
  await settled(page);
  expect(await oldStyle(page)).toEqual([]);
  await page.keyboard.press('a');
  await expect(page.locator('main')).toContainText('10 of 10');
  expect(await oldStyle(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await page.keyboard.press('?');
  await expect(page.getByRole('dialog')).toContainText('1, 2, 3, 4');
  expect(await oldStyle(page)).toEqual([]);
  await page.keyboard.press('Escape');
  for (const name of [
    'Limits',
    'Hand',
    'Lessons',
    'Print',
    'Save',
    'Studies',
    'The night',
    'Usual and open',
  ]) {
    await openFromMenu(page, name);
    await expect(page.locator('[aria-busy=true]')).toHaveCount(0);
    expect(await oldStyle(page), name).toEqual([]);
    await page.keyboard.press('Escape');
  }
  for (const name of [/^tempo/, /^Practise/, /^Parts$/, /^chorus/, /^Take /]) {
    await page.getByRole('button', { name }).first().click();
    expect(await oldStyle(page), String(name)).toEqual([]);
    await page.keyboard.press('Escape');
  }
});
