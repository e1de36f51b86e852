// The night: from an empty one to a planned and printed one by keyboard, and back from its file.
import { readFileSync } from 'node:fs';
import { test, type Locator, type Page } from '@playwright/test';
import { axeFindings, expect, holdAnswers, openApp, openChanges, watchEveryTest } from './page';

watchEveryTest();

const night = (page: Page): Locator => page.getByRole('main', { name: 'The night' });

/** Puts the focus on something and presses it, as a keyboard does. */
async function press(control: Locator): Promise<void> {
  await control.focus();
  await control.press('Enter');
}

async function openNight(page: Page): Promise<Locator> {
  await press(page.getByRole('button', { name: 'Menu', exact: true }));
  await press(page.getByRole('button', { name: 'The night', exact: true }));
  await expect(night(page)).toBeVisible();
  return night(page);
}

/** Chooses an option by typing its beginning. */
async function choose(select: Locator, label: string): Promise<void> {
  await select.focus();
  await select.selectOption({ label });
}

async function planned(page: Page): Promise<void> {
  await expect(page.getByRole('progressbar', { name: 'Planning the night' })).toHaveCount(0);
  await expect(page.getByRole('heading', { name: 'What it comes to' })).toBeVisible();
}

async function addBare(page: Page, title: string, text: string): Promise<void> {
  const set = page.getByRole('region', { name: 'First set' });
  await choose(set.getByRole('combobox', { name: 'Add a tune to the first set' }), 'A chart typed here…');
  const field = page.getByRole('textbox', { name: 'Chart as text' });
  await expect(field).toBeFocused();
  await field.fill(`Title: ${title}\n${text}`);
  await press(page.getByRole('button', { name: 'Add this chart' }));
  await expect(set.getByRole('button', { name: `Open: ${title}` })).toBeVisible();
}

test('a night goes from empty to printed by keyboard, and comes back from its file', async ({ page }) => {
  await openApp(page);
  const main = await openNight(page);
  await main.getByRole('textbox', { name: 'Title of the night' }).fill('Harbour room');
  await page.keyboard.press('Tab');
  await page.getByRole('textbox', { name: 'Begins at' }).fill('20:30');
  await page.keyboard.press('Tab');
  const set = page.getByRole('region', { name: 'First set' });
  await choose(
    set.getByRole('combobox', { name: 'Add a tune to the first set' }),
    'Back Stairs Blues, as on the sheet',
  );
  await addBare(page, 'Short Ride', 'Key: Bb\nTempo: 150\n| Bb6 | Gm7 | Cm7 | F7 |');
  await addBare(page, 'Long Way', 'Key: Eb\nTempo: 96\n| Eb6 | Cm7 | Fm7 | Bb7 |');
  await planned(page);

  // A wish by the grip on its band: what it costs is told in notes.
  const handle = page.getByRole('slider', { name: 'At most, middle' });
  await expect(handle).toHaveAttribute('aria-valuetext', 'no wish');
  await handle.focus();
  await handle.press('Home');
  await handle.press('ArrowRight');
  await expect(handle).toHaveAttribute('aria-valuetext', '0.5 minutes');
  await expect(page.getByRole('spinbutton', { name: 'middle, minutes at most' })).toHaveValue('0.5');
  await planned(page);
  const says = page.getByRole('region', { name: 'What it comes to' });
  await expect(says).not.toHaveAttribute('aria-busy', 'true');
  await expect(says).toContainText(/At most .* minutes? in the middle/);
  await expect(says).toContainText(/notes a chorus differ/);
  await expect(says).toContainText('not of injury risk');

  await press(set.getByRole('button', { name: 'Find an order' }));
  await expect(set.getByText(/best order/)).toBeVisible();
  await planned(page);
  expect(await axeFindings(page)).toEqual([]);

  // On the stand a pedal goes through the set.
  await press(main.getByRole('button', { name: 'Stand', exact: true }));
  const stand = page.getByRole('dialog', { name: 'Stand' });
  await expect(stand).toContainText('Now');
  await expect(stand).toContainText('Next');
  await expect(stand.locator('.current .title')).toBeInViewport({ ratio: 1 });
  for (let step = 0; step < 3; step++) await page.keyboard.press('PageDown');
  await expect(stand).toContainText('That was the night.');
  await page.keyboard.press('PageUp');
  await expect(stand).toContainText('Now');
  await page.keyboard.press('Escape');
  await expect(stand).toHaveCount(0);

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    press(main.getByRole('button', { name: 'Save to a file' })),
  ]);
  expect(download.suggestedFilename()).toBe('harbour-room.night.json');
  const file = readFileSync(await download.path());
  const sentences = await says.locator('li').allTextContents();

  // One page, nothing to press.
  await page.emulateMedia({ media: 'print' });
  const paper = page.locator('.night-paper');
  await expect(paper.getByRole('heading', { level: 1 })).toHaveText('Harbour room');
  for (const text of ['Short Ride', 'Long Way', 'E♭', '150', '20:30 to'])
    await expect(paper).toContainText(text);
  expect(await page.locator(':is(input, select, textarea, summary):visible').count()).toBe(0);
  await page.emulateMedia({ media: null });
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  expect(pdf.match(/\/Type \/Page\b/g)).toHaveLength(1);

  // The file, in a browser that knows nothing of it.
  await choose(main.getByRole('combobox', { name: 'Saved nights' }), 'New night');
  await expect(set.getByText('No tune yet.')).toBeVisible();
  await page
    .locator('main input[type=file]')
    .setInputFiles({ name: 'night.json', mimeType: 'application/json', buffer: file });
  await expect(main.getByRole('textbox', { name: 'Title of the night' })).toHaveValue('Harbour room');
  await planned(page);
  await expect(says).not.toHaveAttribute('aria-busy', 'true');
  await expect.poll(async () => says.locator('li').allTextContents()).toEqual(sentences);
});

