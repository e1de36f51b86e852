// What is printed: sheets, choruses, maps, and nothing to press.
import { test, type Page } from '@playwright/test';
import { expect, layPaper, openApp, openChanges, readLine, settled, watchEveryTest } from './page';
import { inkOnPages } from './pdf';

watchEveryTest();

/** Marks on a page that has at least a line of music, or a map. */
const leastInk = 20;

async function takePaperAway(page: Page): Promise<void> {
  await page.emulateMedia({ media: null });
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  await expect(page.locator('.paper')).toHaveCount(0);
}

/** Pages of a PDF, none of them blank, and their size in points. A page with its number alone has a mark or two. */
function pagesOf(pdf: Buffer): { count: number; width: number; height: number } {
  const [, width = '0', height = '0'] =
    /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf.toString('latin1')) ?? [];
  const ink = inkOnPages(pdf);
  for (const marks of ink) expect(marks).toBeGreaterThan(leastInk);
  return { count: ink.length, width: Math.round(Number(width)), height: Math.round(Number(height)) };
}

test('paper: title, key, tempo, chords, fingers and positions, and nothing to press', async ({ page }) => {
  await openApp(page);
  const line = await readLine(page);
  await layPaper(page);
  const paper = page.locator('.paper');
  await expect(paper.getByRole('heading', { level: 1 })).toHaveText('Back Stairs Blues');
  await expect(paper).toContainText('F · 4/4 · swing');
  await expect(paper).toContainText('♩ = 132');
  const said = async (css: string): Promise<string[]> =>
    (await paper.locator(css).allTextContents()).map((text) => text.trim());
  const chords = (await said('.system .symbols, .system .chord, .system text')).join(' ');
  for (const chord of ['B♭', 'Bdim', 'Cm', 'Gm']) expect(chords).toContain(chord);
  const positions = new Set(line.map(({ position }) => position).filter((text) => text !== ''));
  const bracketed = (await said('.positions tspan')).filter((text) => text !== '');
  expect(bracketed.length).toBeGreaterThan(3);
  for (const one of bracketed) expect([...positions]).toContain(one);
  const fingers = line.map(({ finger }) => (finger === 'open' ? '0' : finger.replace(/\D.*$/, '')));
  expect(fingers.length).toBeGreaterThanOrEqual(48);
  const pressable = page.locator(':is(button, input, select, textarea, a[href], summary):visible');
  expect(await pressable.count()).toBe(0);
  await expect(page.locator('.app')).toBeHidden();
  await takePaperAway(page);
  await expect(page.locator('.app')).toBeVisible();
  const pdf = await page.pdf({ preferCSSPageSize: true });
  expect(pagesOf(pdf)).toEqual({ count: 1, width: 595, height: 842 });
});

test('paper: one chorus as it is written, with its repeat and endings, in place of all that is played', async ({
  page,
}) => {
  await openApp(page);
  await (await openChanges(page)).fill('Title: Round\nTempo: 120\n|: C6 | Am7 |1 G7 :|2 C6 || F6 | C6 |');
  await page.getByRole('spinbutton', { name: 'Choruses' }).fill('2');
  await page.keyboard.press('Tab');
  await expect.poll(async () => (await readLine(page)).length).toBeGreaterThan(60);
  await settled(page);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Print', exact: true }).click();
  const panel = page.locator('#panel-print');
  await expect(panel.getByLabel('Choruses')).toBeVisible();
  await panel.getByLabel('One chorus with its repeats and endings').check();
  await expect(panel.getByLabel('Choruses')).toHaveCount(0);
  await page.keyboard.press('Escape');
  await layPaper(page);
  const paper = page.locator('.paper');
  await expect(paper).toContainText('every bar stands as it is played the first time');
  const words = (await paper.locator('svg.form tspan').allTextContents()).map((text) => text.trim());
  expect(words).toEqual(['1.', '2.']);
  expect(await paper.locator('svg.form circle').count()).toBe(4);
  const digits = (await paper.locator('.fingers').allTextContents()).join('').replace(/\s/g, '');
  expect(digits.length).toBeGreaterThanOrEqual(20);
  expect(digits.length).toBeLessThan(36);
});

