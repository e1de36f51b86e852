// Wishes for the line on screen: handles between two words, shapes by section, a shape drawn over the strip.
import { test } from '@playwright/test';
import { axeFindings, expect, openApp, readLine, settled, testTimeout, watchEveryTest } from './page';

test.setTimeout(testTimeout);
watchEveryTest();

const midisOf = async (page: Parameters<typeof readLine>[0]): Promise<string> =>
  (await readLine(page)).map((row) => JSON.stringify(row)).join();

test('a bolder line by the arrow keys, and back by one press', async ({ page }) => {
  await openApp(page);
  const before = await midisOf(page);
  await page.getByRole('button', { name: /^Take/ }).first().click();
  const bold = page.getByRole('slider', { name: 'Plain or bold' });
  await bold.focus();
  await expect(bold).toHaveAttribute('aria-valuetext', 'as people play');
  await page.keyboard.press('End');
  await expect(bold).toHaveAttribute('aria-valuetext', '100 % to bold');
  await settled(page);
  expect(await midisOf(page)).not.toBe(before);
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('button', { name: 'As people play' }).click();
  await expect(bold).toHaveAttribute('aria-valuetext', 'as people play');
  await settled(page);
  expect(await midisOf(page)).toBe(before);
});

test('a shape drawn over the strip by pointer and by keys goes with the study', async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await openApp(page);
  await page.getByRole('button', { name: /^Take/ }).first().click();
  await page.getByRole('button', { name: 'Draw the shape on the sheet' }).click();
  const first = page.getByRole('slider', { name: 'Height in bar 1', exact: true });
  await expect(first).toHaveAttribute('aria-valuetext', 'free');
  const box = (await first.boundingBox())!;
  await page.mouse.move(box.x + 10, box.y + 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 1.5, box.y + box.height - 3, { steps: 6 });
  await page.mouse.up();
  await expect(page.getByRole('slider', { name: 'Height in bar 2', exact: true })).toHaveAttribute(
    'aria-valuetext',
    /^(9\d|100) % of the way up$/,
  );
  const third = page.getByRole('slider', { name: 'Height in bar 3', exact: true });
  await third.focus();
  await page.keyboard.press('Home');
  await page.keyboard.press('ArrowUp');
  await expect(third).toHaveAttribute('aria-valuetext', '10 % of the way up');
  await settled(page);
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('button', { name: 'Done' }).click();
  await expect(first).toHaveCount(0);
  // It is part of the study: a reload brings it back.
  await page.reload();
  await settled(page);
  await page.getByRole('button', { name: /^Take/ }).first().click();
  await page.getByRole('button', { name: 'Draw the shape on the sheet' }).click();
  await expect(third).toHaveAttribute('aria-valuetext', '10 % of the way up');
  await page.keyboard.press('Escape');
  await expect(third).toHaveCount(0);
});
