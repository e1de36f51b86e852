// `npm run bench -- page`: the built page as a slow machine sees it: what the first visit fetches, when its largest picture
// stands, how long a key takes, how even the frames are while it plays. It reports; it asserts nothing.
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { chromium, type Browser, type CDPSession, type Page } from 'playwright';
import { build, preview } from 'vite';
import { findChromium } from '../../src/build/chromium.mjs';
import { loopSteps, plainLoop } from './machine';

const config = 'src/build/vite.config.ts';
/** How many times slower than this machine the page's processor is made. */
const throttle = 4;
/** First visits whose times are taken, and the seconds that each is given to come to rest. */
const starts = 5;
const startSeconds = 8;
const screen = { viewport: { width: 1440, height: 900 }, serviceWorkers: 'block' } as const;
/** Seconds of playing whose frames are counted. */
const playedSeconds = 60;

const kilobytes = (bytes: number): string => `${(bytes / 1024).toFixed(0)} KB`;
const text = /\.(js|css|html|svg|webmanifest)$|\/$/;

interface Fetched {
  readonly path: string;
  /** As sent by a server that compresses text. */
  readonly sent: number;
}

/** What kind of thing a file is to the person who waits for it. */
function partOf(path: string): 'page' | 'fonts' | 'line' | 'sound' {
  if (/\.woff2$/.test(path)) return path.includes('ramble-notes') ? 'line' : 'fonts';
  if (/worker/.test(path)) return 'line';
  // The player is fetched once the page has been painted.
  return /samples|\/(tone|strings|upright)-/.test(path) ? 'sound' : 'page';
}

/** Opens the page once as a first visit: every file it fetches before its line can be played. */
async function firstVisit(browser: Browser, address: string): Promise<Fetched[]> {
  const page = await browser.newPage(screen);
  const fetched: Promise<Fetched>[] = [];
  page.on('response', (response) => {
    const path = new URL(response.url()).pathname;
    if (response.url().startsWith('http') && response.request().serviceWorker() === null)
      fetched.push(
        response.body().then(
          (body) => ({ path, sent: text.test(path) ? gzipSync(body, { level: 9 }).length : body.length }),
          () => ({ path, sent: 0 }),
        ),
      );
  });
  await page.goto(address);
  await page.locator('main .board figure[aria-busy=false]').waitFor({ timeout: 60_000 });
  const files = await Promise.all(fetched);
  await page.close();
  return files;
}

interface Start {
  /** Milliseconds until the largest picture stood. */
  readonly picture: number;
  /** Milliseconds until the program had drawn the screen that can be used. */
  readonly program: number;
}

/** Opens the page as a first visit, and leaves it alone meanwhile: being asked would slow it down. */
async function slowStart(page: Page, address: string): Promise<Start> {
  await page.addInitScript(() => {
    const start = { picture: Number.NaN, program: Number.NaN };
    Object.assign(globalThis, { start });
    new PerformanceObserver((list) => {
      start.picture = list.getEntries().at(-1)?.startTime ?? Number.NaN;
    }).observe({ type: 'largest-contentful-paint', buffered: true });
    new MutationObserver((_, observer) => {
      if (!document.querySelector('[data-note]')) return;
      observer.disconnect();
      requestAnimationFrame(() => setTimeout(() => (start.program = performance.now())));
    }).observe(document, { childList: true, subtree: true });
  });
  await page.goto(address);
  await page.waitForTimeout(startSeconds * 1000);
  return page.evaluate(() => (globalThis as unknown as { start: Start }).start);
}

/** Milliseconds from a key to the next picture, one for each press. */
async function keyLatency(page: Page, key: string, presses: number): Promise<number[]> {
  await page.evaluate(() => {
    const seen: number[] = [];
    Object.assign(globalThis, { seen });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) if (entry.name === 'keydown') seen.push(entry.duration);
    }).observe({ type: 'event', durationThreshold: 16 } as PerformanceObserverInit);
  });
  for (let press = 0; press < presses; press++) {
    await page.keyboard.press(key);
    await page.waitForTimeout(600);
  }
  const seen = await page.evaluate(() => (globalThis as unknown as { seen: number[] }).seen);
  // Presses answered within a frame are not listed at all.
  return [...Array.from({ length: Math.max(0, presses - seen.length) }, () => 16), ...seen];
}

