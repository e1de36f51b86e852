// Changing a line: ways tried and pinned, new notes in bars and bars held, kept takes, limits, and the same line everywhere.
import { test, type Page } from '@playwright/test';
import {
  firstTake,
  secondTake,
  thirdTake,
  expect,
  fingerboard,
  holdAnswers,
  openApp,
  openChanges,
  readLine,
  settled,
  watchEveryTest,
  type TableRow,
} from './page';

watchEveryTest();

const side = (page: Page) => page.getByRole('complementary', { name: 'Beat and hand' });
const barOf = ({ when }: TableRow): number => Number(/^\d+/.exec(when)?.[0]);
const without = (line: readonly TableRow[], bar: number): TableRow[] =>
  line.filter((row) => barOf(row) !== bar);
const within = (line: readonly TableRow[], bar: number): TableRow[] =>
  line.filter((row) => barOf(row) === bar);
/** Chooses the first beat of a bar on the staff. */
async function chooseBar(page: Page, bar: number): Promise<void> {
  await page.locator(`[data-note][aria-label^="Bar ${bar}, beat 1:"]`).click();
}
/** Opens a panel of the header. */
async function openPanel(page: Page, name: string | RegExp): Promise<void> {
  await page.locator('header').getByRole('button', { name }).first().click();
}

test('R draws one bar anew and leaves the rest, and undo brings it back', async ({ page }) => {
  await openApp(page);
  const before = await readLine(page);
  await chooseBar(page, 3);
  await page.keyboard.press('r');
  await expect.poll(async () => within(await readLine(page), 3)).not.toEqual(within(before, 3));
  await settled(page);
  const after = await readLine(page);
  expect(without(after, 3)).toEqual(without(before, 3));
  await page.keyboard.press('r');
  await expect.poll(async () => within(await readLine(page), 3)).not.toEqual(within(after, 3));
  await settled(page);
  await page.keyboard.press('Control+z');
  await expect.poll(() => readLine(page)).toEqual(after);
  await page.keyboard.press('Control+z');
  await expect.poll(() => readLine(page)).toEqual(before);
  await page.keyboard.press('Control+Shift+z');
  await expect.poll(() => readLine(page)).toEqual(after);
});

test('a kept bar stays in every take, is marked by shape and word, and can be let go', async ({ page }) => {
  await openApp(page);
  const before = await readLine(page);
  await chooseBar(page, 5);
  await side(page)
    .getByRole('button', { name: /Hold this bar/ })
    .click();
  await expect(page.locator('svg.system text.kept')).toHaveText('held');
  await expect(page.locator('svg.system rect.lock')).toHaveCount(1);
  await expect(page.locator('[data-bar="4"]')).toHaveAttribute('aria-label', /held/);
  await page.locator('main').focus();
  for (const take of [secondTake, thirdTake]) {
    await page.keyboard.press('Shift+R');
    await expect(page.getByRole('button', { name: take })).toBeVisible();
    await settled(page);
    const line = await readLine(page);
    expect(within(line, 5)).toEqual(within(before, 5));
    expect(without(line, 5)).not.toEqual(without(before, 5));
  }
  await openPanel(page, 'Limits');
  await page.getByRole('button', { name: 'Lift: bar 5 held' }).click();
  await expect(page.locator('svg.system text.kept')).toHaveCount(0);
});

test('a limit against a kept bar names the bar, and one press frees it', async ({ page }) => {
  await openApp(page);
  await chooseBar(page, 5);
  const bar = within(await readLine(page), 5);
  await side(page)
    .getByRole('button', { name: /Hold this bar/ })
    .click();
  await openPanel(page, 'Limits');
  const held = bar.find(({ finger }) => finger !== '0' && finger !== 'open')?.string ?? '';
  await page
    .locator('[aria-labelledby="limits-strings"] button')
    .filter({ hasText: new RegExp(`^\\s*${held}\\b`) })
    .click();
  await page.keyboard.press('Escape');
  const trouble = page.locator('.trouble').first();
  await expect(trouble).toContainText('bar 5 held');
  await trouble.getByRole('button').first().click();
  await settled(page);
  await expect(page.locator('.trouble')).toHaveCount(0);
});