test('paper: Letter, some choruses of four, maps and the hand report, chosen by keys', async ({ page }) => {
  await openApp(page);
  await openChanges(page);
  await page.getByRole('spinbutton', { name: 'Choruses' }).fill('4');
  await page.keyboard.press('Tab');
  await settled(page);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Print', exact: true }).focus();
  await page.keyboard.press('Enter');
  const panel = page.locator('#panel-print');
  await expect(panel.getByLabel('Paper')).toBeVisible();
  const reached = async (name: string): Promise<void> => {
    const wanted = panel.getByLabel(name);
    for (let tabs = 0; tabs < 20; tabs++) {
      if (await wanted.evaluate((element) => element === document.activeElement)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`${name} is not reached by Tab`);
  };
  await reached('Paper');
  await page.keyboard.press('l');
  await reached('Choruses');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('ArrowUp');
  await reached('Hand report');
  await page.keyboard.press('Space');
  await reached('A small map for every section');
  await page.keyboard.press('Space');
  await page.keyboard.press('Escape');

  await layPaper(page);
  const paper = page.locator('.paper');
  await expect(paper).toHaveAttribute('data-paper', 'Letter');
  await expect(paper.locator('.system > svg')).toHaveCount(6);
  await expect(paper.locator('figure svg')).toHaveCount(2);
  await expect(paper.locator('figcaption')).toHaveText(['bars 1–12', 'bars 13–24']);
  await expect(paper.getByRole('heading', { name: 'Hand report' })).toBeVisible();
  await expect(paper).toContainText('It is not an estimate of injury risk');
  const isCut = await paper.evaluate((sheet) =>
    [...sheet.querySelectorAll('.system > svg')].some(
      (part) => part.getBoundingClientRect().right > sheet.getBoundingClientRect().left + 712,
    ),
  );
  expect(isCut).toBe(false);
  await takePaperAway(page);
  const { count, width, height } = pagesOf(await page.pdf({ preferCSSPageSize: true }));
  expect([width, height]).toEqual([612, 792]);
  expect(count).toBeGreaterThan(1);
  expect(count).toBeLessThan(5);
});

const twelve = '| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | Am7b5 D7b9 | Gm7 | C7 | F7 D7 | Gm7 C7 |';
// As many systems as fill a page nearly, exactly and just not are the ones after which a blank page would come.
for (const lines of [1, 2, 3, 4, 5])
  test(`paper: no page is blank, ${lines * 12} bars with maps and report and without`, async ({ page }) => {
    await openApp(page);
    const field = await openChanges(page);
    await field.fill(`Title: Pages\nKey: F\n\n${Array.from({ length: lines }, () => twelve).join('\n')}`);
    await settled(page);
    await expect.poll(async () => (await readLine(page)).length).toBeGreaterThanOrEqual(lines * 40);
    await page.keyboard.press('Escape');
    const plain = pagesOf(await page.pdf({ preferCSSPageSize: true }));
    await page.getByRole('button', { name: 'Print', exact: true }).click();
    const panel = page.locator('#panel-print');
    await panel.getByLabel('Hand report').check();
    await panel.getByLabel('A small map for every section').check();
    await page.keyboard.press('Escape');
    const full = pagesOf(await page.pdf({ preferCSSPageSize: true }));
    expect(full.count).toBeGreaterThanOrEqual(plain.count);
  });

test('paper: a page with nothing but its number would be seen', async ({ page }) => {
  await openApp(page);
  await layPaper(page);
  await page.evaluate(() => {
    const blank = document.createElement('div');
    blank.style.breakBefore = 'page';
    blank.textContent = ' ';
    blank.style.height = '10px';
    document.querySelector('.paper')!.append(blank);
  });
  const [first, second, ...more] = inkOnPages(await page.pdf({ preferCSSPageSize: true }));
  expect(more).toEqual([]);
  expect(first).toBeGreaterThan(leastInk);
  expect(second).toBeLessThan(leastInk);
  await takePaperAway(page);
});