/** Milliseconds between pictures while the line plays. */
const framesWhilePlaying = (page: Page): Promise<number[]> =>
  page.evaluate(
    (seconds) =>
      new Promise<number[]>((resolve) => {
        const gaps: number[] = [];
        let last = performance.now();
        const end = last + seconds * 1000;
        const frame = (now: number): void => {
          gaps.push(now - last);
          last = now;
          if (now < end) requestAnimationFrame(frame);
          else resolve(gaps.slice(2));
        };
        requestAnimationFrame(frame);
      }),
    playedSeconds,
  );

/** A page of a browser that was never here, on a slow machine. */
async function slowPage(browser: Browser): Promise<Page> {
  const page = await browser.newPage(screen);
  const session: CDPSession = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: throttle });
  // The loader that runs this file names functions with a helper that the page does not have.
  await page.addInitScript('globalThis.__name = (named) => named');
  return page;
}

const largest = (values: readonly number[]): number => Math.max(...values);
const quantile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(values.length * share))] ??
  Number.NaN;

/** Builds, serves and measures; prints as it goes. */
export async function benchPage(): Promise<void> {
  await build({ configFile: config, logLevel: 'error' });
  const server = await preview({ configFile: config, preview: { port: 0 }, logLevel: 'silent' });
  const executablePath = findChromium();
  const browser = await chromium.launch({
    ...(executablePath ? { executablePath } : {}),
    args: ['--headless=new', '--no-sandbox', '--disable-gpu', '--autoplay-policy=no-user-gesture-required'],
  });
  try {
    const address = server.resolvedUrls?.local[0] ?? '';
    const fetched = await firstVisit(browser, address);
    const times: Start[] = [];
    let page = await slowPage(browser);
    for (let visit = 1; ; visit++) {
      times.push(await slowStart(page, address));
      if (visit === starts) break;
      await page.close();
      page = await slowPage(browser);
    }
    const loop = await page.evaluate(plainLoop, loopSteps);
    console.log(
      `\nThe page, processor ${throttle} times slower: a plain loop of ${loopSteps / 1e6} million steps takes ${loop.toFixed(0)} ms there\n`,
    );
    for (const part of ['page', 'fonts', 'line', 'sound'] as const)
      console.log(
        `  first visit, ${part.padEnd(6)} ${kilobytes(
          fetched.filter(({ path }) => partOf(path) === part).reduce((sum, { sent }) => sum + sent, 0),
        ).padStart(8)} compressed`,
      );
    for (const [what, values] of [
      ['largest picture', times.map(({ picture }) => picture)],
      ['program drawn', times.map(({ program }) => program)],
    ] as const)
      console.log(
        `  ${what.padEnd(15)} after  ${quantile(values, 0.5).toFixed(0).padStart(6)} ms, at most ${largest(values).toFixed(0)}, of ${starts} visits`,
      );
    for (const [key, does] of [
      ['ArrowRight', 'next beat'],
      ['r', 'bar drawn anew'],
      ['Shift+R', 'new take'],
    ] as const) {
      const latency = await keyLatency(page, key, 10);
      console.log(
        `  ${does.padEnd(22)} ${quantile(latency, 0.5).toFixed(0).padStart(6)} ms to the next picture, at most ${largest(latency).toFixed(0)}`,
      );
    }
    await page.keyboard.press('Space');
    await page.waitForTimeout(4000);
    const gaps = await framesWhilePlaying(page);
    console.log(
      `  ${playedSeconds} s of playing          ${gaps.length} pictures, median ${quantile(gaps, 0.5).toFixed(1)} ms, at most ${largest(gaps).toFixed(1)} ms, ${gaps.filter((gap) => gap > 32).length} over 32 ms`,
    );
  } finally {
    await browser.close();
    await server.close();
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await benchPage();
