// A browser that refuses, forgets or delays: what the header, the notices and the list of studies say, and that work goes on.
import { test, type Page } from '@playwright/test';
import { expect, openApp, openChanges, watchEveryTest } from './page';
import { openBlank, putRecords, refuseDatabase, refuseJournal, slowDatabase } from './storage';

watchEveryTest();

const header = (page: Page) => page.locator('header .saving');
const notices = (page: Page) => page.locator('.notices .notice p');
const type = async (page: Page, text: string): Promise<void> => (await openChanges(page)).fill(text);

/** The study on the desk as the file that a notice offers with one press. */
async function fileOf(page: Page): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.locator('.notices').getByRole('button', { name: 'Save to a file' }).click(),
  ]);
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString('utf8');
}

for (const how of ['denied', 'absent'] as const) {
  test(`a database that is ${how}: work is kept aside, and nothing says otherwise`, async ({ page }) => {
    await refuseDatabase(page, how);
    await openApp(page);
    await type(page, 'Title: Aside\n| C6 | A7 |');
    await expect(header(page)).toHaveText('· kept in this browser');
    await expect(notices(page)).toHaveText([/kept in this browser all the same/]);
    expect(await fileOf(page)).toContain('Title: Aside');
    await page.reload();
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Aside');
    await expect(header(page)).toHaveText('· kept in this browser');
    await page.getByRole('button', { name: 'Studies', exact: true }).click();
    await expect(page.locator('#drawer-studies')).toContainText('beside its list of studies');
    await expect(page.locator('#drawer-studies li .actions')).toHaveCount(1);
  });
}

for (const how of ['denied', 'full'] as const) {
  test(`no database and quick storage that is ${how}: the page says that nothing is kept, and asks before it goes`, async ({
    page,
  }) => {
    await refuseDatabase(page, 'denied');
    await refuseJournal(page, how);
    await openApp(page);
    await type(page, 'Title: Nowhere\n| C6 | A7 |');
    await expect(header(page)).toHaveText('· not saved');
    await expect(notices(page)).toHaveText([/lasts until you close the page/]);
    expect(await fileOf(page)).toContain('Title: Nowhere');
    const asked = page.waitForEvent('dialog');
    const closing = page.close({ runBeforeUnload: true });
    const dialog = await asked;
    expect(dialog.type()).toBe('beforeunload');
    await Promise.all([dialog.accept(), closing]);
  });
}

test('a full quick storage beside a database that answers is no trouble', async ({ page }) => {
  await refuseJournal(page, 'full');
  await openApp(page);
  await type(page, 'Title: Kept\n| C6 | A7 |');
  await expect(header(page)).toHaveText('· saved');
  await expect(notices(page)).toHaveCount(0);
});

test('a database without room: work is kept aside, told once, and saved when there is room', async ({
  page,
}) => {
  await page.addInitScript(() => {
    const plain = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...given) {
      if ('hasRoom' in globalThis) return plain.apply(this, given);
      throw new DOMException('full', 'QuotaExceededError');
    };
  });
  await openApp(page);
  await type(page, 'Title: Too much\n| C6 | G7 |');
  await expect(header(page)).toHaveText('· kept in this browser');
  await expect(notices(page)).toHaveText([/no room left among your saved studies/]);
  await page.locator('.notices').getByRole('button', { name: 'Dismiss' }).click();
  await type(page, 'Title: Too much\n| C6 | G9 |');
  await page.waitForTimeout(1_500);
  await expect(notices(page)).toHaveCount(0);
  await page.evaluate(() => Object.assign(globalThis, { hasRoom: true }));
  await type(page, 'Title: Just enough\n| C6 |');
  await expect(header(page)).toHaveText('· saved');
});

test('a database that never answers is called slow, and work is there after a reload', async ({ page }) => {
  await slowDatabase(page, Infinity);
  await openApp(page);
  await expect(notices(page)).toHaveText([/takes long over your saved studies/]);
  await type(page, 'Title: Patient\n| C6 | A7 |');
  await expect(header(page)).toHaveText('· kept in this browser');
  await page.getByRole('button', { name: 'Studies', exact: true }).click();
  await expect(page.locator('#drawer-studies')).toContainText('takes long');
  await page.reload();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Patient');
  await expect(notices(page)).toHaveText([/kept in this browser all the same/]);
});

