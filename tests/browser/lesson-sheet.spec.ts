// A lesson on the sheet: made by keyboard, seen and heard before and after, on a phone, and left without a trace.
import { readFileSync } from 'node:fs';
import { test, type Page } from '@playwright/test';
import { openLessons, sheetOf } from './lesson-page';
import { axeFindings, expect, layPaper, openApp, settled, watchEveryTest } from './page';

watchEveryTest();

const notesOf = (page: Page): Promise<string[]> =>
  page
    .locator('.note')
    .evaluateAll((notes) =>
      notes.map((note) => (note.getAttribute('aria-label') ?? '').replace(/; [\d.]+ good choices.*$/, '')),
    );

test('a lesson changes as little as it can, marks what changed, and gives the line back', async ({
  page,
}) => {
  await openApp(page);
  await settled(page);
  const own = await notesOf(page);
  await openLessons(page);
  const maker = page.getByRole('region', { name: 'A lesson on this chart' });
  await maker.getByRole('combobox', { name: 'Layer', exact: true }).selectOption('below');
  await maker.getByRole('combobox', { name: 'Ground', exact: true }).selectOption('block');
  await maker.getByRole('combobox', { name: 'Built on' }).selectOption('frame');
  await maker.getByRole('button', { name: 'Make the lesson' }).press('Enter');
  const sheet = sheetOf(page);
  await expect(sheet).toContainText('Lean below on Block');
  await expect(sheet).toContainText(/\d+ of 48 notes changed, marked with a wedge/);
  await expect(page.locator('.wedges').first()).toBeVisible();
  const count = Number(/(\d+) of 48/.exec(await sheet.innerText())![1]);
  await expect
    .poll(async () => (await notesOf(page)).filter((label) => label.endsWith('; changed')).length)
    .toBe(count);
  expect(await axeFindings(page)).toEqual([]);

  const after = await notesOf(page);
  await sheet.getByRole('button', { name: 'Frame, before it' }).press('Enter');
  await expect(page.locator('.wedges')).toHaveCount(0);
  await expect.poll(() => notesOf(page)).not.toEqual(after);
  const before = await notesOf(page);
  const place = (label: string): string => label.split(/[,;]/).slice(0, 2).join();
  const differing = before.filter((label, index) => place(label) !== place(after[index]!)).length;
  expect(differing).toBe(count);

  await sheet.getByRole('button', { name: 'Back to my line' }).press('Enter');
  await expect(sheet).toHaveCount(0);
  await expect.poll(() => notesOf(page)).toEqual(own);
  const undo = page.getByRole('button', { name: 'Undo', exact: true });
  await undo.press('Enter');
  await expect(sheet).toContainText('Lean below on Block');
  await expect.poll(() => notesOf(page)).toEqual(after);
  await undo.press('Enter');
  await expect(sheet).toHaveCount(0);
  await expect.poll(() => notesOf(page)).toEqual(own);
  await expect(undo).toBeDisabled();
});

test('a lesson stays over another tempo and says what became other; undo goes back', async ({ page }) => {
  await makeLesson(page);
  const slow = await notesOf(page);
  await page.getByRole('button', { name: /^tempo/ }).click();
  const tempo = page.getByRole('spinbutton', { name: 'Quarter notes a minute' });
  await tempo.fill('250');
  await tempo.press('Tab');
  await expect(sheetOf(page)).toContainText(/Made again for what you changed: /);
  await expect(sheetOf(page)).toContainText('Lean below on Anywhere');
  await page.keyboard.press('Escape');
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(() => notesOf(page)).toEqual(slow);
  await expect(sheetOf(page)).toContainText('Lean below on Anywhere');
});

test('on a phone the lesson is read under its sentence, and what cannot be says why', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openApp(page);
  await settled(page);
  await openLessons(page);
  const maker = page.getByRole('region', { name: 'A lesson on this chart' });
  await maker.getByRole('combobox', { name: 'Layer', exact: true }).selectOption('stairs');
  await maker.getByRole('button', { name: 'Make the lesson' }).click();
  await expect(maker).toContainText('Stairs on Anywhere is on the sheet.');
  await page.getByRole('region', { name: 'Lessons' }).getByRole('button', { name: 'Close' }).click();
  await expect(sheetOf(page)).toContainText('Stairs on Anywhere');
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
  expect(wide).toBe(false);
  expect(await axeFindings(page)).toEqual([]);
});

/** Pages of a PDF. */
const pagesOf = (pdf: Buffer): { count: number } => ({
  count: (pdf.toString('latin1').match(/\/Type \/Page\b/g) ?? []).length,
});

async function makeLesson(page: Page): Promise<void> {
  await openApp(page);
  await settled(page);
  await openLessons(page);
  const maker = page.getByRole('region', { name: 'A lesson on this chart' });
  await maker.getByRole('combobox', { name: 'Layer', exact: true }).selectOption('below');
  await maker.getByRole('combobox', { name: 'Built on' }).selectOption('frame');
  await maker.getByRole('button', { name: 'Make the lesson' }).click();
  await expect(sheetOf(page)).toContainText('notes changed');
}

