// Many takes in a table: drawn beside the study, sorted, sifted, heard, compared, kept and used.
import { test, type Locator, type Page } from '@playwright/test';
import {
  axeFindings,
  expect,
  firstTake,
  openApp,
  readLine,
  settled,
  testTimeout,
  thirdTake,
  watchEveryTest,
} from './page';

test.setTimeout(testTimeout);
watchEveryTest();

const rowsOf = (page: Page): Locator => page.locator('main table tbody tr');

/** Opens the page from the Take panel and waits for its ten takes. */
async function openAuditions(page: Page): Promise<void> {
  await openApp(page);
  await page.getByRole('button', { name: /^Take/ }).first().click();
  await page.getByRole('button', { name: 'Audition takes' }).click();
  await expect(page.getByRole('heading', { name: 'Auditions' })).toBeVisible();
  await expect(page.locator('main [aria-busy=true]')).toHaveCount(0);
  await expect(rowsOf(page)).toHaveCount(10);
}

const column = async (page: Page, at: number): Promise<number[]> =>
  (await rowsOf(page).locator(`td:nth-of-type(${at})`).allTextContents()).map((text) =>
    Number(/-?\d+/.exec(text)?.[0]),
  );
const numberOf = (name: string): number => Number(name.replace('Take ', ''));

test('ten takes, sorted by keys, sifted by choices; leaving changes nothing', async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await openApp(page);
  const before = await readLine(page);
  await page.keyboard.press('a');
  await expect(rowsOf(page)).toHaveCount(10);
  await expect(page.locator('main [aria-busy=true]')).toHaveCount(0);
  const first = numberOf(firstTake);
  await expect(rowsOf(page).locator('th')).toContainText(
    Array.from({ length: 10 }, (_, at) => `Take ${first + 1 + at}`),
  );
  expect(await axeFindings(page)).toEqual([]);

  const where = page.getByRole('button', { name: /^Where the hand is/ });
  const heading = page.getByRole('columnheader', { name: /^Where the hand is/ });
  await where.focus();
  await page.keyboard.press('Enter');
  await expect(heading).toHaveAttribute('aria-sort', 'ascending');
  const low = await column(page, 1);
  // The regions of a take are rounded so that they add up to 100: two that are almost alike may show the other way round.
  const rises = (shares: readonly number[]): boolean =>
    shares.every((share, index) => share >= (shares[index - 1] ?? 0) - 1);
  expect(rises(low), low.join(' ')).toBe(true);
  await page.keyboard.press('Enter');
  await expect(heading).toHaveAttribute('aria-sort', 'descending');
  await expect(where).toBeFocused();
  const high = await column(page, 1);
  expect(rises(high.toReversed()), high.join(' ')).toBe(true);
  expect(high.toSorted((a, b) => a - b)).toEqual(low.toSorted((a, b) => a - b));

  // The limit in the middle of what there is lets some pass and holds some back.
  const bare = await column(page, 2);
  const limit = page.getByRole('combobox', { name: 'Bare shifts at most' });
  await limit.selectOption('4');
  const within = bare.filter((count) => count <= 4).length;
  await expect(rowsOf(page)).toHaveCount(within);
  await expect(page.locator('main .count')).toContainText(`${within} of 10`);
  await page.getByRole('button', { name: 'Show all' }).click();
  await expect(rowsOf(page)).toHaveCount(10);

  // Keys of the sheet do nothing while it is out of sight.
  await page.keyboard.press('r');
  await page.keyboard.press('h');
  await page.keyboard.press('Escape');
  await settled(page);
  expect(await readLine(page)).toEqual(before);
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
  // The takes are there again, in their order.
  await page.keyboard.press('a');
  await expect(heading).toHaveAttribute('aria-sort', 'descending');
  await expect(rowsOf(page)).toHaveCount(10);
});

test('a take is heard, used, and the use undone', async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await openAuditions(page);
  const second = numberOf(thirdTake);
  const hear = page.getByRole('button', { name: `Hear: take ${second}`, exact: true });
  await hear.click();
  const stop = page.getByRole('button', { name: `Stop: take ${second}`, exact: true });
  await expect(stop).toBeVisible();
  await expect(page.getByRole('button', { name: /^Stop/ }).last()).toBeVisible();
  await stop.click();
  await expect(hear).toBeVisible();

  await page.getByRole('button', { name: `Keep: take ${second}`, exact: true }).click();
  await page.getByRole('button', { name: `Use this take: take ${second}`, exact: true }).click();
  await expect(page.getByText(`Take ${second} is the study’s take now.`)).toBeVisible();
  await expect(page.getByRole('button', { name: /^Take \d/ }).first()).toContainText(thirdTake);
  await page.locator('main').getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByRole('button', { name: /^Take \d/ }).first()).toContainText(firstTake);
  await page.locator('main').getByRole('button', { name: 'Close' }).click();
  await page.getByRole('button', { name: /^Take/ }).first().click();
  await expect(page.getByRole('textbox', { name: 'Name of the take' })).toHaveValue(thirdTake);
});

test('more like a take says what was asked; two takes lie on the sheet', async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await openAuditions(page);
  const second = numberOf(thirdTake);
  await page.getByRole('button', { name: `More like this: take ${second}`, exact: true }).click();
  await expect(page.getByText(/^Asked for, to come nearer take \d+ \(roots \d+ %/)).toBeVisible();
  await expect(rowsOf(page)).toHaveCount(20);
  await page.getByRole('checkbox', { name: `Compare: take ${second}`, exact: true }).check();
  await page.getByRole('checkbox', { name: `Compare: take ${second + 1}`, exact: true }).check();
  await page.getByRole('button', { name: `Compare takes ${second} and ${second + 1} on the sheet` }).click();
  await expect(
    page.getByText(`Take ${second} is on the sheet, take ${second + 1} laid over it.`),
  ).toBeVisible();
  const one = await readLine(page);
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('button', { name: `Take ${second + 1} on the sheet` }).click();
  await expect.poll(() => readLine(page)).not.toEqual(one);
  await page.getByRole('button', { name: 'Back to the auditions' }).click();
  await expect(rowsOf(page)).toHaveCount(20);
});

for (const theme of ['light', 'dark'] as const)
  test(`on a phone, ${theme}: cards that fit and that axe finds nothing in`, async ({ page }) => {
    await page.emulateMedia({ colorScheme: theme });
    await page.setViewportSize({ width: 390, height: 844 });
    await openApp(page);
    await page.keyboard.press('a');
    await expect(rowsOf(page)).toHaveCount(10);
    await expect(page.locator('main [aria-busy=true]')).toHaveCount(0);
    expect(
      await page.locator('main').evaluate((main) => main.scrollWidth - main.clientWidth),
    ).toBeLessThanOrEqual(0);
    expect(await axeFindings(page)).toEqual([]);
  });
