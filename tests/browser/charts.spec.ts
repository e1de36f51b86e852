// Tunes from files and from the clipboard, hostile ones too; and a scale chosen for a chord, which is written into the chart.
import { test, type Locator, type Page } from '@playwright/test';
import { strToU8, zipSync } from 'fflate';
import { expect, openApp, openChanges, readLine, settled, watchEveryTest } from './page';

watchEveryTest();

const chordIn = (root: string, kind: string): string =>
  `<harmony><root><root-step>${root}</root-step></root><kind>${kind}</kind></harmony><note><rest/><duration>4</duration></note>`;
const score = (title: string): string =>
  `<?xml version="1.0"?><score-partwise version="4.0"><work><work-title>${title}</work-title></work><part-list><score-part id="P1"><part-name>Lead</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions><key><fifths>0</fifths><mode>major</mode></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>${chordIn('D', 'minor-seventh')}</measure><measure number="2">${chordIn('G', 'dominant')}</measure><measure number="3">${chordIn('C', 'major-seventh')}</measure></part></score-partwise>`;
const hostileTitle = '&lt;img src=x onerror=&quot;document.title=1&quot;&gt;&lt;b&gt;bold';

const files: Readonly<Record<string, Uint8Array>> = {
  'ours.musicxml': strToU8(score('Ours')),
  'ours.mxl': zipSync({ 'score.xml': strToU8(score('Ours')) }),
  'ours.abc': strToU8('X:1\nT:Ours\nM:4/4\nL:1/4\nK:C\n"Dm7"z4 | "G7"z4 | "Cmaj7"z4 |]\n'),
  'ours.txt': strToU8('Title: Ours\r\nKey: C\r\n\r\n| Dm7 | G7 | Cmaj7 |\r\n'),
};

const drawer = (page: Page): Locator => page.locator('#drawer-changes');
const heading = (page: Page): Locator => page.getByRole('heading', { level: 1 });
const undo = (page: Page): Promise<void> => page.getByRole('button', { name: 'Undo', exact: true }).click();

async function openFile(page: Page, name: string, bytes: Uint8Array): Promise<void> {
  await drawer(page)
    .locator('input[type=file]')
    .setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(bytes) });
  await expect(drawer(page).getByRole('status').filter({ hasText: name })).toBeVisible();
}

/** Pastes as a browser does, into the chart's text where the caret is. */
async function paste(field: Locator, text: string): Promise<boolean> {
  return field.evaluate((area, data) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData('text/plain', data);
    return area.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }),
    );
  }, text);
}

test('a file of each kind takes the place of the changes, and undo brings the ones before it back', async ({
  page,
}) => {
  await openApp(page);
  const field = await openChanges(page);
  const former = await field.inputValue();
  for (const [name, bytes] of Object.entries(files)) {
    await openFile(page, name, bytes);
    await expect(heading(page)).toHaveText('Ours');
    await expect(field).toHaveValue(/\| Dm7 \| G7 \| Cmaj7/);
    await settled(page);
    await expect.poll(async () => (await readLine(page)).length).toBe(12);
    await undo(page);
    await expect(field).toHaveValue(former);
  }
});

test('changes from elsewhere are pasted as they are, and a whole file as what it holds', async ({ page }) => {
  await openApp(page);
  const field = await openChanges(page);
  const former = await field.inputValue();
  const overWords = 'Dm7         G7\nWalk along the quiet street\nC6          A7\nAnd never mind the rain';
  expect(await paste(field, overWords)).toBe(true);
  await field.fill(overWords);
  await expect(page.locator('#chart-remarks button').filter({ hasText: 'Line 4' })).toBeVisible();
  await settled(page);
  await expect.poll(async () => (await readLine(page)).length).toBe(8);
  expect(await paste(field, score('Pasted'))).toBe(false);
  await expect(heading(page)).toHaveText('Pasted');
  await expect(field).toHaveValue(/\| Dm7 \| G7 \| Cmaj7/);
  await undo(page);
  await expect(field).toHaveValue(overWords);
  await undo(page);
  await expect(field).toHaveValue(former);
});

test('a hostile title in a file is text', async ({ page }) => {
  await openApp(page);
  await openChanges(page);
  await openFile(page, 'hostile.musicxml', strToU8(score(hostileTitle)));
  await expect(heading(page)).toHaveText(/<img src=x onerror="document\.title=1"><b>bold/);
  expect(await page.locator('img[src="x"]').count()).toBe(0);
  await openFile(page, '<b>name.musicxml', strToU8(score('Ours')));
  await expect(drawer(page).getByRole('status').filter({ hasText: '<b>name.musicxml' })).toBeVisible();
  expect(await drawer(page).locator('[role=status] b').count()).toBe(0);
});