test('up and down try ways with their route beside the line, Enter pins what was shown, Delete unpins', async ({
  page,
}) => {
  await openApp(page);
  await page.locator('main').focus();
  await page.keyboard.press('ArrowRight');
  await expect(side(page).locator('[data-way]').first()).toBeVisible();
  const before = await readLine(page);
  await page.locator('main').focus();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  const tried = side(page).locator('[data-way][aria-pressed="true"]');
  await expect(tried).toHaveAttribute('data-way', '2');
  await page.keyboard.press('ArrowUp');
  await expect(tried).toHaveAttribute('data-way', '1');
  await expect(side(page).getByText('what is played now')).toBeVisible();
  await expect(page.locator('svg.strip g.other').first()).toBeAttached();
  expect(await readLine(page)).toEqual(before);
  await page.keyboard.press('Escape');
  await expect(tried).toHaveCount(0);
  await expect(page.locator('svg.strip g.other')).toHaveCount(0);
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  await expect(side(page).getByText('what is played now')).toBeVisible();
  const wanted = (await tried.locator('b').innerText()).trim();
  await page.keyboard.press('Enter');
  await settled(page);
  await expect(side(page).getByText('Pinned')).toBeVisible();
  await expect(side(page).locator('.note strong')).toHaveText(wanted);
  await page.keyboard.press('Backspace');
  await expect(side(page).getByText('Pinned')).toHaveCount(0);
});

test('a typed chord changes the line near it only', async ({ page }) => {
  await openApp(page);
  const before = await readLine(page);
  const field = await openChanges(page);
  const text = await field.inputValue();
  await field.fill(text.replace('| F7 ', '| Dbmaj7 '));
  await expect.poll(async () => within(await readLine(page), 1)).not.toEqual(within(before, 1));
  await settled(page);
  const far = (line: readonly TableRow[]) => line.filter((row) => barOf(row) > 1 && barOf(row) < 12);
  expect(far(await readLine(page))).toEqual(far(before));
});

test('a starred take is kept, compared, played again, renamed and removed', async ({ page }) => {
  await openApp(page);
  const first = await readLine(page);
  await openPanel(page, /^Take/);
  await page.getByRole('button', { name: /Keep this take/ }).click();
  await page.locator('#panel-take').getByRole('button', { name: 'New take' }).click();
  await expect.poll(() => readLine(page)).not.toEqual(first);
  await settled(page);
  await page.getByRole('button', { name: `Compare: ${firstTake}` }).click();
  await expect(page.getByRole('table', { name: 'Side by side' })).toBeVisible();
  await expect(page.locator('svg.strip g.other').first()).toBeAttached();
  await expect(page.locator('svg.system ellipse.other').first()).toBeAttached();
  await page.getByRole('textbox', { name: 'Name of the take' }).fill('Walks up');
  await page.getByRole('textbox', { name: 'Name of the take' }).press('Enter');
  await page.getByRole('button', { name: 'Play this one: Walks up' }).click();
  await expect.poll(() => readLine(page)).toEqual(first);
  await page.getByRole('button', { name: 'Remove: Walks up' }).click();
  await expect(page.getByRole('button', { name: /Play this one/ })).toHaveCount(0);
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect(page.locator('header')).toBeVisible();
  await openPanel(page, /^Take/);
  await expect(page.getByRole('button', { name: 'Play this one: Walks up' })).toBeVisible();
});

test('limits hold, are listed and are lifted one by one', async ({ page }) => {
  await openApp(page);
  await openPanel(page, 'Limits');
  await page.getByLabel('In the low region at most').last().selectOption('0');
  await settled(page);
  await page.getByLabel('Highest stop').selectOption('7');
  await settled(page);
  await page.getByLabel('Only what a relaxed hand can hold').check();
  await settled(page);
  const line = await readLine(page);
  expect(line.every(({ stop }) => !(Number(stop) > 7))).toBe(true);
  expect(
    line.some(({ position, finger }) => (position === 'half' || position === 'I') && /[1-4]/.test(finger)),
  ).toBe(false);
  await openPanel(page, 'Limits');
  const lifts = page.getByRole('button', { name: /^Lift:/ });
  await expect(lifts).toHaveCount(3);
  await lifts.first().click();
  await expect(lifts).toHaveCount(2);
  await page.getByRole('button', { name: 'Lift all' }).click();
  await expect(lifts).toHaveCount(0);
});