test('a study that changed and one that is gone are told, and nothing is lost', async ({ page }) => {
  await openApp(page);
  const field = await openChanges(page);
  await field.fill('Title: Kept\nKey: C\nTempo: 120\n| C6 | A7 | Dm7 | G7 |');
  await expect(page.locator('header .saving')).toHaveText(/saved/);
  await openNight(page);
  const set = page.getByRole('region', { name: 'First set' });
  await choose(set.getByRole('combobox', { name: 'Add a tune to the first set' }), 'Kept');
  await planned(page);
  await expect(night(page).locator('header [role=status]')).toHaveText('saved');

  await press(set.getByRole('button', { name: 'Open: Kept' }));
  await (await openChanges(page)).fill('Title: Kept\nKey: C\nTempo: 120\n| C6 | Ebdim7 | Dm7 | G7 |');
  await expect(page.locator('header .saving')).toHaveText(/saved/);
  await openNight(page);
  await expect(set).toContainText('Its study has changed since.');
  await press(set.getByRole('button', { name: 'Take it as it is now: Kept' }));
  await expect(set).not.toContainText('Its study has changed since.');

  await page.getByRole('button', { name: 'Studies', exact: true }).click();
  await page.getByRole('button', { name: 'Remove: Kept' }).click();
  await expect(page.getByRole('button', { name: 'Remove: Kept' })).toHaveCount(0);
  await page.reload();
  await openNight(page);
  await expect(set).toContainText('Its study is gone.');
  await expect(set.getByRole('button', { name: 'Open: Kept' })).toBeVisible();
  await planned(page);
  await expect(page.getByRole('region', { name: 'What it comes to' })).toContainText('of playing');
});

