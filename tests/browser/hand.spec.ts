// Bass and hand on the page: settings in one panel, both ways side by side, a scale in one click, all of it kept.
import { readFileSync } from 'node:fs';
import { test, type Page } from '@playwright/test';
import { axeFindings, expect, openApp, openFromMenu, readLine, testTimeout, watch } from './page';

test.describe.configure({ timeout: testTimeout });

test('a player enters bass and hand in one panel, within a minute, and finds them again', async ({
  page,
  baseURL,
}) => {
  const seen = watch(page, baseURL!);
  await openApp(page);
  const before = await readLine(page);
  await page.getByRole('button', { name: 'Hand', exact: true }).click();
  const panel = page.locator('#panel-hand');
  const started = Date.now();
  await panel.getByRole('combobox', { name: 'Kind' }).selectOption({ label: '7/8 bass, E A D G' });
  await panel.getByRole('spinbutton', { name: 'String length' }).fill('1085');
  await panel.getByRole('combobox', { name: 'Heel of the neck' }).selectOption({ label: 'at D' });
  await panel.getByRole('checkbox', { name: 'Left-handed' }).check();
  await panel.getByRole('spinbutton', { name: 'Span' }).fill('165');
  await panel.getByRole('combobox', { name: 'Fingers' }).selectOption({ label: '1-2-3-4 from …' });
  await panel.getByRole('combobox', { name: '… from' }).selectOption({ label: 'II½ (B)' });
  await panel.getByRole('combobox', { name: 'Position names' }).selectOption({ label: 'III½ (D♭)' });
  await panel.getByRole('button', { name: 'Block' }).click();
  await panel.getByRole('combobox', { name: 'Hardest move' }).selectOption({ label: 'no hard move' });
  expect(Date.now() - started).toBeLessThan(60_000);
  await expect(panel.getByRole('img', { name: /half.*whole tone 112 mm/ })).toBeVisible();
  expect(await axeFindings(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await expect
    .poll(async () => (await readLine(page)).map((row) => row.position).join())
    .not.toBe(before.map((row) => row.position).join());
  // In the block the hand lies from III to VI.
  await expect
    .poll(async () =>
      (await readLine(page)).filter(({ position }) => !/^(III|III½|IV|V|V½|VI) \(/.test(position)),
    )
    .toEqual([]);

  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await page.getByRole('button', { name: 'Hand', exact: true }).click();
  await expect(panel.getByRole('combobox', { name: 'Hardest move' })).toHaveValue('');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Redo', exact: true }).click();
  await expect(page.locator('header .saving')).toHaveText(/saved/);
  await page.reload();
  await page.getByRole('button', { name: 'Hand', exact: true }).click();
  await expect(panel.getByRole('spinbutton', { name: 'String length' })).toHaveValue('1085');
  await expect(panel.getByRole('spinbutton', { name: 'Span' })).toHaveValue('165');
  await expect(panel.getByRole('button', { name: 'Block' })).toHaveAttribute('aria-pressed', 'true');
  await expect(panel.getByRole('combobox', { name: '… from' })).toHaveValue('4');
  await expect(panel.getByRole('combobox', { name: 'Hardest move' })).toHaveValue('gentle');
  expect(seen.errors).toEqual([]);
  expect(seen.strangers).toEqual([]);
});

test('tempos at which shifts feel in time say how fast the hand is: words before, seconds after, words again', async ({
  page,
}) => {
  await openApp(page);
  const report = page.getByRole('region', { name: 'Hand report' });
  const hardest = report.locator('dt:text-is("hardest move") + dd');
  await expect(hardest).toHaveText(/mm; (easy|brisk|at the edge|beyond)$/);
  await page.getByRole('button', { name: 'Hand', exact: true }).click();
  const panel = page.locator('#panel-hand');
  await panel.getByText('How fast you shift', { exact: true }).click();
  await expect(panel.getByText('not known yet', { exact: false })).toBeVisible();
  const tempo = (name: RegExp) => panel.getByRole('spinbutton', { name });
  await tempo(/^1\. I and II½/).fill('200');
  await expect(panel.getByText('It takes two shifts', { exact: false })).toBeVisible();
  await tempo(/^3\. I and VII/).fill('7');
  await expect(panel.getByText('Shift 3 needs a tempo from 30 to 500.')).toBeVisible();
  await tempo(/^3\. I and VII/).fill('120');
  await tempo(/^4\. I and II½/).fill('120');
  await panel.getByRole('button', { name: 'Use these' }).click();
  await expect(panel.getByText(/^Yours: I to II½ 0\.\d\d s, /).first()).toBeVisible();
  expect(await axeFindings(page)).toEqual([]);
  await expect(hardest).toHaveText(/\d\.\d\d s/);
  await panel.getByRole('button', { name: 'Back to the assumed' }).click();
  await expect(hardest).toHaveText(/mm; (easy|brisk|at the edge|beyond)$/);
});

test('strings are shown by letter, or by numeral where that is wished', async ({ page }) => {
  await openApp(page);
  const strings = page.locator('.staff-box, main').locator('.strings').first();
  await expect(strings).toHaveText(/^[EADG]+$/);
  await page.getByRole('button', { name: 'Hand', exact: true }).click();
  await page.locator('#panel-hand').getByRole('combobox', { name: 'String names' }).selectOption('numerals');
  await expect(strings).toHaveText(/^[IV]+$/);
  await page.reload();
  await expect(strings).toHaveText(/^[IV]+$/);
});

test('the walk stands beside the usual way, and B flat without half position is one click and prints', async ({
  page,
}) => {
  await openApp(page);
  await openFromMenu(page, 'Usual and open');
  const usual = page.getByRole('region', { name: 'Usual way' });
  const open = page.getByRole('region', { name: 'Open way' });
  await expect(usual.locator('.system').first()).toBeVisible();
  await expect(open.locator('.strip').first()).toBeVisible();
  await expect(usual.getByRole('img').first()).toBeVisible();
  await expect(page.getByRole('row', { name: /^bare shifts/ })).toBeVisible();
  expect(await axeFindings(page)).toEqual([]);

  await page.getByRole('button', { name: 'B♭ major without half' }).click();
  await expect(page.getByText('B♭ major, one octave, up and down')).toBeVisible();
  const label = (side: typeof open) => side.getByRole('list', { name: /in words/i }).first();
  await expect(label(open)).toContainText('III½');
  await expect(label(open)).not.toContainText('half');
  await expect(label(usual)).toContainText('half');

  await page.emulateMedia({ media: 'print' });
  await expect(page.getByRole('region', { name: 'Open way' }).locator('.system').first()).toBeVisible();
  await expect(page.getByText('B♭ major, one octave, up and down')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Print', exact: true }).first()).toBeHidden();
  await page.emulateMedia({ media: 'screen' });
  await page.keyboard.press('Escape');
  await expect(page.locator('main .board')).toBeVisible();
});

/** The line as a file of the save panel. */
async function savedAs(page: Page, kind: 'MIDI' | 'MusicXML'): Promise<Buffer> {
  await page.locator('header').getByRole('button', { name: 'Save', exact: true }).click();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: kind, exact: true }).click();
  const path = await (await download).path();
  await page.keyboard.press('Escape');
  return readFileSync(path);
}

async function openOwnNotes(page: Page): Promise<void> {
  await openFromMenu(page, 'Usual and open');
  await page.getByRole('button', { name: 'Notes of your own' }).click();
}

interface FileToOpen {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}
async function openFile(page: Page, file: FileToOpen): Promise<void> {
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Open a file' }).click();
  await (await choosing).setFiles(file);
}

test('a line from a MIDI file is laid beside itself, can be changed by hand, and what was there comes back', async ({
  page,
}) => {
  await openApp(page);
  const line = await readLine(page);
  const midi = await savedAs(page, 'MIDI');
  await openOwnNotes(page);
  const notes = page.getByRole('textbox', { name: 'Notes' });
  await notes.fill('F1 A1 C2');
  await openFile(page, { name: 'line.mid', mimeType: 'audio/midi', buffer: midi });
  await expect(page.getByText(/^line\.mid is in place/)).toContainText(`${line.length} notes`);
  await expect(page.getByRole('textbox', { name: 'Title' })).toHaveValue('Back Stairs Blues');
  const written = (await notes.inputValue()).split(' ').filter((word) => !word.startsWith('r'));
  expect(written).toHaveLength(line.length);
  const open = page.getByRole('region', { name: 'Open way' });
  await expect(open.locator('[data-note][aria-label^="Bar "]')).toHaveCount(line.length);

  await page.getByRole('combobox', { name: 'Meter' }).selectOption('3/4');
  await expect(open.locator('button[data-note][aria-label^="Bar 16,"]').first()).toBeVisible();
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('button', { name: 'Put it back' }).click();
  await expect(notes).toHaveValue('F1 A1 C2');

  await openFile(page, { name: 'junk.mid', mimeType: 'audio/midi', buffer: Buffer.from('MThd junk') });
  await expect(page.getByText(/^junk\.mid holds no notes/)).toBeVisible();
  await expect(notes).toHaveValue('F1 A1 C2');
});

test('fingers that stand in a MusicXML file are shown beside both ways, until its notes are typed over', async ({
  page,
}) => {
  await openApp(page);
  const line = await readLine(page);
  const score = await savedAs(page, 'MusicXML');
  await openOwnNotes(page);
  await openFile(page, { name: 'line.musicxml', mimeType: 'text/xml', buffer: score });
  const written = page.getByRole('region', { name: 'Fingers written in the file' });
  await expect(written.getByRole('columnheader')).toHaveCount(line.length);
  await expect(
    written
      .getByRole('row', { name: /^in the file/ })
      .getByRole('cell')
      .first(),
  ).toHaveText(/^[EADG] [0-4T]$/);
  expect(await axeFindings(page)).toEqual([]);
  await page.getByRole('textbox', { name: 'Notes' }).fill('F1 A1 C2');
  await expect(written).toBeHidden();
});