test('a handout has the sentence, the devices by name and the changed notes with their wedges', async ({
  page,
}) => {
  await makeLesson(page);
  await layPaper(page);
  const paper = page.locator('.paper');
  await expect(paper).toContainText(
    'Lean below on Anywhere A semitone from below leads into every new chord.',
  );
  await expect(paper).toContainText(
    /\d+ of 48 notes changed from Frame: each has a wedge beside its finger\./,
  );
  await expect(paper.locator('.device-names').first()).toContainText(/semitone ?below/);
  await expect(paper.locator('.wedges').first()).toBeVisible();
  await expect(paper.locator('.gap')).toHaveCount(0);
});

test('a worksheet has gaps, its answers a page of their own; large print has larger digits', async ({
  page,
}) => {
  await makeLesson(page);
  const count = Number(/(\d+) of 48/.exec(await sheetOf(page).innerText())![1]);
  await page.getByRole('button', { name: 'Print', exact: true }).click();
  const panel = page.locator('#panel-print');
  await panel.getByLabel('Sheet').selectOption('worksheet');
  await page.keyboard.press('Escape');
  await layPaper(page);
  const paper = page.locator('.paper');
  await expect(paper.locator('.gap')).toHaveCount(count);
  const answers = paper.getByRole('region', { name: 'Answers' });
  await expect(answers.locator('.gap')).toHaveCount(0);
  // Every note stands among the answers; on the sheet itself the gaps have neither head nor finger, and no names.
  const fingers = async (css: string): Promise<number> =>
    (await paper.locator(css).allTextContents()).join('').replace(/\s/g, '').length;
  expect(await fingers('.answers .fingers')).toBe(48);
  expect(await fingers(':scope > .system .fingers')).toBe(48 - count);
  await expect(paper.locator(':scope > .system .device-names')).toHaveCount(0);
  expect(pagesOf(await page.pdf({ preferCSSPageSize: true })).count).toBeGreaterThanOrEqual(2);

  await page.emulateMedia({ media: null });
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  await page.getByRole('button', { name: 'Print', exact: true }).click();
  await panel.getByLabel('Sheet').selectOption('line');
  await layPaper(page);
  const heightOf = async (): Promise<{ digit: number; staff: number }> =>
    paper.evaluate((article) => {
      const lines = article.querySelector('.lines')!.getBoundingClientRect();
      const digit = article.querySelector('.fingers')!;
      const zoom =
        lines.height / (digit.closest('svg')!.querySelector<SVGPathElement>('.lines')!.getBBox().height || 1);
      return { digit: Number(digit.getAttribute('font-size')) * zoom, staff: lines.height };
    });
  const usual = await heightOf();
  await page.emulateMedia({ media: null });
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  await panel.getByLabel('Large print').check();
  await layPaper(page);
  const large = await heightOf();
  expect(large.staff / usual.staff).toBeGreaterThan(1.5);
  expect(large.staff / usual.staff).toBeLessThanOrEqual(2);
  expect(large.digit / usual.digit).toBeGreaterThan(2.2);
  const wide = await paper.evaluate((article) => {
    const { right } = article.getBoundingClientRect();
    return [...article.querySelectorAll('.system > svg')].some(
      (svg) => svg.getBoundingClientRect().right > right + 2,
    );
  });
  expect(wide).toBe(false);
});

test('a link opens the lesson where it was left, over its study', async ({ page }) => {
  await page.addInitScript(() => {
    const written: string[] = [];
    Object.assign(globalThis, { written });
    Object.defineProperty(navigator, 'clipboard', {
      value: { writeText: (text: string) => Promise.resolve(void written.push(text)) },
    });
  });
  await makeLesson(page);
  const said = await sheetOf(page).innerText();
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByRole('button', { name: /link/i }).first().click();
  const link = await page.evaluate(() => (globalThis as unknown as { written: string[] }).written[0]!);
  await page.goto('about:blank');
  await page.goto(link);
  await expect.poll(() => sheetOf(page).innerText()).toBe(said);
  await sheetOf(page).getByRole('button', { name: 'Back to my line' }).click();
  await expect(sheetOf(page)).toHaveCount(0);
});