test('reload, undo and a link show the same line, note by note', async ({ page, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await openApp(page);
  await chooseBar(page, 2);
  await page.keyboard.press('r');
  await page.keyboard.press('r');
  await settled(page);
  await chooseBar(page, 7);
  await page.keyboard.press('k');
  await settled(page);
  await expect(page.locator('header .saving')).toHaveText(/· saved/);
  const line = await readLine(page);
  await openPanel(page, 'Save');
  await page.getByRole('button', { name: 'Copy a link' }).click();
  const link = await page.evaluate(() => navigator.clipboard.readText());
  expect(link.length).toBeLessThan(1_200);
  await page.reload();
  await settled(page);
  expect(await readLine(page)).toEqual(line);
  await expect(page.locator('svg.system text.kept')).toHaveCount(1);
  const other = await (await context.browser()?.newContext())?.newPage();
  if (!other) throw new Error('no second browser window');
  await other.goto(link);
  await expect(other.locator('svg.system text.kept')).toHaveCount(1);
  await settled(other);
  expect(await readLine(other)).toEqual(line);
  await other.context().close();
});

test('the whole job from the keyboard: changes, line, ways, bars, limits, take, sound', async ({ page }) => {
  await openApp(page);
  const key = async (...names: string[]): Promise<void> => {
    for (const name of names) await page.keyboard.press(name);
  };
  /** Tabs until something with this name has the focus. */
  const tabTo = async (name: RegExp): Promise<void> => {
    for (let step = 0; step < 120; step++) {
      const label = await page.evaluate(() => {
        const held = document.activeElement;
        return held?.getAttribute('aria-label') ?? held?.textContent?.trim() ?? '';
      });
      if (name.test(label)) return;
      await key('Tab');
    }
    throw new Error(`the Tab key does not come to ${name.source}`);
  };
  await key('c');
  const field = page.getByRole('textbox', { name: 'Chart as text' });
  await expect(field).toBeVisible();
  for (let step = 0; step < 40 && !(await field.evaluate((one) => one === document.activeElement)); step++)
    await key('Tab');
  await key('Control+a');
  await page.keyboard.insertText('Title: By keys\nKey: Bb\nTempo: 140\n| Bb6 | G7 | Cm7 | F7 |');
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('By keys');
  await settled(page);
  await key('Escape');
  await expect(page.locator('#drawer-changes')).toHaveCount(0);
  await tabTo(/^Bar \d+, beat/);
  const spoken = await fingerboard(page).getAttribute('aria-label');
  await key('ArrowRight', 'ArrowRight');
  await expect(fingerboard(page)).not.toHaveAttribute('aria-label', spoken ?? '');
  await expect(side(page).locator('[data-way]').first()).toBeVisible();
  // Down the list until a way is another than the one that is played.
  await expect(async () => {
    await key('ArrowDown');
    await expect(side(page).getByText('what is played now')).toBeVisible({ timeout: 3_000 });
  }).toPass();
  await key('Enter');
  await settled(page);
  await expect(side(page).getByText('Pinned')).toBeVisible();
  await key('h');
  await expect(page.locator('svg.system text.kept')).toHaveCount(1);
  const kept = await readLine(page);
  await page.locator('main').focus();
  await key('Shift+R');
  await expect(page.getByRole('button', { name: secondTake })).toBeVisible();
  await settled(page);
  const bar =
    Number((await page.locator('[data-bar][aria-label*="held"]').getAttribute('data-bar')) ?? '') + 1;
  expect(within(await readLine(page), bar)).toEqual(within(kept, bar));
  await tabTo(/^Limits$/);
  await key('Enter');
  await tabTo(/^No half$/);
  await key('Enter', 'Escape');
  await settled(page);
  await page.locator('main').focus();
  await key('Space');
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toBeVisible();
  await key('Space');
  await expect(page.getByRole('button', { name: 'Play', exact: true })).toBeVisible();
  await key('Control+z', 'Control+z', 'Control+z', 'Control+z');
  await expect(page.getByRole('button', { name: firstTake })).toBeVisible();
});

test('long work says how far it has come and is stopped by a key; the line before stays', async ({
  page,
}) => {
  await holdAnswers(page);
  await openApp(page);
  await settled(page);
  const before = await readLine(page);
  const chart = await openChanges(page);
  await page.evaluate(() => Object.assign(globalThis, { isHolding: true }));
  await chart.fill(`title: Long Stairs\nkey: F\n\n${'| F7 | Bb7 | Gm7 C7 | F7 D7 '.repeat(250)}|`);
  const progress = page.getByRole('progressbar', { name: 'Working out a line' });
  await expect(progress).toBeVisible();
  await page.getByRole('button', { name: 'Stop', exact: true }).focus();
  await page.keyboard.press('Enter');
  await expect(page.getByText('The work was stopped')).toBeVisible();
  await expect(progress).toHaveCount(0);
  await expect(page.locator('main')).toBeFocused();
  expect(await readLine(page)).toEqual(before);
  await page.evaluate(() => Reflect.deleteProperty(globalThis, 'isHolding'));
  await page.getByRole('button', { name: 'Undo' }).last().click();
  await settled(page);
  await expect(page.getByText('The work was stopped')).toHaveCount(0);
  expect(await readLine(page)).toEqual(before);
});
