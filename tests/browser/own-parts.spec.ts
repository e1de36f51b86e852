// Files with several parts on the changes: which of them is the line is asked, and another can be taken.
import { test, type Page } from '@playwright/test';
import { midiFile } from './midi-file';
import {
  axeFindings,
  expect,
  holdAnswers,
  openApp,
  openChanges,
  readLine,
  settled,
  watchEveryTest,
} from './page';

watchEveryTest();

async function open(page: Page, parts: Readonly<Record<string, readonly number[]>>): Promise<void> {
  await openChanges(page);
  await page
    .locator('#drawer-changes input[type=file]')
    .setInputFiles({ name: 'trio.mid', mimeType: 'audio/midi', buffer: midiFile(parts) });
}
const letters = async (page: Page): Promise<string> =>
  (await readLine(page)).map(({ note }) => note.replace(/\d+$/, '')).join('');

const lead = [60, 62, 64, 65];
const low = [36, 40, 43, 45];

for (const [width, height] of [
  [1280, 800],
  [390, 844],
] as const)
  test(`a MIDI file in which no part is clearly the bass asks for one, ${width} wide`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await openApp(page);
    const before = await letters(page);
    await open(page, { Keys: lead, Left: low });
    const drawer = page.locator('#drawer-changes');
    const choice = drawer.getByLabel('Line from part');
    await expect(choice).toBeFocused();
    await expect(drawer).toContainText('Choose the part whose line you want');
    await expect(choice.locator('option')).toHaveText([
      'Choose a part',
      '1 “Keys” (4 notes)',
      '2 “Left” (4 notes)',
    ]);
    await expect(drawer.getByRole('button', { name: /Over (these changes|no chords)/ })).toHaveCount(0);
    expect(await axeFindings(page)).toEqual([]);
    // By keys alone: the second part, then where it is to lie. The choice keeps the focus while parts are compared.
    await choice.selectOption('1');
    await expect(drawer).toContainText('a line of 4 notes');
    await choice.selectOption('2');
    await expect(drawer.getByRole('button', { name: 'Over no chords' })).toBeEnabled();
    await expect(choice).toBeFocused();
    expect(await letters(page)).toBe(before);
    await drawer.getByRole('button', { name: 'Over no chords' }).press('Enter');
    await settled(page);
    await expect.poll(() => letters(page)).toBe('CEGA');
    await expect(choice).toHaveCount(0);
  });

test('the bass of a MIDI file is taken and named, and another part can be had instead', async ({ page }) => {
  await openApp(page);
  await open(page, { Keys: lead, Bass: low });
  const drawer = page.locator('#drawer-changes');
  const choice = drawer.getByLabel('Line from part');
  await expect(choice).toHaveValue('2');
  await expect(drawer.getByRole('button', { name: 'Over these changes' })).toBeFocused();
  await choice.selectOption('1');
  await expect(choice).toHaveValue('1');
  await drawer.getByRole('button', { name: 'Over no chords' }).click();
  await settled(page);
  await expect.poll(() => letters(page)).toBe('CDEF');
});

test('an answer waits until the part that was chosen has been read', async ({ page }) => {
  await holdAnswers(page);
  await openApp(page);
  await open(page, { Keys: lead, Left: low });
  const drawer = page.locator('#drawer-changes');
  const choice = drawer.getByLabel('Line from part');
  await choice.selectOption('1');
  const overNone = drawer.getByRole('button', { name: 'Over no chords' });
  await expect(overNone).toBeEnabled();
  // The other part takes as long as one wants: nothing may be done with the first in its place.
  await page.evaluate(() => Object.assign(globalThis, { isHolding: true }));
  await choice.selectOption('2');
  for (const name of ['Over these changes', 'Over no chords'])
    await expect(drawer.getByRole('button', { name })).toBeDisabled();
  await page.evaluate(() => Reflect.deleteProperty(globalThis, 'isHolding'));
  await choice.selectOption('1');
  await choice.selectOption('2');
  await expect(overNone).toBeEnabled();
  await overNone.press('Enter');
  await settled(page);
  await expect.poll(() => letters(page)).toBe('CEGA');
});
