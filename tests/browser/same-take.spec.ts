// The same seed gives the same line wherever it is computed: the worker of the built program against Node, note by note.
import { test, type Page } from '@playwright/test';
import { walk, type Line, type WalkRequest, type WalkResult } from '../../src/pipeline';
import { chartText, requestFor } from '../pipeline/request';
import { expect, openApp, testTimeout } from './page';

/** What a line is made of. */
const notesOf = (line: Line | null) =>
  line?.notes.map(({ tick, midi, cost, placement: { string, stop, finger, position } }) =>
    [tick, midi, string, stop, finger, position, cost].join(' '),
  );

/** The address of the program's own worker. */
async function workerAddress(page: Page): Promise<string> {
  const [worker] = await Promise.all([page.waitForEvent('worker'), openApp(page)]);
  return worker.url();
}

/** Asks a worker of the page for a line. */
const walkInPage = (page: Page, address: string, request: WalkRequest): Promise<WalkResult> =>
  page.evaluate(
    ([url, ask]) =>
      new Promise<WalkResult>((resolve, reject) => {
        interface Message {
          readonly kind: string;
          readonly answer: WalkResult;
          readonly message: string;
        }
        const worker = new Worker(url, { type: 'module' });
        worker.onerror = (event) => {
          reject(new Error(event.message));
        };
        worker.onmessage = ({ data }: MessageEvent<Message>) => {
          if (data.kind === 'progress') return;
          worker.terminate();
          if (data.kind === 'done') resolve(data.answer);
          else reject(new Error(data.message));
        };
        worker.postMessage({ task: 'walk', id: 1, ask });
      }),
    [address, request] as const,
  );

const take = (seed: number, temperature = 1): Partial<WalkRequest> => ({ take: { seed, temperature } });

const cases: readonly (readonly [string, Partial<WalkRequest>])[] = [
  ['back-stairs-blues.txt', take(1)],
  ['back-stairs-blues.txt', { ...take(2), density: 0.6, choruses: 3 }],
  ['corner-table.txt', take(3, 0)],
  ['corner-table.txt', take(4, 0.5)],
  ['low-ceiling.txt', take(5)],
  ['low-ceiling.txt', { ...take(6), limits: { barredPositions: [], stay: { region: 'low', beats: 4 } } }],
  // 1,024 slots: more than are kept at once.
  ['corner-table.txt', { ...take(7), choruses: 8 }],
];

test('the browser draws the takes that Node draws', async ({ page }) => {
  test.setTimeout(testTimeout);
  const address = await workerAddress(page);
  for (const [name, changes] of cases) {
    const request = requestFor(chartText(name), changes);
    const here = walk(request);
    expect(here.line?.notes.length).toBeGreaterThan(40);
    const there = await walkInPage(page, address, request);
    expect(notesOf(there.line), `${name} ${JSON.stringify(changes)}`).toEqual(notesOf(here.line));
  }
});
