// The whole program as a person meets it.
import { test, type Page } from '@playwright/test';
import {
  firstTake,
  secondTake,
  axeFindings,
  expect,
  fingerboard,
  openApp,
  openChanges,
  openFromMenu,
  readLine,
  settled,
  watchEveryTest,
} from './page';

watchEveryTest();

test('the first visit opens on a finished study', async ({ page }) => {
  await openApp(page);
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Back Stairs Blues');
  await expect(page.getByRole('button', { name: 'Play', exact: true })).toBeEnabled();
  const line = await readLine(page);
  expect(line.length).toBeGreaterThanOrEqual(48);
  expect(line[0]?.note).toMatch(/^[A-G]/);
});

test('a changed chord changes the line, and can be undone', async ({ page }) => {
  await openApp(page);
  const before = await readLine(page);
  const field = await openChanges(page);
  const text = await field.inputValue();
  await field.fill(text.replace('| F7 ', '| Dbmaj7 '));
  await settled(page);
  await expect.poll(async () => (await readLine(page)).slice(0, 4)).not.toEqual(before.slice(0, 4));
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await settled(page);
  await expect(field).toHaveValue(text);
  await expect.poll(() => readLine(page)).toEqual(before);
});

test('a fault in the chart is told with its place and underlined there', async ({ page }) => {
  await openApp(page);
  const field = await openChanges(page);
  await field.fill('Title: Slip\nKey: F\n\n| F7 | Hx9 | Bb7 | C7 |');
  const remark = page.locator('#chart-remarks button').filter({ hasText: 'Line 4, column 8' });
  await expect(remark).toBeVisible();
  await expect(page.locator('.editor pre .error').first()).toContainText('Hx9');
  await expect(field).toHaveAttribute('aria-invalid', 'true');
  await remark.click();
  const selected = await field.evaluate((area: HTMLTextAreaElement) =>
    area.value.slice(area.selectionStart, area.selectionEnd),
  );
  expect(selected).toContain('Hx9');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Slip');
});

test('with half position barred no note is held there', async ({ page }) => {
  await openApp(page);
  await page.getByRole('button', { name: 'Limits', exact: true }).click();
  await page.getByRole('button', { name: 'No half', exact: true }).click();
  await settled(page);
  await expect(page.locator('header .summary')).toContainText('half barred');
  for (let take = 0; take < 3; take++) {
    const line = await readLine(page);
    expect(line.map((row) => row.position)).not.toContain('half');
    await page.getByRole('button', { name: /^Take/ }).first().focus();
    await page.keyboard.press('Shift+R');
    await settled(page);
  }
});

test('impossible limits keep the last line and offer a way out', async ({ page }) => {
  await openApp(page);
  const before = await readLine(page);
  await page.getByRole('button', { name: 'Limits', exact: true }).click();
  const chips = page.locator('.chips button');
  // The panel is fetched when it is first opened.
  await expect(chips.first()).toBeVisible();
  for (let i = 0; i < (await chips.count()); i++) await chips.nth(i).click();
  await page.keyboard.press('Escape');
  const trouble = page.locator('.trouble');
  await expect(trouble).toContainText('cannot hold together');
  await expect(fingerboard(page)).toBeAttached();
  expect(await readLine(page)).toHaveLength(before.length);
  await trouble
    .getByRole('button', { name: /^Allow/ })
    .first()
    .click();
  await settled(page);
  await expect(trouble).toHaveCount(0);
});

test('another way to play a beat is priced, pinned by a press, and stays in every take', async ({ page }) => {
  await openApp(page);
  await page.locator('main').focus();
  await page.keyboard.press('ArrowRight');
  const panel = page.getByRole('complementary', { name: 'Beat and hand' });
  const ways = panel.locator('[data-way]').filter({ hasText: '+' });
  await expect(ways.first()).toBeVisible();
  const wanted = (await ways.last().innerText()).split(/\s/)[0] ?? '';
  const when = (await panel.getByRole('heading', { level: 2 }).first().innerText()).match(
    /Bar (\d+), beat (\d)/,
  );
  const played = async (): Promise<string | undefined> =>
    (await readLine(page)).find((row) => row.when === `${when?.[1]}, beat ${when?.[2]}`)?.note;
  await ways.last().click();
  await panel.getByRole('button', { name: 'Pin this way' }).click();
  await settled(page);
  await expect(panel.getByText('Pinned')).toBeVisible();
  await expect.poll(played).toBe(wanted);
  await page.locator('main').focus();
  await page.keyboard.press('Shift+R');
  await expect(page.getByRole('button', { name: secondTake })).toBeVisible();
  await settled(page);
  expect(await played()).toBe(wanted);
  await expect(panel.getByText('good choices a beat')).toBeVisible();
});

test('playing sounds, advances and stops', async ({ page }) => {
  await openApp(page);
  const play = page.getByRole('button', { name: 'Play', exact: true });
  await play.click();
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toBeVisible();
  const heard = new Set<string>();
  await expect
    .poll(
      async () => {
        heard.add((await fingerboard(page).getAttribute('aria-label')) ?? '');
        return heard.size;
      },
      { intervals: [150] },
    )
    .toBeGreaterThan(3);
  await page.keyboard.press('Escape');
  await page.locator('main').focus();
  await page.keyboard.press('Space');
  await expect(play).toBeVisible();
});

