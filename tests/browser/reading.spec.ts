// What is in sight: the next line of music while it plays, the board or the way to it, two lines laid over each other.
import { test, type Page } from '@playwright/test';
import { expect, openApp, settled, watchEveryTest } from './page';

watchEveryTest();

const sizes = [
  [1440, 900],
  [1024, 768],
  [768, 1024],
  [390, 844],
  [390, 664],
  [844, 390],
] as const;

/** Starts at once, so that no test waits for a count-in. */
async function withoutCountIn(page: Page): Promise<void> {
  await page.addInitScript(() => {
    localStorage.setItem('ramble.preferences', JSON.stringify({ countInBars: 0 }));
  });
}

/** Of the systems, which are wholly in the part of the page that shows them; the strips under them may be cut. */
const seenSystems = (page: Page): Promise<readonly number[]> =>
  page.evaluate(() => {
    const score = document.querySelector('main .score')!.getBoundingClientRect();
    const footer = document.querySelector('footer')!.getBoundingClientRect();
    const bottom = Math.min(score.bottom, footer.top, innerHeight);
    return [...document.querySelectorAll<HTMLElement>('main [data-system]')].flatMap((system) => {
      const box = system.querySelector('svg.system')!.getBoundingClientRect();
      const isSeen = box.top >= Math.max(score.top, 0) - 6 && box.bottom <= bottom + 6;
      return isSeen ? [Number(system.dataset['system'])] : [];
    });
  });

test('a twelve-bar blues is seen whole on a desk, eight bars on a tablet that lies', async ({ page }) => {
  await openApp(page);
  await settled(page);
  expect(await seenSystems(page)).toEqual([0, 1, 2]);
  const strips = page.locator('main [data-system] svg.strip');
  const score = (await page.locator('main .score').boundingBox())!;
  const last = (await strips.last().boundingBox())!;
  expect(last.y + last.height).toBeLessThanOrEqual(score.y + score.height);
  await page.setViewportSize({ width: 1024, height: 768 });
  await expect.poll(() => seenSystems(page)).toEqual([0, 1]);
  expect(await page.locator('[data-system="0"] [data-bar], [data-system="1"] [data-bar]').count()).toBe(8);
});

for (const [width, height] of sizes) {
  test(`the line of music that comes next is in sight, ${width} by ${height}`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await withoutCountIn(page);
    await openApp(page);
    await settled(page);
    const systems = page.locator('main [data-system]');
    const count = await systems.count();
    for (let index = 0; index < count; index++) {
      await systems.nth(index).scrollIntoViewIfNeeded();
      await systems.nth(index).locator('[data-note]').first().click();
      await page.locator('main').focus();
      await page.keyboard.press(' ');
      // Far enough from the end of the line that it is still the one that sounds.
      await expect(page.locator('.light.live > *').first()).toBeAttached();
      const next = (index + 1) % count;
      await expect
        .poll(async () => {
          const seen = await seenSystems(page);
          return seen.includes(index) && (seen.includes(next) || (await isAgainSeen(page)));
        })
        .toBe(true);
      await page.keyboard.press(' ');
      await expect(page.getByRole('button', { name: 'Play', exact: true })).toBeVisible();
    }
  });
}

/** The first line once more under the last one. */
const isAgainSeen = (page: Page): Promise<boolean> =>
  page.evaluate(() => {
    const again = document.querySelector('main .again svg.system')?.getBoundingClientRect();
    const score = document.querySelector('main .score')!.getBoundingClientRect();
    const bottom = Math.min(score.bottom, document.querySelector('footer')!.getBoundingClientRect().top);
    return again !== undefined && again.top >= score.top && again.bottom <= bottom + 6;
  });

test('the board is put away and fetched back by a press and by a key, and stays away', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 664 });
  await openApp(page);
  await settled(page);
  const before = (await page.locator('main .score').boundingBox())!.height;
  await page.getByRole('button', { name: 'put away' }).click();
  const back = page.getByRole('button', { name: 'Show the board' });
  await expect(back).toBeFocused();
  expect((await page.locator('main .score').boundingBox())!.height).toBeGreaterThan(before + 60);
  await page.reload();
  await expect(back).toBeVisible();
  await page.locator('main').focus();
  await page.keyboard.press('b');
  await expect(page.getByRole('button', { name: 'put away' })).toBeVisible();
});

