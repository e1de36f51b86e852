// Names of notes, studies, browsers that keep nothing, and what must never be interpreted.
import { test } from '@playwright/test';
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

test('notes are called as the player calls them, on the page alone', async ({ page }) => {
  await openApp(page);
  const field = await openChanges(page);
  const text = 'Title: Names\nKey: Bb\n| Bb6 | G7 | Cm7 | F7 |';
  await field.fill(text);
  await settled(page);
  await page.keyboard.press('Escape');
  const english = await readLine(page);
  await page.getByRole('button', { name: 'Menu', exact: true }).click();
  await page.getByLabel('Note names').selectOption('German');
  await page.keyboard.press('Escape');
  await expect(page.locator('header .summary')).toContainText('B · 4/4');
  const german = await readLine(page);
  const inGerman = (note: string): string => {
    const [, letter = '', sign = '', octave = ''] = /^([A-G])([♭♯]?)(\d)$/.exec(note) ?? [];
    const name = { B: 'H', 'B♭': 'B', 'E♭': 'Es', 'A♭': 'As' }[letter + sign];
    return (name ?? letter + { '♭': 'es', '♯': 'is', '': '' }[sign]) + octave;
  };
  expect(german.map(({ note }) => note)).toEqual(english.map(({ note }) => inGerman(note)));
  await page.getByRole('button', { name: 'Limits', exact: true }).click();
  const chips = page.locator('.chips button');
  await expect(chips.nth(3)).toHaveText(/^Bar\s*II½\s*H\s*$/);
  await expect(chips.nth(0)).toHaveText(/^Bar\s*half\s*As\s*$/);
  await page.keyboard.press('Escape');
  await expect(page.locator('main .system').first()).toContainText('B♭');
  expect(await (await openChanges(page)).inputValue()).toBe(text);
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'MusicXML', exact: true }).click(),
  ]);
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
  const steps = [
    ...Buffer.concat(chunks)
      .toString('utf8')
      .matchAll(/<step>(.*?)<\/step>/g),
  ];
  expect(steps.every(([, step = '']) => /^[A-G]$/.test(step))).toBe(true);
});

for (const { name, viewport, touch } of [
  { name: 'lying', viewport: { width: 1440, height: 900 }, touch: false },
  { name: 'standing', viewport: { width: 390, height: 844 }, touch: true },
]) {
  test(`a region of the board fills the view, ${name}, and mirrored`, async ({ page }) => {
    await page.setViewportSize(viewport);
    await page.addInitScript((leftHanded) => {
      localStorage.setItem('ramble.preferences', JSON.stringify({ leftHanded }));
    }, touch);
    await openApp(page);
    const stage = page.locator('main .board .stage');
    const numerals = stage.locator('.edge .numeral');
    const shown = (): Promise<string[]> => numerals.allInnerTexts();
    const whole = await shown();
    expect(whole[0]).toBe('half');
    await page.locator('main').focus();
    await page.keyboard.press('3');
    await expect(page.getByRole('button', { name: 'neck block', exact: true })).toHaveAttribute(
      'aria-pressed',
      'true',
    );
    expect(await shown()).not.toContain('half');
    expect(await shown()).toContain('V');
    const box = await stage.boundingBox();
    for (const numeral of await numerals.locator('button, b').all()) {
      const place = await numeral.boundingBox();
      if (!box || !place) throw new Error('a numeral is not on the page');
      expect(place.x).toBeGreaterThanOrEqual(box.x - 1);
      expect(place.y).toBeGreaterThanOrEqual(box.y - 1);
      expect(place.x + place.width).toBeLessThanOrEqual(box.x + box.width + 1);
      expect(place.y + place.height).toBeLessThanOrEqual(box.y + box.height + 1);
    }
    await page.keyboard.press('Escape');
    await expect.poll(shown).toEqual(whole);
    await page.getByRole('group', { name: 'View of the board' }).getByRole('button', { name: 'low' }).click();
    expect(await shown()).toContain('half');
    expect(await shown()).not.toContain('VII');
    await page.locator('main').focus();
    await page.keyboard.press('0');
    await expect.poll(shown).toEqual(whole);
    expect(await axeFindings(page)).toEqual([]);
  });
}

