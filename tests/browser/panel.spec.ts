// The panel beside, what is found at once, messages, and text as large as the reader wants it.
import { test, type Locator, type Page } from '@playwright/test';
import { expect, openApp, settled, watchEveryTest } from './page';

watchEveryTest();

const side = (page: Page): Locator => page.getByRole('complementary', { name: 'Beat and hand' });

/** Of the panel beside: where its parts stand, by what they say. */
const tops = (page: Page): Promise<Record<string, number>> =>
  side(page).evaluate((panel) => {
    const at = (css: string): number =>
      Math.round(panel.querySelector(css)?.getBoundingClientRect().top ?? -1);
    return { actions: at('.pin'), list: at('ol'), cost: at('details'), report: at('.report') };
  });

test('the panel keeps still when prices come late, and what can be done stands over the lists', async ({
  page,
}) => {
  await page.addInitScript(() => {
    // Holds back what explains the line until the test lets go.
    const plain = Object.getOwnPropertyDescriptor(Worker.prototype, 'onmessage')!;
    const held: (() => void)[] = [];
    let isHolding = true;
    Object.assign(globalThis, {
      letGo: () => {
        isHolding = false;
        held.splice(0).forEach((then) => then());
      },
    });
    Object.defineProperty(Worker.prototype, 'onmessage', {
      ...plain,
      set(this: Worker, listener: ((event: MessageEvent) => void) | null) {
        plain.set!.call(this, (event: MessageEvent) => {
          if (isHolding && JSON.stringify(event.data).includes('"spots"')) held.push(() => listener?.(event));
          else listener?.(event);
        });
      },
    });
  });
  await openApp(page);
  await page.locator('main [data-note="2"]').first().click();
  await expect(side(page).getByText('Working out the prices…')).toBeVisible();
  await expect(side(page).locator('.report')).toBeVisible();
  const before = await tops(page);
  expect(before['actions']).toBeLessThan(before['list']!);
  await page.evaluate(() => (globalThis as unknown as { letGo: () => void }).letGo());
  await expect(side(page).locator('[data-way]').first()).toBeVisible();
  expect(await tops(page)).toEqual(before);
  await expect(side(page).getByText('good choices a beat')).toBeVisible();
  expect(await tops(page)).toEqual(before);
});

test('Enter pins from wherever the note was chosen, and a cost says what it is of', async ({ page }) => {
  await openApp(page);
  await settled(page);
  const pinned = side(page).getByText('Pinned: it stays in every take.');
  // On the board first: once a note is chosen, it shows prices in place of the notes around.
  for (const place of ['main .board .route [data-note="4"]', 'main .systems [data-note="2"]']) {
    await page.locator(place).click();
    await page.keyboard.press('Enter');
    await expect(pinned).toBeVisible();
    await page.keyboard.press('Delete');
    await expect(pinned).toHaveCount(0);
    await settled(page);
  }
  await page.locator('main .twin summary').click();
  const row = page.locator('main .twin tbody button').nth(6);
  await row.focus();
  await page.keyboard.press('Enter');
  await expect(row.locator('xpath=ancestor::tr')).toHaveAttribute('aria-current', 'true');
  await expect(pinned).toHaveCount(0);
  await page.keyboard.press('Enter');
  await expect(pinned).toBeVisible();
  await expect(side(page).locator('summary', { hasText: 'Cost of this note in the line' })).toBeVisible();
  await expect(side(page)).not.toContainText(/[A-G]b\d/);
});

test('a first visit is told what the signs mean, until it is pressed away or the line is changed', async ({
  page,
}) => {
  await openApp(page);
  const told = page.locator('main span.signs');
  await expect(told).toContainText('4 finger');
  await expect(told).toContainText('III½');
  await told.getByRole('button', { name: 'Got it' }).click();
  await expect(told).toHaveCount(0);
  await page.reload();
  await settled(page);
  await expect(told).toHaveCount(0);
  await page.evaluate(() => localStorage.removeItem('ramble.preferences'));
  await page.reload();
  await expect(told).toBeVisible();
  await page.getByRole('button', { name: 'New take' }).first().click();
  await expect(told).toHaveCount(0);
});

test('what each note is for is shown by a button and a key, and a link brings it along', async ({
  page,
  context,
}) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await openApp(page);
  const roles = page.locator('main text.roles');
  await expect(roles).toHaveCount(0);
  await page.getByRole('button', { name: 'what each note is for' }).click();
  await expect(roles.first()).toBeVisible();
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByRole('button', { name: 'Copy a link' }).click();
  await expect.poll(() => page.evaluate(() => navigator.clipboard.readText())).toContain('#1.');
  const link = await page.evaluate(() => navigator.clipboard.readText());
  await page.keyboard.press('Escape');
  await page.locator('main').focus();
  await page.keyboard.press('w');
  await expect(roles).toHaveCount(0);
  const other = await context.newPage();
  await other.goto(link);
  await expect(other.locator('main text.roles').first()).toBeVisible();
  await other.close();
});

