// The ways to lessons that several tests of them take.
import type { Locator, Page } from '@playwright/test';

/** Opens the drawer of lessons from the header, or from the menu where the header has no room for it. */
export async function openLessons(page: Page): Promise<void> {
  const opener = page.getByRole('button', { name: 'Lessons', exact: true });
  if (!(await opener.isVisible()))
    await page.getByRole('button', { name: 'Menu', exact: true }).press('Enter');
  await opener.press('Enter');
}

/** What is said of the lesson that lies on the sheet. */
export const sheetOf = (page: Page): Locator => page.getByRole('region', { name: 'Lesson', exact: true });