test('the projector view has one line at a time, by arrows and by press, and Escape gives the place back', async ({
  page,
}) => {
  await makeLesson(page);
  await page.getByRole('region', { name: 'Lessons' }).getByRole('button', { name: 'Close' }).click();
  const opener = sheetOf(page).getByRole('button', { name: 'Projector view' });
  await opener.press('Enter');
  const view = page.getByRole('dialog', { name: 'Projector view' });
  await expect(view).toContainText('A semitone from below leads into every new chord.');
  await expect(view.getByRole('status')).toHaveText('Bars 1 to 2 of 12');
  await expect(view.locator('svg.system')).toHaveCount(1);
  expect(await view.locator('.note').count()).toBe(8);
  await expect(view.locator('.device-names').first()).toContainText(/semitone/);
  expect(await axeFindings(page)).toEqual([]);
  const wedges = async (): Promise<number> =>
    (
      await view.locator('.note').evaluateAll((notes) => notes.map((note) => note.getAttribute('aria-label')))
    ).filter((label) => label?.endsWith('; changed')).length;
  let changed = await wedges();
  for (let line = 2; line <= 6; line++) {
    await page.keyboard.press(line % 2 ? 'ArrowDown' : 'ArrowRight');
    await expect(view.getByRole('status')).toHaveText(`Bars ${2 * line - 1} to ${2 * line} of 12`);
    changed += await wedges();
  }
  await page.keyboard.press('ArrowRight');
  await expect(view.getByRole('status')).toHaveText('Bars 11 to 12 of 12');
  await expect(view.getByRole('button', { name: 'Next line' })).toBeDisabled();
  await view.getByRole('button', { name: 'Line before' }).click();
  await expect(view.getByRole('status')).toHaveText('Bars 9 to 10 of 12');
  await page.keyboard.press('Escape');
  await expect(view).toHaveCount(0);
  await expect(opener).toBeFocused();
  await expect(sheetOf(page)).toContainText(`${changed} of 48 notes changed`);
});

for (const size of [
  { width: 390, height: 844 },
  { width: 1440, height: 900 },
])
  test(`the projector view is as large as the screen allows and keeps inside it, ${size.width} wide, in both themes`, async ({
    page,
  }) => {
    await page.setViewportSize(size);
    await makeLesson(page);
    await page.getByRole('region', { name: 'Lessons' }).getByRole('button', { name: 'Close' }).click();
    await sheetOf(page).getByRole('button', { name: 'Projector view' }).click();
    const view = page.getByRole('dialog', { name: 'Projector view' });
    await expect(view.locator('.note').first()).toBeVisible();
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await axeFindings(page)).toEqual([]);
      const inside = await view.evaluate((dialog) => {
        const room = dialog.querySelector('.line')!.getBoundingClientRect();
        return [...dialog.querySelectorAll('svg.system')].every((part) => {
          const { left, right, top, bottom } = part.getBoundingClientRect();
          return (
            left >= room.left - 2 &&
            right <= room.right + 2 &&
            top >= room.top - 2 &&
            bottom <= room.bottom + 2
          );
        });
      });
      expect(inside).toBe(true);
    }
    // The smallest words of the music: a thirtieth of the screen's height in a wide room.
    const words = await view.locator('.device-names tspan').first().boundingBox();
    expect(words!.height).toBeGreaterThanOrEqual(size.width > size.height ? size.height / 30 : 14);
  });

test("the day's new layer is opened by one press, heard twice, and counted by a clean pass", async ({
  page,
}) => {
  await page.clock.install();
  await openApp(page);
  await settled(page);
  await openLessons(page);
  const today = page.getByRole('region', { name: "Today's practice" });
  await today.getByRole('button', { name: 'Open Ground and hear it twice' }).press('Enter');
  await expect(sheetOf(page)).toContainText('Ground on Anywhere');
  await expect(today).toContainText('Time 1 of 2');
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('button', { name: 'Stop', exact: true }).first().click();
  await expect(today).not.toContainText('Time 1 of 2');
  await today.getByRole('button', { name: 'A clean pass' }).press('Enter');
  await expect(today).toContainText('1 of 1 passes clean today.');
  await expect(today.getByRole('button', { name: 'Hear Ground twice again' })).toBeVisible();
  await page.clock.setFixedTime(Date.now() + 86_400_000);
  await page.reload();
  await expect(sheetOf(page)).toContainText('Ground on Anywhere');
  await openLessons(page);
  await expect(today.getByRole('button', { name: 'Open Pillars and hear it twice' })).toBeVisible();
});

test('a study remembers its lesson: it lies there after a reload and out of its file, until it is left', async ({
  page,
}) => {
  await makeLesson(page);
  const said = await sheetOf(page).innerText();
  const notes = await notesOf(page);
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Study file', exact: true }).click(),
  ]);
  const buffer = readFileSync(await file.path());
  await page.reload();
  await expect.poll(() => sheetOf(page).innerText()).toBe(said);
  await expect.poll(() => notesOf(page)).toEqual(notes);

  await sheetOf(page).getByRole('button', { name: 'Back to my line' }).press('Enter');
  await expect(sheetOf(page)).toHaveCount(0);
  await page.reload();
  await settled(page);
  await expect(sheetOf(page)).toHaveCount(0);

  await page.getByRole('button', { name: 'Studies', exact: true }).click();
  const open = page.locator('input[type=file][accept*=json]');
  await open.setInputFiles({ name: 'lesson.ramble.json', mimeType: 'application/json', buffer });
  await expect.poll(() => sheetOf(page).innerText()).toBe(said);
  const strange = buffer.toString('utf8').replace('"layer": "below"', '"layer": "attic"');
  await open.setInputFiles({
    name: 'strange.ramble.json',
    mimeType: 'application/json',
    buffer: Buffer.from(strange),
  });
  await expect(page.getByText('Parts of that study could not be read')).toBeVisible();
  await expect(sheetOf(page)).toHaveCount(0);
});