for (const [width, height] of [
  [1440, 900],
  [1200, 800],
  [1024, 768],
  [390, 844],
] as const)
  test(`practising has one door at hand, in the first row where that has room, ${width} wide`, async ({
    page,
  }) => {
    await page.setViewportSize({ width, height });
    await openApp(page);
    const door = page.locator('[aria-controls="panel-loop"]');
    await expect(door).toHaveCount(1);
    await expect(door).toBeVisible();
    const row = (
      await page
        .locator('header nav > .word:visible, header nav > :not(.later) .word:visible')
        .allTextContents()
    ).map((name) => name.trim());
    expect(row).toEqual(
      width >= 1200
        ? ['Write changes', 'New take', 'Limits', 'Hand', 'Practise', 'Lessons', 'Print']
        : ['Changes'],
    );
    // Nothing of the row is cut off.
    const header = page.locator('header').first();
    expect(await header.evaluate((bar) => bar.scrollWidth - bar.clientWidth)).toBe(0);
    await door.click();
    const panel = page.getByRole('region', { name: 'Practise' });
    await expect(panel).toBeVisible();
    await expect(door).toHaveAttribute('aria-expanded', 'true');
    const [at, place] = [(await door.boundingBox())!, (await panel.boundingBox())!];
    if (width >= 1200) expect(place.y).toBeGreaterThanOrEqual(at.y + at.height);
    else expect(place.y + place.height).toBeLessThanOrEqual(at.y + 1);
    await page.keyboard.press('Escape');
    await expect(panel).toHaveCount(0);
    await expect(door).toBeFocused();
    // What is practised is in sight, wherever the door is.
    await expect(page.locator('footer')).toContainText('whole form');
  });

test('each panel has one door, print has its own, and a blank chart comes first', async ({ page }) => {
  await openApp(page);
  for (const name of [
    'tempo',
    'loop',
    'parts',
    'choruses',
    'limits',
    'hand',
    'print',
    'take',
    'save',
    'menu',
  ])
    expect(await page.locator(`[aria-controls="panel-${name}"]`).count(), name).toBe(1);
  await page.getByRole('button', { name: 'Studies', exact: true }).click();
  await expect(page.locator('#drawer-studies ul').last().locator('li').first()).toHaveText('Blank chart');
});

for (const [width, height] of [
  [1440, 900],
  [390, 844],
  [844, 390],
] as const) {
  test(`a message covers nothing that can be pressed, ${width} by ${height}`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await openApp(page);
    await settled(page);
    const covered = (): Promise<string[]> =>
      page.evaluate(() => {
        const pressable = [
          ...document.querySelectorAll<HTMLElement>(
            'footer button, header button, .side button, aside button, .board figcaption button',
          ),
        ];
        return pressable.flatMap((button) => {
          const { x, y, width: wide, height: high } = button.getBoundingClientRect();
          const [midX, midY] = [x + wide / 2, y + high / 2];
          const panel = button.closest('aside')?.getBoundingClientRect();
          if (wide === 0 || (panel && midY > panel.bottom)) return [];
          const hit = document.elementFromPoint(midX, midY);
          return hit && (button.contains(hit) || hit.contains(button)) ? [] : [button.textContent];
        });
      });
    expect(await covered()).toEqual([]);
    await page.evaluate(() => {
      location.hash = '#1.abc.def';
    });
    await expect(page.locator('.notices')).toContainText('The link is not complete');
    expect(await covered()).toEqual([]);
    const message = (await page.locator('.notices').boundingBox())!;
    const footer = (await page.locator('footer').boundingBox())!;
    expect(message.y + message.height).toBeLessThanOrEqual(footer.y + 1);
    // A panel that comes from below stands above it.
    await page.getByRole('button', { name: /^tempo/ }).click();
    const panel = (await page.locator('#panel-tempo').boundingBox())!;
    expect(panel.y + panel.height).toBeLessThanOrEqual(message.y + 1);
    await page.getByRole('button', { name: 'Dismiss' }).click();
    await expect(page.locator('.notice')).toHaveCount(0);
  });
}

test('text follows the size the reader has set, and the keys are all told of', async ({ page }) => {
  await openApp(page);
  await settled(page);
  await expect(side(page).locator('[data-way]').first()).toBeVisible();
  await side(page).locator('summary').first().click();
  const parts = ['header h1', 'header button', 'footer button', 'aside h2', 'aside .price', 'aside summary'];
  parts.push('aside .report dt', 'aside .report td', 'main figcaption button', 'main .edge .numeral button');
  const sizes = (): Promise<readonly number[]> =>
    page.evaluate(
      (all) => all.map((css) => parseFloat(getComputedStyle(document.querySelector(css)!).fontSize)),
      parts,
    );
  const usual = await sizes();
  await page.evaluate(() => {
    document.documentElement.style.fontSize = '20px';
  });
  // In hundredths of what they were, once the page has followed.
  await expect
    .poll(async () => (await sizes()).map((size, index) => Math.round((100 * size) / usual[index]!)))
    .toEqual(parts.map(() => 125));
  await page.evaluate(() => document.documentElement.style.removeProperty('font-size'));
  await page.locator('main').focus();
  await page.keyboard.press('?');
  const keys = page.getByRole('dialog', { name: 'Shortcuts' });
  for (const told of ['Hold the bar', 'Put the board away', 'Show what each note is for'])
    await expect(keys).toContainText(told);
});
