// A file with a line over its changes: asked once, it lies on the sheet, is edited, kept, and goes out again as it is.
import { readFileSync } from 'node:fs';
import { test, type Locator, type Page } from '@playwright/test';
import {
  axeFindings,
  expect,
  layPaper,
  openApp,
  openChanges,
  readLine,
  settled,
  watchEveryTest,
} from './page';

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
  await expect(drawer(page).getByRole('status').filter({ hasText: 'Which do you want' })).toBeVisible();
}

/** A MIDI file of quarters: 480 to a quarter, 132 a minute, each note at once after the one before. */
function midiFile(notes: readonly number[]): Buffer {
  const events = [
    [0, 0xff, 0x51, 3, 0x06, 0xef, 0x90],
    ...notes.flatMap((note) => [
      [0, 0x90, note, 80],
      [0x83, 0x60, 0x80, note, 0],
    ]),
    [0, 0xff, 0x2f, 0],
  ].flat();
  const length = Buffer.alloc(4);
  length.writeUInt32BE(events.length);
  const head = Buffer.from([0, 0, 0, 6, 0, 0, 0, 1, 1, 0xe0]);
  return Buffer.concat([Buffer.from('MThd'), head, Buffer.from('MTrk'), length, Buffer.from(events)]);
}
/** The numbers of the notes that a MIDI file strikes on channel 1. */
const struckIn = (bytes: Buffer): number[] =>
  [...bytes.keys()].flatMap((at) =>
    bytes[at] === 0x90 && bytes[at + 2]! > 0 && bytes[at + 2]! < 128 ? [bytes[at + 1]!] : [],
  );

async function saved(page: Page, name: 'MusicXML' | 'MIDI'): Promise<Buffer> {
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name, exact: true }).click(),
  ]);
  await page.keyboard.press('Escape');
  return readFileSync(await download.path());
}

const savedScore = async (page: Page): Promise<string> => (await saved(page, 'MusicXML')).toString('utf8');

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

  // Nothing can be asked of its notes that would change them.
  await page.locator('button.note').first().click();
  await expect(page.getByRole('button', { name: 'Pin this note' })).toBeVisible();
  for (const name of ['Root here', 'Open here'])
    await expect(page.getByRole('button', { name, exact: true })).toHaveCount(0);

  // Our fingers and theirs, both on the sheet and in the file.
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
  await own(page).getByRole('button', { name: /^Down/ }).click();
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

async function dropMidi(page: Page, notes: readonly number[]): Promise<void> {
  await openChanges(page);
  const data = await page.evaluateHandle(
    (bytes) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([new Uint8Array(bytes)], 'etude.mid', { type: 'audio/midi' }));
      return transfer;
    },
    [...midiFile(notes)],
  );
  await drawer(page)
    .getByRole('group', { name: 'Chart as text' })
    .dispatchEvent('drop', { dataTransfer: data });
  await expect(drawer(page).getByRole('status').filter({ hasText: 'Where do you want it' })).toBeVisible();
}
/** Where something is once it has come to rest: what stands over the sheet may be one row less a moment later. */
async function standing(what: Locator): Promise<{ x: number; y: number; width: number; height: number }> {
  let box = { x: 0, y: 0, width: 0, height: 0 };
  await expect
    .poll(async () => {
      const [before, now] = [box, (await what.boundingBox())!];
      box = now;
      return Math.abs(now.x - before.x) + Math.abs(now.y - before.y);
    })
    .toBe(0);
  return box;
}
const etude = [36, 40, 43, 45, 38, 41, 43, 47];