test('a wish is drawn on the strip, says at once what it asks for, and is lifted at the end of its band', async ({
  page,
}) => {
  await openApp(page);
  const main = await openNight(page);
  await addBare(page, 'Long Way', 'Key: Eb\nTempo: 72\n| Eb6 | Cm7 | Fm7 | Bb7 |');
  await planned(page);
  const grip = page.getByRole('slider', { name: 'At most, low' });
  const amount = page.getByRole('spinbutton', { name: 'low, minutes at most' });
  const live = main.locator('figure [role=status]');
  // Again where the strip moved between a look at it and the press: on a busy machine the page may still be laid out.
  await expect(async () => {
    const strip = (await grip.boundingBox())!;
    const [left, right] = [strip.x + 12, strip.x + strip.width - 12];
    const y = strip.y + strip.height / 2;
    await page.mouse.up();
    await page.mouse.move(right, y);
    await page.mouse.down();
    await page.mouse.move((left + right) / 2, y, { steps: 4 });
    await expect(live).toContainText(/^At most .* low; as planned it is/, { timeout: 5_000 });
  }).toPass();
  await expect(amount).toHaveValue('');
  await page.mouse.up();
  await expect(amount).not.toHaveValue('');
  await planned(page);
  await expect(live).toContainText(/At most .* low/);
  await expect(live).not.toContainText('as planned');

  // Undo takes the wish back as one step; so does the end of the band.
  await page.keyboard.press('Control+z');
  await expect(amount).toHaveValue('');
  await grip.focus();
  await grip.press('ArrowLeft');
  await expect(amount).not.toHaveValue('');
  await grip.press('End');
  await expect(amount).toHaveValue('');
  await expect(grip).toHaveAttribute('aria-valuetext', 'no wish');
  // A press beside the grips still opens the tune.
  await main.getByRole('button', { name: /^Long Way, .*: open it$/ }).click();
  await expect(main).toHaveCount(0);
});

test('a plan that was stopped is worked out when it is asked for again', async ({ page }) => {
  await holdAnswers(page);
  await openApp(page);
  await openNight(page);
  await page.evaluate(() => Object.assign(globalThis, { isHolding: true }));
  await addBare(page, 'Long Way', 'Key: Eb\nTempo: 96\n| Eb6 | Cm7 | Fm7 | Bb7 |');
  await press(page.getByRole('button', { name: 'Stop', exact: true }));
  await expect(page.getByRole('progressbar', { name: 'Planning the night' })).toHaveCount(0);
  await page.evaluate(() => Reflect.deleteProperty(globalThis, 'isHolding'));
  await press(page.getByRole('button', { name: 'Plan again' }));
  await planned(page);
  await expect(page.getByRole('button', { name: 'Plan again' })).toHaveCount(0);
});

test('three saved studies become a planned night in ten presses', async ({ page }) => {
  await openApp(page);
  const names = ['First Walk', 'Second Walk', 'Third Walk'];
  for (const name of names) {
    await page.getByRole('button', { name: 'Studies', exact: true }).click();
    await page
      .getByRole('button', { name: /Back Stairs Blues/ })
      .last()
      .click();
    await (await openChanges(page)).fill(`Title: ${name}\nKey: C\nTempo: 120\n| C6 | A7 | Dm7 | G7 |`);
    await expect(page.locator('header .saving')).toHaveText(/saved/);
  }
  let presses = 0;
  const click = async (control: Locator): Promise<void> => {
    presses += 1;
    await control.click();
  };
  await click(page.getByRole('button', { name: 'Menu', exact: true }));
  await click(page.getByRole('button', { name: 'The night', exact: true }));
  const add = page.getByRole('combobox', { name: 'Add a tune to the first set' });
  for (const name of names) {
    // A press opens the list, another takes the study.
    presses += 2;
    await add.selectOption({ label: name });
  }
  await planned(page);
  await expect(page.getByRole('region', { name: 'What it comes to' })).toContainText('of playing');
  for (const name of names) await expect(page.getByRole('button', { name: `Open: ${name}` })).toBeVisible();
  expect(presses).toBeLessThanOrEqual(10);
});

for (const [width, height] of [
  [768, 1024],
  [390, 844],
] as const)
  test(`a tune has all its fields in sight with their names, ${width} wide`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await openApp(page);
    const main = await openNight(page);
    await addBare(
      page,
      'A tune with a title of some length',
      'Key: Bb\nTempo: 150\n| Bb6 | Gm7 | Cm7 | F7 |',
    );
    await planned(page);
    const row = main.locator('[data-tune="0/0"]');
    for (const field of await row.locator('select, input, button').all()) {
      const { x, width: wide } = (await field.boundingBox())!;
      expect(x).toBeGreaterThanOrEqual(0);
      expect(x + wide).toBeLessThanOrEqual(width);
    }
    const names = await row
      .locator('td[data-column]')
      .evaluateAll((cells) => cells.map((cell) => getComputedStyle(cell, '::before').content));
    expect(names).toEqual(['"Key"', '"Tempo"', '"Choruses"', '"Walked, %"', '"Minutes"', '"Place"']);
    expect(await axeFindings(page)).toEqual([]);
  });
