// Notes of one's own line by mouse, key and finger: to another moment, and away to the last one.
import { test, type Locator, type Page } from '@playwright/test';
import { midiFile } from './midi-file';
import { axeFindings, expect, openApp, openChanges, readLine, settled, watchEveryTest } from './page';

watchEveryTest();

const own = (page: Page): Locator => page.getByRole('region', { name: 'Your own line' });
const noteAt = (page: Page, index: number): Locator => page.locator(`button.note[data-note="${index}"]`);
/** "1.1 C" for a note on the first beat of the first bar. */
const told = async (page: Page): Promise<string[]> =>
  (await readLine(page)).map(({ when, note }) => `${when} ${note.replace(/\d+$/, '')}`);

/** A line of these notes over no chords, as one's own, with the drawer closed. */
async function openLine(page: Page, notes: readonly number[]): Promise<void> {
  await openApp(page);
  await openChanges(page);
  const drawer = page.locator('#drawer-changes');
  await drawer
    .locator('input[type=file]')
    .setInputFiles({ name: 'own.mid', mimeType: 'audio/midi', buffer: midiFile({ Bass: notes }) });
  await drawer.getByRole('button', { name: 'Over no chords' }).click();
  await settled(page);
  await drawer.getByRole('button', { name: 'Close' }).click();
  await expect.poll(async () => (await readLine(page)).length).toBe(notes.length);
  await expect(noteAt(page, 0)).toBeVisible();
}

/** The middle of a note, once the staff has come to rest. */
async function middleOf(page: Page, index: number): Promise<{ x: number; y: number }> {
  await noteAt(page, index).scrollIntoViewIfNeeded();
  let last = '';
  let box = (await noteAt(page, index).boundingBox())!;
  await expect
    .poll(async () => {
      const before = last;
      box = (await noteAt(page, index).boundingBox())!;
      last = JSON.stringify(box);
      return before === last;
    })
    .toBe(true);
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

test('a note goes to another moment by key, by press and by mouse', async ({ page }) => {
  await openLine(page, [36, 40]);
  const before = await told(page);
  await noteAt(page, 1).click();
  await page.keyboard.press('>');
  await settled(page);
  const later = before[1]!.replace('beat 2', 'the and of 2');
  expect(later).not.toBe(before[1]);
  await expect.poll(() => told(page)).toEqual([before[0], later]);
  await own(page)
    .getByRole('button', { name: /^Earlier/ })
    .click();
  await settled(page);
  await expect.poll(() => told(page)).toEqual(before);

  // Past the other note with the mouse: it is still the chosen one.
  const [from, to] = [await middleOf(page, 0), await middleOf(page, 1)];
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(to.x + (to.x - from.x), from.y, { steps: 6 });
  await expect(page.locator('svg.ghost')).toBeVisible();
  await page.mouse.up();
  await settled(page);
  await expect.poll(async () => (await told(page)).map((one) => one.at(-1))).toEqual(['E', 'C']);
  await expect(noteAt(page, 1)).toHaveAttribute('aria-pressed', 'true');
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(() => told(page)).toEqual(before);
});

test('the only note is deleted, undone, deleted again and another written in its place', async ({ page }) => {
  await openLine(page, [38]);
  await noteAt(page, 0).click();
  await page.keyboard.press('Delete');
  await expect(own(page)).toContainText('No note stands in it yet');
  await settled(page);
  await expect(page.locator('button.note')).toHaveCount(0);
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(async () => (await told(page)).map((one) => one.at(-1))).toEqual(['D']);
  await noteAt(page, 0).click();
  await own(page)
    .getByRole('button', { name: /^Delete/ })
    .click();
  await expect(own(page)).toContainText('No note stands in it yet');
  await settled(page);
  expect(await axeFindings(page)).toEqual([]);
  // An empty line is kept as it is, is silent, and takes a note.
  await expect(page.locator('header .saving')).toHaveText(/saved/);
  await page.reload();
  await expect(own(page)).toContainText('No note stands in it yet');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await own(page)
    .getByRole('button', { name: /^Add a note/ })
    .click();
  await expect(own(page)).toContainText('1 note stands');
  await expect.poll(async () => (await readLine(page)).length).toBe(1);
});

test.describe('with a finger', () => {
  test.use({ hasTouch: true, isMobile: true, viewport: { width: 390, height: 844 } });

  async function finger(
    page: Page,
  ): Promise<(type: 'Start' | 'Move' | 'End', x: number, y: number) => Promise<void>> {
    const session = await page.context().newCDPSession(page);
    return async (type, x, y) => {
      await session.send('Input.dispatchTouchEvent', {
        type: `touch${type}`,
        touchPoints: type === 'End' ? [] : [{ x, y }],
      });
    };
  }
  const scrolled = (page: Page): Promise<number> =>
    page.locator('main .score').evaluate((score) => score.scrollTop);

  test('a note is held and drawn, and a stroke without a hold scrolls', async ({ page }) => {
    await openLine(
      page,
      Array.from({ length: 32 }, (_, index) => 36 + (index % 4) * 2),
    );
    await expect(own(page)).toContainText('Hold a note, then drag it');
    const touch = await finger(page);
    const before = await told(page);

    const at = await middleOf(page, 1);
    const top = await scrolled(page);
    await touch('Start', at.x, at.y);
    for (let by = 10; by <= 120; by += 10) await touch('Move', at.x, at.y - by);
    await touch('End', at.x, at.y);
    await expect.poll(() => scrolled(page)).toBeGreaterThan(top + 40);
    expect(await told(page)).toEqual(before);
    await page.locator('main .score').evaluate((score) => score.scrollTo(0, 0));

    const hold = await middleOf(page, 1);
    const still = await scrolled(page);
    await touch('Start', hold.x, hold.y);
    await expect(page.locator('svg.ghost')).toBeVisible();
    for (let by = 3; by <= 30; by += 3) await touch('Move', hold.x, hold.y - by);
    await touch('End', hold.x, hold.y);
    await settled(page);
    await expect.poll(async () => (await told(page))[1]).not.toBe(before[1]);
    expect(await scrolled(page)).toBe(still);
    expect((await told(page)).filter((one, index) => one !== before[index])).toHaveLength(1);
    await page.getByRole('button', { name: 'Menu', exact: true }).click();
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(() => told(page)).toEqual(before);
  });
});