test('studies are found, doubled, removed and put back, saved to a file and opened again', async ({
  page,
}) => {
  await openApp(page);
  const field = await openChanges(page);
  await field.fill('Title: Étude one\n| C6 | G7 |');
  await expect(page.locator('header .saving')).toHaveText(/· saved/);
  await page.getByRole('button', { name: 'Studies', exact: true }).click();
  const drawer = page.locator('#drawer-studies');
  const own = drawer.locator('li:has(.actions)');
  await drawer.getByRole('button', { name: 'Duplicate: Étude one' }).click();
  await expect(own).toHaveCount(2);
  await drawer.getByRole('searchbox', { name: 'Search by title' }).fill('etude COPY');
  await expect(own).toHaveCount(1);
  await drawer.getByRole('searchbox').fill('nothing of the kind');
  await expect(drawer.getByText('No study of yours')).toBeVisible();
  await drawer.getByRole('searchbox').fill('');
  await drawer.getByRole('button', { name: /^Remove: Étude one \(copy\)/ }).click();
  await expect(own).toHaveCount(1);
  await page.getByRole('button', { name: 'Undo', exact: true }).last().click();
  await expect(own).toHaveCount(2);
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    drawer.getByRole('button', { name: 'Save to a file: Étude one', exact: true }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('etude-one.ramble.json');
  await drawer.locator('input[type=file]').setInputFiles(await download.path());
  await expect(own).toHaveCount(3);
  await drawer.locator('input[type=file]').setInputFiles({
    name: 'x.json',
    mimeType: 'application/json',
    buffer: Buffer.from('{"format":"other"}'),
  });
  await expect(page.getByText('not a Ramble study')).toBeVisible();
  await expect(own).toHaveCount(3);
});

test('hostile strings are text in every view', async ({ page }) => {
  const mark = '<img src=x onerror=owned=1>';
  await openApp(page);
  const field = await openChanges(page);
  await field.fill(
    `Title: ${mark}&lt;b&gt;\nKey: F\n[${mark}]\n| ${mark} | F7 | <svg/onload=owned=1> | C7 |`,
  );
  await settled(page);
  const untouched = async (): Promise<void> => {
    expect(await page.locator('img[src="x"], svg[onload]').count()).toBe(0);
    expect(await page.evaluate(() => 'owned' in globalThis)).toBe(false);
  };
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(`${mark}&lt;b&gt;`);
  await expect(page).toHaveTitle(new RegExp('^<img src=x onerror=owned=1>&lt;b&gt; · '));
  await untouched();
  await expect(page.locator('header .saving')).toHaveText(/· saved/);
  await page.getByRole('button', { name: 'Studies', exact: true }).click();
  const drawer = page.locator('#drawer-studies');
  await expect(drawer.locator('li:has(.actions)').first()).toContainText(mark);
  await untouched();
  await drawer.getByRole('button', { name: `Remove: ${mark}&lt;b&gt;` }).click();
  await expect(page.locator('.notices')).toContainText(mark);
  await untouched();
  await page.keyboard.press('Escape');
  await layPaper(page);
  await expect(page.locator('.paper h1')).toContainText(mark);
  await untouched();
});

test('while it plays, the light moves and nothing of the lines of music is drawn anew', async ({ page }) => {
  await openApp(page);
  await page.keyboard.press('ArrowRight');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  const light = page.locator('main .light.live');
  await expect(light.locator('.ink.lit')).toHaveCount(1);
  const seen = await page.evaluate(async () => {
    const drawn = { lines: 0, places: new Set<string>() };
    const lines = new MutationObserver((records) => (drawn.lines += records.length));
    for (const line of document.querySelectorAll(
      'main .staff :is(svg.system, svg.strip), main .board .picture > svg',
    ))
      lines.observe(line, { subtree: true, childList: true, attributes: true, characterData: true });
    const moving = document.querySelector<HTMLElement>('main .light.live');
    for (let picture = 0; picture < 180; picture++) {
      await new Promise(requestAnimationFrame);
      drawn.places.add(moving?.style.transform ?? '');
    }
    lines.disconnect();
    return { lines: drawn.lines, places: drawn.places.size };
  });
  expect(seen.lines).toBe(0);
  expect(seen.places).toBeGreaterThan(3);
  // It lies on the column of the note that is pressed for a voice.
  const pressed = page.locator('main .staff [data-note][aria-pressed=true]');
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await expect(light.locator('*')).toHaveCount(0);
  await expect(pressed).toHaveCount(1);
  const mark = await page.locator('main .light .mark').boundingBox();
  const column = await pressed.boundingBox();
  expect(mark && column && Math.abs(mark.x - column.x)).toBeLessThan(3);
  expect(mark && column && Math.abs(mark.y - column.y)).toBeLessThan(3);
});

for (const { width, height } of [
  { width: 390, height: 844 },
  { width: 768, height: 1024 },
])
  test(`a screen ${width} pixels wide says whether the work is saved, and nothing gives way for it`, async ({
    page,
  }) => {
    await page.setViewportSize({ width, height });
    await openApp(page);
    const places = (): Promise<unknown> =>
      page.evaluate(() =>
        ['header', 'header h1', 'header nav', 'main'].map((name) => {
          const { x, width, height } = document.querySelector(name)!.getBoundingClientRect();
          return name === 'header h1' ? { x } : { x, width, height };
        }),
      );
    const before = await places();
    await expect(page.locator('header .saving')).toHaveCount(0);
    await page.locator('main').focus();
    await page.keyboard.press('r');
    const state = page.locator('header .saving');
    await expect(state).toHaveText(/saved/);
    await expect(state).toBeVisible();
    expect(await state.evaluate((element) => element.scrollWidth <= element.clientWidth + 1)).toBe(true);
    expect(await places()).toEqual(before);
  });

test('with less motion what changes has changed at once, and nothing is on its way', async ({ page }) => {
  await openApp(page);
  const seen = await page.getByRole('button', { name: 'New take' }).evaluate((button: HTMLButtonElement) => {
    const opacity = (): string => getComputedStyle(button).opacity;
    const before = opacity();
    button.disabled = true;
    const after = opacity();
    button.disabled = false;
    return { before, after, moving: document.getAnimations().length };
  });
  expect(seen).toEqual({ before: '1', after: '0.65', moving: 0 });
});