test('broken files, bombs and files of another kind are refused, and the changes stay', async ({ page }) => {
  await openApp(page);
  const field = await openChanges(page);
  const former = await field.inputValue();
  const line = await readLine(page);
  const bomb = `<?xml version="1.0"?><!DOCTYPE lol [<!ENTITY a "ha"><!ENTITY b "${'&a;'.repeat(10)}"><!ENTITY c "${'&b;'.repeat(10)}">]><score-partwise><work><work-title>&c;</work-title></work></score-partwise>`;
  const zeros = zipSync({ 'score.xml': new Uint8Array(40 * 1024 * 1024) }, { level: 9 });
  const refused: Readonly<Record<string, Uint8Array>> = {
    'broken.musicxml': strToU8(score('Ours').slice(0, 300)),
    'bomb.musicxml': strToU8(bomb),
    'zeros.mxl': zeros,
    'cut.mxl': zipSync({ 'score.xml': strToU8(score('Ours')) }).slice(0, 80),
    'picture.txt': Uint8Array.from({ length: 400 }, (_, index) => (index * 37) % 256),
    'empty.abc': new Uint8Array(),
  };
  for (const [name, bytes] of Object.entries(refused)) {
    await openFile(page, name, bytes);
    await expect(drawer(page).getByRole('status').filter({ hasText: name })).toContainText(
      'Your changes are as they were',
    );
    await expect(field).toHaveValue(former);
  }
  await settled(page);
  expect(await readLine(page)).toEqual(line);
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
});

test('a scale chosen for a chord is written into the chart, and undo takes it out', async ({ page }) => {
  await openApp(page);
  const field = await openChanges(page);
  await field.fill('Title: Ours\nKey: F\n\n| F7 | Bb7 | F7 | C7 |');
  await settled(page);
  await page.locator('[data-note][aria-label^="Bar 2, beat 1:"]').click();
  const choice = page.getByLabel('Scale over B♭7');
  await choice.selectOption('lydian dominant');
  await expect(field).toHaveValue(/\| Bb7 ?\{lydian dominant\} \|/);
  await settled(page);
  await expect(choice).toHaveValue('lydian dominant');
  await expect(page.locator('section').filter({ has: choice })).toContainText('B♭ C D E F G A♭');
  await choice.selectOption('');
  await expect(field).not.toHaveValue(/\{/);
  await undo(page);
  await expect(field).toHaveValue(/\{lydian dominant\}/);
  await undo(page);
  await expect(field).toHaveValue(/\| F7 \| Bb7 \| F7 \| C7 \|/);
});

test('a score without chord symbols leaves the changes alone and is fingered, from the part that is chosen', async ({
  page,
}) => {
  const note = (step: string, octave: number): string =>
    `<note><pitch><step>${step}</step><octave>${octave}</octave></pitch><duration>1</duration><voice>1</voice></note>`;
  const part = (id: string, notes: string): string =>
    `<part id="${id}"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>${notes}</measure></part>`;
  const names = ['Guitar', 'Left hand'];
  const list = names.map(
    (name, index) => `<score-part id="P${index}"><part-name>${name}</part-name></score-part>`,
  );
  const text = `<?xml version="1.0"?><score-partwise version="4.0"><part-list>${list.join('')}</part-list>${part('P0', note('A', 3) + note('C', 4))}${part('P1', note('C', 2) + note('E', 2) + note('G', 2) + note('A', 2))}</score-partwise>`;

  await openApp(page);
  const field = await openChanges(page);
  const former = await field.inputValue();
  await openFile(page, 'duet.musicxml', strToU8(text));
  await expect(drawer(page)).toContainText('several parts and no chord symbols');
  await expect(field).toHaveValue(former);

  await drawer(page).getByRole('button', { name: 'Finger it both ways' }).click();
  const notes = page.getByRole('textbox', { name: 'Notes' });
  const choice = page.getByLabel('Line from part');
  await expect(page.locator('main')).toContainText('no part that is clearly for the bass');
  await expect(choice.locator('option')).toHaveText([
    'Choose a part',
    '1 “Guitar” (2 notes)',
    '2 “Left hand” (4 notes)',
  ]);
  await choice.selectOption('2');
  await expect(notes).toHaveValue('C2 E2 G2 A2');
  await choice.selectOption('1');
  await expect(notes).toHaveValue('A3 C4');
  // What was there before the file comes back, not what its other part had brought.
  await page.getByRole('button', { name: 'Put it back' }).click();
  await expect(notes).toHaveValue('');
});
