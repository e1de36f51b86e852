// A long session: edits of every kind, chosen by chance, while it plays. SESSION_SECONDS makes it as long as wished; what it
// holds may not grow with it.
import { test, type CDPSession, type Page } from '@playwright/test';
import { seededRandom } from '../../src/music';
import { expect, openApp, openChanges, settled, testTimeout, watch } from './page';

const seconds = Number(process.env.SESSION_SECONDS ?? 120);
const seed = Number(process.env.SESSION_SEED ?? 1);
test.describe.configure({ timeout: testTimeout + seconds * 4_000 });

interface Held {
  /** Bytes in use once everything that nobody holds has been let go. */
  readonly heap: number;
  readonly nodes: number;
  readonly listeners: number;
}

async function heldBy(page: Page, session: CDPSession): Promise<Held> {
  await settled(page);
  // Twice: what the first run lets go of may have held more.
  await session.send('HeapProfiler.collectGarbage');
  await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  const { metrics } = await session.send('Performance.getMetrics');
  const of = (name: string): number => metrics.find((metric) => metric.name === name)?.value ?? NaN;
  return { heap: usedSize, nodes: of('Nodes'), listeners: of('JSEventListeners') };
}

test(`${seconds} s of edits by chance while it plays, seed ${seed}: no error, and nothing grows`, async ({
  page,
  context,
  baseURL,
}) => {
  page.setDefaultTimeout(testTimeout / 2);
  const seen = watch(page, baseURL ?? '');
  const random = seededRandom(seed);
  const below = (count: number): number => Math.floor(random() * count);
  const pick = <One>(list: readonly One[]): One => list[below(list.length)]!;
  await openApp(page);
  const session = await context.newCDPSession(page);
  await session.send('Performance.enable');

  const press = async (...keys: readonly string[]): Promise<void> => {
    await page.locator('main').focus();
    for (const key of keys) await page.keyboard.press(key);
  };
  const chords = ['F7', 'Bb7', 'Gm7 C7', 'Am7 D7', 'Cm7 F7', 'Bdim7', 'Dbmaj7', 'F6', 'E7alt', '%'];
  const chart = (): string =>
    `Title: Session ${below(1000)}\nKey: ${pick(['F', 'Bb', 'C', 'Gm'])}\n\n| ${Array.from({ length: 12 }, (_, bar) => (bar === 0 ? 'F7' : pick(chords))).join(' | ')} |`;
  const edits: readonly (() => Promise<void>)[] = [
    () => press('r'),
    () => press('Shift+R'),
    () => press(...Array.from({ length: 1 + below(6) }, () => 'ArrowRight')),
    () => press('ArrowRight', 'ArrowDown', 'ArrowDown', 'Enter'),
    () => press('Delete'),
    () => press('k'),
    () => press('Control+z'),
    () => press('Control+z', 'Control+z', 'Control+Shift+z'),
    async () => {
      await (await openChanges(page)).fill(chart());
    },
    async () => {
      const field = await openChanges(page);
      await field.focus();
      await page.keyboard.press('Control+End');
      await page.keyboard.type(pick([' ', '\n', '| F7 |', '| Gm7 C7 |', '| Hx |']));
    },
    () => press('Escape'),
  ];
  let count = 0;
  const editFor = async (milliseconds: number): Promise<void> => {
    const end = Date.now() + milliseconds;
    // At least so many, however slow the machine is.
    for (let made = 0; made < 12 || Date.now() < end; made++, count++) await pick(edits)();
  };
  /** The same at both measurements: one chart, one study, nothing open, playing. */
  const rest = async (): Promise<void> => {
    await (await openChanges(page)).fill('Title: Rest\nKey: F\n\n| F7 | Bb7 | F7 | F7 |');
    await press('Escape');
    const stop = page.getByRole('button', { name: 'Stop', exact: true });
    if (!(await stop.isVisible())) await page.getByRole('button', { name: 'Play', exact: true }).click();
    await expect(stop).toBeVisible();
  };

  await rest();
  await editFor((seconds * 1000) / 3);
  await rest();
  const before = await heldBy(page, session);
  await editFor((seconds * 2000) / 3);
  await rest();
  const after = await heldBy(page, session);
  test.info().annotations.push({
    type: 'held',
    description: `${count} edits; before ${JSON.stringify(before)}, after ${JSON.stringify(after)}`,
  });
  console.log(`${count} edits; before ${JSON.stringify(before)}, after ${JSON.stringify(after)}`);
  expect(seen).toEqual({ errors: [], strangers: [] });
  expect(after.heap / before.heap).toBeLessThan(1.2);
  expect(after.nodes / before.nodes).toBeLessThan(1.2);
  // Hundreds of edits: what one of them left behind would be counted as often. The list of ways has some more or fewer rows.
  expect(after.listeners).toBeLessThan(1.2 * before.listeners + 50);
});