test('a database that takes four seconds is waited for: saved in the end, never said to be refused', async ({
  page,
}) => {
  await slowDatabase(page, 4_000);
  const said = new Set<string>();
  await openApp(page);
  await type(page, 'Title: Late\n| C6 | A7 |');
  await expect
    .poll(
      async () => {
        for (const text of await notices(page).allInnerTexts()) said.add(text);
        return header(page).innerText();
      },
      { intervals: [50] },
    )
    .toBe('· saved');
  for (const text of said) expect(text).toMatch(/takes long/);
  await expect(notices(page)).toHaveCount(0);
});

test('a database of a newer version is called that, and work is kept aside', async ({ page }) => {
  await openBlank(page);
  await page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        const opening = indexedDB.open('ramble', 2);
        opening.onupgradeneeded = () => opening.result.createObjectStore('studies', { keyPath: 'id' });
        opening.onsuccess = () => {
          opening.result.close();
          resolve();
        };
      }),
  );
  await openApp(page);
  await expect(notices(page)).toHaveText([/newer Ramble/]);
  await type(page, 'Title: Older page\n| C6 | A7 |');
  await expect(header(page)).toHaveText('· kept in this browser');
  expect(await fileOf(page)).toContain('Title: Older page');
});

test('a database cleared while the page is open is filled again', async ({ page, context, baseURL }) => {
  await openApp(page);
  await type(page, 'Title: First\n| C6 | A7 |');
  await expect(header(page)).toHaveText('· saved');
  const session = await context.newCDPSession(page);
  const origin = new URL(baseURL ?? '').origin;
  await session.send('Storage.clearDataForOrigin', { origin, storageTypes: 'indexeddb,local_storage' });
  await type(page, 'Title: Second\n| C6 | D7 |');
  await expect(header(page)).toHaveText('· saved');
  await expect(notices(page)).toHaveText([/saved again/]);
  await page.reload();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Second');
});

test('another page that makes the database newer does not end the work on this one', async ({
  page,
  context,
}) => {
  await openApp(page);
  await type(page, 'Title: First\n| C6 | A7 |');
  await expect(header(page)).toHaveText('· saved');
  const other = await context.newPage();
  await openBlank(other);
  await other.evaluate(
    () =>
      new Promise<void>((resolve) => {
        const opening = indexedDB.open('ramble', 2);
        opening.onsuccess = () => {
          opening.result.close();
          resolve();
        };
      }),
  );
  await type(page, 'Title: Second\n| C6 | D7 |');
  await expect(header(page)).toHaveText('· kept in this browser');
  await expect(notices(page)).toHaveText([/newer Ramble/]);
});

test('damaged records are listed apart, given as a file, removed and put back; the others open', async ({
  page,
}) => {
  const study = { chartText: 'Title: Whole\n| C6 | A7 |' };
  await openBlank(page);
  await putRecords(page, [
    {
      id: 'whole',
      title: 'Whole',
      savedAt: Number.NaN,
      revision: 1,
      envelope: { format: 'ramble-study', version: 1, study },
    },
    {
      id: 'late',
      title: 'Late',
      savedAt: 1e17,
      revision: 1,
      envelope: { format: 'ramble-study', version: 1, study },
    },
    { id: 'hollow', title: 'Hollow', savedAt: 'yesterday', revision: 'one', envelope: null },
    { id: 7, nothing: true },
  ]);
  await openApp(page);
  await page.getByRole('button', { name: 'Studies', exact: true }).click();
  const drawer = page.locator('#drawer-studies');
  await expect(drawer.getByText('no date')).toHaveCount(1);
  await expect(drawer.locator('ul.damaged li')).toHaveCount(2);
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    drawer.getByRole('button', { name: 'Save to a file: Hollow' }).click(),
  ]);
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
  expect(JSON.parse(Buffer.concat(chunks).toString('utf8'))).toMatchObject({ id: 'hollow' });
  await drawer.getByRole('button', { name: 'Remove: Hollow' }).click();
  await expect(drawer.locator('ul.damaged li')).toHaveCount(1);
  await page.locator('.notices').getByRole('button', { name: 'Undo' }).click();
  await expect(drawer.locator('ul.damaged li')).toHaveCount(2);
  await drawer.getByRole('button', { name: /^Late/ }).first().click();
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Whole');
});