test('the theme changes and is kept', async ({ page }) => {
  await openApp(page);
  const root = page.locator('html');
  await expect(root).toHaveAttribute('data-theme', 'day');
  await page.getByRole('button', { name: 'Stage', exact: true }).click();
  await expect(root).toHaveAttribute('data-theme', 'stage');
  await page.reload();
  await expect(root).toHaveAttribute('data-theme', 'stage');
});

test('a hostile title is text', async ({ page }) => {
  await openApp(page);
  const field = await openChanges(page);
  await field.fill('Title: <img src=x onerror="document.title=\'owned\'"><b>bold\n| <i>F7</i> | C7 |');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/<img src=x onerror=.*<b>bold/);
  expect(await page.locator('img[src="x"]').count()).toBe(0);
  await expect(page).not.toHaveTitle('owned');
});

test('the whole program works from the keyboard', async ({ page }) => {
  await openApp(page);
  await page.keyboard.press('?');
  await expect(page.getByRole('dialog', { name: 'Shortcuts' })).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await page.locator('main').focus();
  const before = await fingerboard(page).getAttribute('aria-label');
  await page.keyboard.press('ArrowRight');
  await expect(fingerboard(page)).not.toHaveAttribute('aria-label', before ?? '');
  await page.keyboard.press('ArrowLeft');
  await expect(fingerboard(page)).toHaveAttribute('aria-label', before ?? '');
  const line = await readLine(page);
  await page.locator('main').focus();
  await page.keyboard.press('Shift+R');
  await expect(page.getByRole('button', { name: secondTake })).toBeVisible();
  await expect.poll(() => readLine(page)).not.toEqual(line);
  await page.locator('main').focus();
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('button', { name: firstTake })).toBeVisible();
  await page.keyboard.press('Control+Shift+z');
  await expect(page.getByRole('button', { name: secondTake })).toBeVisible();
  await page.keyboard.press('c');
  await expect(page.locator('#drawer-changes')).toBeFocused();
  await page.keyboard.press('Escape');
  await expect(page.locator('#drawer-changes')).toHaveCount(0);
});

type Open = (page: Page) => Promise<void>;
/** Presses a word of the header, which a narrow screen keeps in its menu. */
const press =
  (name: string | RegExp): Open =>
  async (page) => {
    const word = page.locator('header').getByRole('button', { name, exact: true });
    if (await word.first().isVisible()) return word.first().click();
    await page.getByRole('button', { name: 'Menu', exact: true }).click();
    await page.locator('#panel-menu').getByRole('button', { name, exact: true }).click();
  };
/** A panel by its one door, wherever that is at this width. */
const byDoor =
  (panel: string): Open =>
  (page) =>
    page.locator(`[aria-controls="panel-${panel}"]:visible`).click();
const fewParts: readonly Open[] = [press('Limits'), press(/^Take \d/), press('Menu')];
const everyPart: readonly Open[] = [
  ...fewParts,
  press('Hand'),
  press('Save'),
  press('Studies'),
  press('Lessons'),
  (page) => openFromMenu(page, 'Usual and open'),
  byDoor('parts'),
  byDoor('loop'),
  async (page) => {
    await byDoor('loop')(page);
    await page.getByRole('button', { name: 'Stand view' }).click();
    await expect(page.locator('.stand .system').first()).toBeVisible();
  },
  async (page) => {
    await page.keyboard.press('?');
    await expect(page.getByRole('dialog', { name: 'Shortcuts' })).toBeVisible();
  },
  // A way that is tried at a kept bar, with the panel of the beat where it is one.
  async (page) => {
    await page.locator('main').focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('k');
    await settled(page);
    const bar = page.locator('[aria-controls="panel-beat"]');
    if (await bar.isVisible()) await bar.click();
    // The ways are known a moment after the line.
    await expect(async () => {
      await page.keyboard.press('ArrowDown');
      await expect(page.locator('[data-way][aria-pressed=true]')).toBeVisible({ timeout: 2_000 });
    }).toPass();
  },
];
const widerThanTheWindow = (page: Page): Promise<boolean> =>
  page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
async function closeAll(page: Page): Promise<void> {
  for (let presses = 0; presses < 4; presses++) await page.keyboard.press('Escape');
}

for (const theme of ['day', 'stage'] as const) {
  for (const width of [1440, 768, 320]) {
    test(`axe finds nothing: ${theme}, ${width} wide`, async ({ page }) => {
      await page.emulateMedia({ colorScheme: theme === 'stage' ? 'dark' : 'light', reducedMotion: 'reduce' });
      await page.setViewportSize({ width, height: width === 320 ? 640 : 900 });
      await openApp(page);
      expect(await axeFindings(page)).toEqual([]);
      const field = await openChanges(page);
      await field.fill('Title: Slip\n[A] |: F7 | Hx9 :| % | C7 |');
      await expect(page.locator('#chart-remarks button').first()).toBeVisible();
      expect(await axeFindings(page)).toEqual([]);
      await page.keyboard.press('Escape');
      // Every part in one theme at the widest and in the other at the narrowest; the usual ones everywhere.
      const isThorough = (width === 1440) === (theme === 'day') && width !== 768;
      for (const open of isThorough ? everyPart : fewParts) {
        await open(page);
        expect(await axeFindings(page)).toEqual([]);
        expect(await widerThanTheWindow(page)).toBe(false);
        await closeAll(page);
      }
      expect(await widerThanTheWindow(page)).toBe(false);
    });
  }
}
