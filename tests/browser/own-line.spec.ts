// A file with a line over its changes: asked once, it lies on the sheet, is edited, kept, and goes out again as it is.
import { readFileSync } from 'node:fs';
import { test, type Locator, type Page } from '@playwright/test';
import { axeFindings, expect, openApp, openChanges, readLine, settled, watchEveryTest } from './page';

watchEveryTest();

const held = (string: number, finger: string): string =>
  `<notations><technical><fingering>${finger}</fingering><string>${string}</string></technical></notations>`;
const note = (step: string, octave: number, duration: number, more = ''): string =>
  `<note><pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>${duration}</duration><voice>1</voice>${more}</note>`;
const rest = (duration: number): string => `<note><rest/><duration>${duration}</duration></note>`;
const chord = (root: string, kind: string): string =>
  `<harmony><root><root-step>${root}</root-step></root><kind>${kind}</kind></harmony>`;
/** Written an octave above its sound, with a rest to begin with and fingers at two notes. */
const score = `<?xml version="1.0"?><score-partwise version="4.0"><work><work-title>Kept Line</work-title></work><part-list><score-part id="P1"><part-name>Bass</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>2</divisions><key><fifths>0</fifths><mode>major</mode></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>F</sign><line>4</line></clef><transpose><diatonic>0</diatonic><chromatic>0</chromatic><octave-change>-1</octave-change></transpose></attributes>${chord('D', 'minor-seventh')}${rest(2)}${note('D', 3, 2, held(2, '0'))}${note('F', 3, 1)}${note('A', 3, 3, held(2, '4'))}</measure><measure number="2">${chord('G', 'dominant')}${note('G', 3, 4)}${note('B', 2, 4)}</measure></part></score-partwise>`;
const written = ['D', 'F', 'A', 'G', 'B'];

const drawer = (page: Page): Locator => page.locator('#drawer-changes');
const own = (page: Page): Locator => page.getByRole('region', { name: 'Your own line' });
const letters = async (page: Page): Promise<string[]> =>
  (await readLine(page)).map(({ note: name }) => name.replace(/\d+$/, ''));

async function openScore(page: Page): Promise<void> {
  await openChanges(page);
  await drawer(page)
    .locator('input[type=file]')
    .setInputFiles({ name: 'kept.musicxml', mimeType: 'application/xml', buffer: Buffer.from(score) });
  await expect(drawer(page).getByRole('status').filter({ hasText: 'Which is to lie' })).toBeVisible();
}

async function savedScore(page: Page): Promise<string> {
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'MusicXML', exact: true }).click(),
  ]);
  await page.keyboard.press('Escape');
  return readFileSync(await download.path(), 'utf8');
}

test('a line of one’s own lies under its chords, is moved by key and press, kept and exported as it is', async ({
  page,
}) => {
  await openApp(page);
  await openScore(page);
  await expect(drawer(page).getByRole('button', { name: 'Its line' })).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(own(page)).toContainText('5 notes stand');
  await settled(page);
  await expect.poll(() => letters(page)).toEqual(written);
  const [first, , third] = await readLine(page);
  expect([first!.finger, third!.finger]).toEqual(['open', '4th finger']);
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Kept Line');
  expect(await axeFindings(page)).toEqual([]);
  const exported = await savedScore(page);
  expect([...exported.matchAll(/<step>([A-G])<\/step>/g)].map(([, step]) => step)).toEqual(written);
  for (const root of ['D', 'G']) expect(exported).toContain(`<root-step>${root}</root-step>`);

  // Our fingers and theirs.
  const ours = own(page).getByRole('button', { name: 'Our fingers' });
  await expect(own(page).getByRole('button', { name: 'The file’s fingers' })).toHaveAttribute(
    'aria-pressed',
    'true',
  );
  await ours.click();
  await expect(ours).toHaveAttribute('aria-pressed', 'true');
  await settled(page);
  await expect.poll(() => letters(page)).toEqual(written);

  // A note is chosen and moved, by key and by press; undo brings it back.
  await drawer(page).getByRole('button', { name: 'Close' }).click();
  await page.locator('main').press('ArrowRight');
  await page.keyboard.press('ArrowLeft');
  const before = await letters(page);
  await page.keyboard.press('ArrowUp');
  await settled(page);
  await expect
    .poll(async () => (await letters(page)).filter((name, at) => name !== before[at]).length)
    .toBe(1);
  await own(page).getByRole('button', { name: 'A semitone down' }).click();
  await settled(page);
  await expect.poll(() => letters(page)).toEqual(before);

  // The band plays it, paper and the link have it.
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toBeVisible();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();

  // Kept with the study, over a reload.
  await expect(page.locator('header .saving')).toHaveText(/saved/);
  await page.reload();
  await expect(own(page)).toBeVisible();
  await expect.poll(() => letters(page)).toEqual(written);

  await expect(page.getByRole('button', { name: 'New notes here' })).toHaveCount(0);
  await own(page).getByRole('button', { name: 'Walk these changes instead' }).click();
  await expect(own(page)).toHaveCount(0);
  await expect.poll(async () => (await readLine(page)).length).toBe(8);
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(() => letters(page)).toEqual(written);
});

test('a file with a line is walked where that is asked for', async ({ page }) => {
  await openApp(page);
  await openScore(page);
  await drawer(page).getByRole('button', { name: 'A walked line' }).click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Kept Line');
  await expect(own(page)).toHaveCount(0);
  await expect(drawer(page).getByRole('button', { name: 'Its line' })).toHaveCount(0);
  await expect.poll(async () => (await readLine(page)).length).toBe(8);
});
