// What the browser tests share: a page that is watched, and the ways to its parts.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect as playwrightExpect, test, type Locator, type Page } from '@playwright/test';
import charts from '../../shared/charts/charts.json' with { type: 'json' };

/** Patient: a computation on a busy machine takes its time. */
export const expect = playwrightExpect.configure({ timeout: 30_000 });
/** For a whole test, in milliseconds. */
export const testTimeout = 240_000;

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What must not happen on any page: errors, breaches of the security policy, requests beyond the own origin. */
export interface Watch {
  readonly errors: string[];
  readonly strangers: string[];
}

/** Watches a page from before its first byte. */
export function watch(page: Page, origin: string): Watch {
  const seen: Watch = { errors: [], strangers: [] };
  page.on('console', (message) => {
    if (message.type() === 'error') seen.errors.push(message.text());
  });
  page.on('pageerror', (error) => seen.errors.push(error.message));
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(origin) && !/^(data|blob):/.test(url)) seen.strangers.push(url);
  });
  return seen;
}

/** Gives every test of a file its time, and fails those on whose page something happened that must not. */
export function watchEveryTest(): void {
  test.describe.configure({ timeout: testTimeout });
  let seen: Watch;
  test.beforeEach(({ page, baseURL }) => {
    seen = watch(page, baseURL ?? '');
  });
  test.afterEach(() => {
    expect(seen).toEqual({ errors: [], strangers: [] });
  });
}

/**
 * While `isHolding` is set on the page, its workers' answers are kept back and their progress is told a while later: work
 * then lasts as long as a test wants, on a fast machine, too.
 */
export async function holdAnswers(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const plain = Object.getOwnPropertyDescriptor(Worker.prototype, 'onmessage')!;
    Object.defineProperty(Worker.prototype, 'onmessage', {
      ...plain,
      set(this: Worker, listener: ((event: MessageEvent<{ kind: string }>) => void) | null) {
        plain.set!.call(this, (event: MessageEvent<{ kind: string }>) => {
          if (!('isHolding' in globalThis)) listener?.(event);
          else if (event.data.kind === 'progress') setTimeout(() => listener?.(event), 1500);
        });
      },
    });
  });
}

/** Name of the take on which the first study opens, and of those after it. */
export const [firstTake, secondTake, thirdTake] = [0, 1, 2].map(
  (after) => `Take ${charts.charts[0]!.take + after}`,
) as [string, string, string];

/** Opens the program and waits for its first line. */
export async function openApp(page: Page, path = './'): Promise<void> {
  await page.goto(path);
  await expect(fingerboard(page)).toHaveAttribute('aria-label', /string/);
}

export const fingerboard = (page: Page): Locator => page.locator('main .board [role=img]').first();

/** Opens the changes and gives the chart's text field. */
export async function openChanges(page: Page): Promise<Locator> {
  const field = page.getByRole('textbox', { name: 'Chart as text' });
  if (!(await field.isVisible()))
    await page.getByRole('button', { name: /^(Write changes|Changes)$/ }).click();
  await expect(field).toBeVisible();
  return field;
}

/** Opens what stands in the menu. */
export async function openFromMenu(page: Page, name: string): Promise<void> {
  await page.getByRole('button', { name: 'Menu', exact: true }).click();
  await page.locator('#panel-menu').getByRole('button', { name, exact: true }).click();
}

/** One note of the line as the table beside the map tells it. */
export interface TableRow {
  readonly when: string;
  readonly note: string;
  readonly string: string;
  readonly stop: string;
  readonly finger: string;
  readonly position: string;
}

/** The whole line as text. */
export async function readLine(page: Page): Promise<TableRow[]> {
  const twin = page.locator('main .twin details');
  if (!(await twin.evaluate((element: HTMLDetailsElement) => element.open)))
    await twin.locator('summary').click();
  await expect(twin.locator('tbody tr').first()).toBeVisible();
  const rows = await twin
    .locator('tbody tr')
    .evaluateAll((elements) =>
      elements.map((row) =>
        Array.from(row.querySelectorAll('th, td'), (cell) => cell.textContent?.trim() ?? ''),
      ),
    );
  return rows.map(([when = '', note = '', string = '', stop = '', finger = '', position = '']) => ({
    when,
    note,
    string,
    stop,
    finger,
    position,
  }));
}

/** Waits until the shown line is the one for the present study. */
export async function settled(page: Page): Promise<void> {
  await expect(page.locator('main .board figure')).toHaveAttribute('aria-busy', 'false');
}

/** Waits until nothing is under way, no panel is still fetched and no fade half done. */
async function atRest(page: Page): Promise<void> {
  await expect(page.locator('[aria-busy=true]')).toHaveCount(0);
  await page.waitForFunction(() =>
    [...document.querySelectorAll('[aria-expanded=true][aria-controls]')].every((opener) =>
      document.getElementById(opener.getAttribute('aria-controls') ?? ''),
    ),
  );
  await page.evaluate(() =>
    Promise.all(
      document
        .getAnimations()
        .filter((animation) => animation.effect?.getComputedTiming().endTime !== Infinity)
        .map((animation) => animation.finished.catch(() => undefined)),
    ),
  );
}

/** What axe finds, and whether the page changed under its eyes. */
const lookOnce = (page: Page): Promise<{ findings: string[]; changed: boolean }> =>
  page.evaluate(async () => {
    interface Finding {
      readonly id: string;
      readonly nodes: readonly { readonly target: readonly unknown[]; readonly failureSummary?: string }[];
    }
    const { axe } = globalThis as unknown as {
      axe: { run: (options: object) => Promise<{ violations: readonly Finding[] }> };
    };
    let changes = 0;
    const observer = new MutationObserver((records) => {
      changes += records.length;
    });
    observer.observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
    const { violations } = await axe.run({ resultTypes: ['violations'] });
    changes += observer.takeRecords().length;
    observer.disconnect();
    return {
      findings: violations.flatMap(({ id, nodes }) =>
        nodes.map((node) =>
          `${id}: ${node.target.join(' ')} ${node.failureSummary ?? ''}`.replace(/\s+/g, ' '),
        ),
      ),
      changed: changes > 0,
    };
  });

/** What axe finds on the page at rest: a look during which the page changed says nothing of either state. */
export async function axeFindings(page: Page): Promise<string[]> {
  for (let looks = 0; looks < 20; looks++) {
    await atRest(page);
    // evaluate runs outside the page's security policy, as a debugger does. Once a page is enough.
    if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axeSource);
    const { findings, changed } = await lookOnce(page);
    if (!changed) return findings;
  }
  throw new Error('The page did not come to rest in twenty looks');
}

/** What the browser does before it prints; the sheet is fetched after the first line, so it is asked until it is there. */
export async function layPaper(page: Page): Promise<void> {
  await expect
    .poll(() =>
      page.evaluate(() => {
        dispatchEvent(new Event('beforeprint'));
        return document.querySelectorAll('.paper').length;
      }),
    )
    .toBe(1);
  await page.emulateMedia({ media: 'print' });
}
