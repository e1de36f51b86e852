// No instant in which work can be lost: the page is left so many milliseconds after an edit, while the database takes ten
// seconds over everything.
import { test, type Page } from '@playwright/test';
import { expect, openApp, openChanges, openFromMenu, testTimeout, watch, type Watch } from './page';
import { slowDatabase } from './storage';

test.describe.configure({ timeout: testTimeout });

const openHeader = (page: Page, name: string): Promise<void> =>
  page.locator('header').getByRole('button', { name, exact: true }).first().click();
const lowStay = (page: Page) =>
  page
    .locator('#panel-limits')
    .getByRole('combobox', { name: /^at most/ })
    .first();
const span = (page: Page) => page.locator('#panel-hand').getByRole('spinbutton', { name: 'Span' });

/** Something a person changes, and where it is seen again. `turn` makes each one another. */
interface Edit {
  readonly name: string;
  readonly prepare: (page: Page) => Promise<void>;
  readonly make: (page: Page, turn: number) => Promise<void>;
  readonly isThere: (page: Page, turn: number) => Promise<void>;
}

const edits: readonly Edit[] = [
  {
    name: 'a title typed',
    prepare: async (page) => {
      const field = await openChanges(page);
      await field.focus();
      await page.keyboard.press('Control+Home');
      await page.keyboard.press('End');
    },
    make: (page, turn) => page.keyboard.type(` ${turn}`),
    isThere: (page, turn) =>
      expect(page.getByRole('heading', { level: 1 })).toHaveText(new RegExp(` ${turn}$`)),
  },
  {
    name: 'a note pinned',
    prepare: async (page) => {
      await page.locator('[data-note][aria-label^="Bar 2, beat 1:"]').click();
      await expect(page.locator('[data-way]').first()).toBeVisible();
      await page.keyboard.press('ArrowDown');
      await expect(page.locator('[data-way][aria-pressed="true"]')).toHaveCount(1);
    },
    make: (page) => page.keyboard.press('Enter'),
    isThere: async (page) => {
      await openHeader(page, 'Limits');
      await expect(page.locator('#panel-limits')).toContainText('One note is pinned.');
    },
  },
  {
    name: 'a span typed and its field not yet left',
    prepare: async (page) => {
      await openHeader(page, 'Hand');
      await span(page).focus();
    },
    make: (page, turn) => span(page).fill(String(150 + turn)),
    isThere: async (page, turn) => {
      await openHeader(page, 'Hand');
      await expect(span(page)).toHaveValue(String(150 + turn));
    },
  },
  {
    name: 'a limit chosen',
    prepare: async (page) => {
      await openHeader(page, 'Limits');
      await expect(lowStay(page)).toBeVisible();
    },
    make: async (page, turn) => void (await lowStay(page).selectOption({ index: 1 + (turn % 4) })),
    isThere: async (page, turn) => {
      await openHeader(page, 'Limits');
      await expect
        .poll(() => lowStay(page).evaluate((field: HTMLSelectElement) => field.selectedIndex))
        .toBe(1 + (turn % 4));
    },
  },
  {
    name: 'notes of their own typed',
    prepare: async (page) => {
      await openFromMenu(page, 'Usual and open');
      await page.getByRole('button', { name: 'Notes of your own' }).click();
      await page.getByRole('textbox', { name: 'Notes' }).focus();
    },
    make: (page, turn) => page.getByRole('textbox', { name: 'Notes' }).fill(`F1 A1 C${turn % 3}`),
    isThere: async (page, turn) => {
      await openFromMenu(page, 'Usual and open');
      await expect(page.getByRole('textbox', { name: 'Notes' })).toHaveValue(`F1 A1 C${turn % 3}`);
    },
  },
];

for (const [turn, wait] of [0, 50, 100, 300, 800, 1500].entries()) {
  test(`an edit is there again when the page is left ${wait} ms after it`, async ({ context, baseURL }) => {
    await slowDatabase(context, 10_000);
    const seen: Watch[] = [];
    const open = async (): Promise<Page> => {
      const page = await context.newPage();
      page.setDefaultTimeout(testTimeout / 2);
      seen.push(watch(page, baseURL ?? ''));
      await openApp(page);
      return page;
    };
    let page = await open();
    for (const [index, edit] of edits.entries()) {
      await test.step(edit.name, async () => {
        await edit.prepare(page);
        await edit.make(page, turn + 1);
        await page.waitForTimeout(wait);
        // A field that was not left is only known to have been changed when the page says goodbye, as it does on a reload.
        const isReloaded = edit.name.includes('not yet left') || (index + turn) % 2 === 0;
        if (isReloaded) {
          await page.reload();
          await expect(page.locator('main .board [role=img]').first()).toHaveAttribute(
            'aria-label',
            /string/,
          );
        } else {
          await page.close();
          page = await open();
        }
        await edit.isThere(page, turn + 1);
      });
    }
    expect(seen.flatMap(({ errors, strangers }) => [...errors, ...strangers])).toEqual([]);
  });
}