test('a MIDI file dropped on the changes lies over no chords, is written in by hand, and goes out as it is', async ({
  page,
}) => {
  await openApp(page);
  await dropMidi(page, etude);
  await expect(drawer(page).getByRole('button', { name: 'Over these changes' })).toBeFocused();
  await drawer(page).getByRole('button', { name: 'Over no chords' }).click();
  await settled(page);
  await expect.poll(() => letters(page)).toEqual(['C', 'E', 'G', 'A', 'D', 'F', 'G', 'B']);
  expect(struckIn(await saved(page, 'MIDI'))).toEqual(etude);
  await drawer(page).getByRole('button', { name: 'Close' }).click();

  // Drawn up by two steps with the mouse: C becomes E.
  const first = page.locator('button.note[data-note="0"]');
  // The staff is laid out anew once the drawer has gone.
  const box = await standing(first);
  const steps = await page
    .locator('.system path.lines')
    .first()
    .evaluate((lines) => {
      const { height } = (lines as SVGPathElement).getBBox();
      return height / 4;
    });
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2 - steps, { steps: 4 });
  await expect(page.locator('svg.ghost')).toHaveText('E2');
  await page.mouse.up();
  await settled(page);
  await expect.poll(async () => (await letters(page))[0]).toBe('E');

  // Shorter by key, then one more in the rest behind it, and away again.
  await expect(first).toHaveAttribute('aria-pressed', 'true');
  await page.keyboard.press(',');
  await settled(page);
  await page.keyboard.press('n');
  await expect.poll(async () => (await letters(page)).length).toBe(9);
  await settled(page);
  await own(page)
    .getByRole('button', { name: /^Delete/ })
    .click();
  await expect.poll(() => letters(page)).toEqual(['E', 'E', 'G', 'A', 'D', 'F', 'G', 'B']);

  // A double press on the empty beat writes a note in.
  await settled(page);
  const next = await standing(first);
  await page.mouse.dblclick(next.x - 20, next.y + next.height / 3);
  await expect.poll(async () => (await letters(page)).length).toBe(9);
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await expect.poll(async () => (await letters(page)).length).toBe(8);
  expect(await axeFindings(page)).toEqual([]);
});

test('a line of one’s own is starred, sent as a link and printed as it is', async ({ page, context }) => {
  await openApp(page);
  await openScore(page);
  await page.keyboard.press('Enter');
  await settled(page);
  await expect.poll(() => letters(page)).toEqual(written);

  // Starred, left, and come back to.
  await page.getByRole('button', { name: /^Take/ }).click();
  await page.getByRole('button', { name: 'Keep this take' }).click();
  await page.keyboard.press('Escape');
  await own(page).getByRole('button', { name: 'Walk these changes instead' }).click();
  await expect(own(page)).toHaveCount(0);
  await settled(page);
  await page.getByRole('button', { name: /^Take/ }).click();
  await page.getByRole('button', { name: 'Play this one: Your own line' }).click();
  await page.keyboard.press('Escape');
  await expect(own(page)).toContainText('5 notes stand');
  await expect.poll(() => letters(page)).toEqual(written);
  await expect(own(page).getByRole('button', { name: 'The file’s fingers' })).toHaveAttribute(
    'aria-pressed',
    'true',
  );

  // The link brings it to another page.
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await page.getByRole('button', { name: 'Copy a link', exact: true }).click();
  const link = await page.evaluate(() => navigator.clipboard.readText());
  await page.keyboard.press('Escape');
  const other = await context.newPage();
  await openApp(other, link);
  await expect(own(other)).toContainText('5 notes stand');
  await expect.poll(() => letters(other)).toEqual(written);
  await other.close();

  // On paper five heads and the rest before them.
  const fingers = (await readLine(page)).map(({ finger }) => (finger === 'open' ? '0' : finger[0]!));
  const others = await page.locator('main .staff .beside tspan').allTextContents();
  expect(others.length).toBeGreaterThan(0);
  await layPaper(page);
  const paper = page.locator('.paper');
  await expect(paper).toContainText('Kept Line');
  // Both fingerings, as on the sheet, with a sentence that says whose stand in brackets.
  expect(await paper.locator('.beside tspan').allTextContents()).toEqual(others);
  await expect(paper).toContainText('Where we would take another finger or string');
  await expect.poll(() => paper.locator('.system > svg').count()).toBeGreaterThan(0);
  const digits = (await paper.locator('.fingers').allTextContents()).join('').replace(/\s/g, '');
  expect([...digits].sort()).toEqual([...fingers].sort());
});