test('the whole board is shown to its end where it says so', async ({ page }) => {
  await openApp(page);
  const views = page.getByRole('group', { name: 'View of the board' });
  await expect(views.getByRole('button', { name: 'whole board' })).toHaveAttribute('aria-pressed', 'true');
  const stage = (await page.locator('main .board .stage').boundingBox())!;
  const ebony = (await page.locator('main .board path.ebony').last().boundingBox())!;
  expect(ebony.x + ebony.width).toBeLessThan(stage.x + stage.width - 8);
  // Two octaves and a little more: a mark on the edge for each semitone.
  expect(await page.locator('main .board path.tick[d^=M]').count()).toBeGreaterThanOrEqual(24);
  await page.setViewportSize({ width: 390, height: 844 });
  await expect(views.getByRole('button', { name: 'to the octave' })).toBeVisible();
  await expect(views.getByRole('button', { name: 'whole board' })).toBeHidden();
});

test('two lines over each other have a legend and an end in sight, and no price lies on the route', async ({
  page,
}) => {
  await openApp(page);
  await settled(page);
  await page.locator('main [data-note="1"]').first().click();
  await expect(page.locator('main .prices button').first()).toBeAttached();
  for (let way = 0; way < 4; way++) await page.keyboard.press('ArrowDown');
  const legend = page.getByRole('group', { name: 'Two lines' });
  await expect(legend).toContainText('as played now');
  await expect(legend).toContainText('the way that is tried');
  await expect(page.locator('main .board path.way')).toBeAttached();
  const covered = await page.evaluate(() => {
    const path = document.querySelector<SVGPathElement>('main .board path.way')!;
    const at = path.ownerSVGElement!.getBoundingClientRect();
    const labels = [...document.querySelectorAll('main .prices button:not(.dot, .taken)')].map((label) =>
      label.getBoundingClientRect(),
    );
    const points = Array.from({ length: 200 }, (_, step) =>
      path.getPointAtLength((path.getTotalLength() * step) / 199),
    );
    return points.filter(({ x, y }) =>
      labels.some(
        (box) => at.x + x > box.left && at.x + x < box.right && at.y + y > box.top && at.y + y < box.bottom,
      ),
    ).length;
  });
  expect(covered).toBe(0);
  await legend.getByRole('button', { name: /Stop comparing/ }).click();
  await expect(legend).toBeHidden();
  await expect(page.locator('main .board path.way')).toHaveCount(0);
});

for (const [width, height] of [...sizes, [360, 640]] as const) {
  test(`stand view cuts nothing off and has the hand where the note is, ${width} by ${height}`, async ({
    page,
  }) => {
    await page.setViewportSize({ width, height });
    await openApp(page);
    await settled(page);
    await page.locator('main [data-note="4"]').first().click();
    await page.getByRole('button', { name: /^Practise/ }).click();
    await page.getByRole('button', { name: /Stand view/ }).click();
    const stand = page.getByRole('dialog', { name: 'Stand view' });
    await expect(stand.locator('.bars text').first()).toBeAttached();
    const cut = await stand.evaluate((element) => {
      const out: string[] = [];
      const bars = element.querySelector('.bars')!.getBoundingClientRect();
      for (const system of element.querySelectorAll('.bars svg.system')) {
        const box = system.getBoundingClientRect();
        if (box.left < bars.left - 1 || box.right > bars.right + 1) out.push('beside the bars');
        if (box.top < bars.top - 1 || box.bottom > bars.bottom + 1) out.push('over or under the bars');
      }
      for (const line of element.querySelectorAll('.cue, .where')) {
        const box = line.getBoundingClientRect();
        if (box.right > innerWidth || line.scrollWidth > line.clientWidth + 1) out.push(line.outerHTML);
      }
      return out;
    });
    expect(cut).toEqual([]);
    // The finger's mark lies within the hand, once the hand has come.
    await expect(async () => {
      const mark = (await stand.locator('.map .mark.now button').boundingBox())!;
      const hand = (await stand.locator('.map .hand.on .flesh').boundingBox())!;
      const middle = mark.x + mark.width / 2;
      expect(middle).toBeGreaterThanOrEqual(hand.x);
      expect(middle).toBeLessThanOrEqual(hand.x + hand.width);
    }).toPass({ timeout: 20_000 });
  });
}
