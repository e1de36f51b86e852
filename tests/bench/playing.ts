// `npm run bench -- playing`: how soon after a press something is heard, and whether playing goes on in time on a slow machine:
// `npm run bench -- playing 10 2` plays for ten minutes with two threads beside it that do nothing but reckon. It reports; it
// asserts nothing.
import { loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import { Worker as Thread } from 'node:worker_threads';
import { chromium, type Browser, type Page } from 'playwright';
import { build, preview } from 'vite';
import { findChromium } from '../../src/build/chromium.mjs';
import { loopSteps, loopTime, plainLoop } from './machine';

const config = 'src/build/vite.config.ts';
const throttle = 4;
/** First presses on a page that was just opened, and presses after them. */
const [colds, warms] = [5, 8];
/** Seconds that a page is given to come to rest, and that are looked at in one go. */
const [restSeconds, lookSeconds] = [3, 15];
/** Notes of two bars of four, a shift or two among them. */
const twoBars = 10;
const screen = { viewport: { width: 1440, height: 900 }, serviceWorkers: 'block' } as const;
/** A sound handed over so many seconds after it was due is late. */
const late = 0.01;

/** What the page writes down about every sound that is begun. */
interface Seen {
  /** Milliseconds of the page: the last press, and when the first sound after it is heard by the audio clock. */
  pressed: number;
  heard: number;
  begun: number;
  late: number;
  /** Seconds: the latest a sound was handed over, the least time ahead, the longest time between two sounds. */
  latest: number;
  longest: number;
  /** Seconds of the audio clock at which the last sound begins. */
  last: number;
}

/** In the page, before anything of it runs. */
function watch(lateFrom: number): void {
  const seen: Seen = { pressed: 0, heard: 0, begun: 0, late: 0, latest: -Infinity, longest: 0, last: 0 };
  Object.assign(globalThis, { seen });
  for (const kind of ['keydown', 'click'] as const)
    addEventListener(
      kind,
      (event) => {
        Object.assign(seen, { pressed: event.timeStamp, heard: 0, last: 0 });
      },
      true,
    );
  const start = Reflect.get<AudioBufferSourceNode, 'start'>(AudioBufferSourceNode.prototype, 'start');
  AudioBufferSourceNode.prototype.start = function (this: AudioBufferSourceNode, ...wish) {
    const due = wish[0] ?? 0;
    const behind = this.context.currentTime - due;
    const heard = performance.now() + Math.max(0, -behind) * 1000;
    seen.begun++;
    if (behind > lateFrom) seen.late++;
    seen.latest = Math.max(seen.latest, behind);
    seen.heard = seen.heard === 0 ? heard : Math.min(seen.heard, heard);
    if (seen.last > 0) seen.longest = Math.max(seen.longest, due - seen.last);
    seen.last = Math.max(seen.last, due);
    start.apply(this, wish);
  };
}

/** What the page writes down about the computed bass: when it was asked for, how many sounds, and when each came; pictures meanwhile. */
interface Computed {
  asked: number;
  wishes: number;
  came: number[];
  frames: number[];
}

/** In the page, before anything of it runs. */
function watchStrings(): void {
  const computed: Computed = { asked: 0, wishes: 0, came: [], frames: [] };
  Object.assign(globalThis, { computed });
  const frame = (now: number): void => {
    if (computed.asked > 0 && computed.came.length < computed.wishes) computed.frames.push(now);
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
  const heard = new WeakSet<Worker>();
  const Real = Worker;
  globalThis.Worker = class extends Real {
    override postMessage(message: unknown): void {
      const { wishes } = message as { readonly wishes?: readonly unknown[] };
      if (wishes && wishes.length > 0 && computed.asked === 0) {
        Object.assign(computed, { asked: performance.now(), wishes: wishes.length });
        if (!heard.has(this)) this.addEventListener('message', () => computed.came.push(performance.now()));
        heard.add(this);
      }
      super.postMessage(message);
    }
  };
}

const seenOn = (page: Page): Promise<Seen> =>
  page.evaluate(() => (globalThis as unknown as { seen: Seen }).seen);

async function openPage(browser: Browser, address: string): Promise<Page> {
  const page = await browser.newPage(screen);
  // The loader that runs this file names functions with a helper that the page does not have.
  await page.addInitScript('globalThis.__name = (named) => named');
  await page.addInitScript(watch, late);
  await page.addInitScript(watchStrings);
  await page.goto(address);
  await page.locator('main .board figure[aria-busy=false]').waitFor({ timeout: 60_000 });
  await page.waitForTimeout(restSeconds * 1000);
  return page;
}

/** Milliseconds from a press to the first sound. */
async function soundAfter(page: Page, press: () => Promise<void>): Promise<number> {
  await press();
  await page.waitForFunction(() => (globalThis as unknown as { seen: Seen }).seen.heard > 0);
  const { pressed, heard } = await seenOn(page);
  return heard - pressed;
}

const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);
function tell(what: string, times: readonly number[]): void {
  const list = sorted(times);
  console.log(
    `  ${what.padEnd(44)} median ${list[Math.floor(list.length / 2)]!.toFixed(0).padStart(5)} ms, at most ${list.at(-1)!.toFixed(0)}, of ${list.length}`,
  );
}

async function benchPresses(browser: Browser, address: string): Promise<void> {
  const [cold, near, warm]: [number[], number[], number[]] = [[], [], []];
  for (let visit = 0; visit < colds; visit++) {
    const page = await openPage(browser, address);
    const play = page.locator('button.play');
    if (visit % 2 === 0) cold.push(await soundAfter(page, () => page.keyboard.press('Space')));
    else {
      await play.hover();
      await page.waitForTimeout(1000);
      near.push(await soundAfter(page, () => play.click()));
    }
    for (let press = 0; press < warms / colds; press++) {
      await page.keyboard.press('Space');
      await page.waitForTimeout(700);
      warm.push(await soundAfter(page, () => page.keyboard.press('Space')));
    }
    await page.close();
  }
  tell('first press, by key', cold);
  tell('first press, by pointer, a second on the button', near);
  tell('later presses', warm);
}

/** Auditions: from the press on Hear to the first sound, of takes never heard before, one after the other while one plays. */
async function benchAuditions(browser: Browser, address: string): Promise<void> {
  const page = await openPage(browser, address);
  await page.keyboard.press('a');
  const hear = page.locator('main table button.hear');
  await page.waitForFunction(
    () =>
      document.querySelectorAll('main table button.hear').length === 10 &&
      !document.querySelector('main [aria-busy=true]'),
  );
  await page.waitForTimeout(restSeconds * 1000);
  const times: number[] = [];
  for (let row = 0; row < 10; row++) {
    times.push(await soundAfter(page, () => hear.nth(row).click()));
    await page.waitForTimeout(700);
  }
  tell('an audition, the first with nothing playing', times);
  await page.close();
}

/** Waits for the bass of what is shown, and says how soon it came after the page asked for it. */
async function tellStrings(page: Page, what: string): Promise<void> {
  await page.waitForFunction(() => {
    const { wishes, came } = (globalThis as unknown as { computed: Computed }).computed;
    return wishes > 0 && came.length >= wishes;
  });
  const { asked, wishes, came, frames } = await page.evaluate(
    () => (globalThis as unknown as { computed: Computed }).computed,
  );
  const after = (count: number): string => (came[count - 1]! - asked).toFixed(0);
  const first = Math.min(twoBars, wishes);
  const gaps = frames.slice(1).map((time, i) => time - frames[i]!);
  console.log(
    `  bass of ${what}: the first ${first} sounds after ${after(first)} ms, all ${wishes} after ${after(wishes)}; ` +
      `meanwhile ${frames.length} pictures, at most ${Math.max(0, ...gaps).toFixed(0)} ms apart`,
  );
}

/** The bass of takes that were never heard: the first with a worker that must be started, the others with one that runs. */
async function benchTakes(browser: Browser, address: string): Promise<void> {
  const page = await openPage(browser, address);
  await page.locator('button.play').hover();
  await tellStrings(page, 'a first take');
  for (let take = 0; take < 3; take++) {
    await page.evaluate(() => {
      const { computed } = globalThis as unknown as { computed: Computed };
      Object.assign(computed, { asked: 0, wishes: 0, came: [], frames: [] });
    });
    await page.keyboard.press('Shift+R');
    await tellStrings(page, 'another take');
  }
  await page.close();
}

const minutesAndSeconds = (seconds: number): string =>
  `${Math.floor(seconds / 60)}:${String(Math.round(seconds % 60)).padStart(2, '0')}`;

async function benchLong(browser: Browser, address: string, minutes: number): Promise<void> {
  const page = await openPage(browser, address);
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: throttle });
  const loop = await page.evaluate(plainLoop, loopSteps);
  console.log(
    `  playing for ${minutes} minutes, the page ${throttle} times slower: a plain loop takes ${loop.toFixed(0)} ms there`,
  );
  await page.keyboard.press('Space');
  await page.waitForFunction(() => (globalThis as unknown as { seen: Seen }).seen.heard > 0);
  const from = Date.now();
  const said = new Set<string>();
  let [ended, before] = [0, 0];
  while (Date.now() - from < minutes * 60_000) {
    await page.waitForTimeout(lookSeconds * 1000);
    for (const text of await page.locator('p.trouble').allTextContents()) said.add(text.trim());
    const { begun } = await seenOn(page);
    if (begun === before && ended === 0) ended = (Date.now() - from) / 1000;
    before = begun;
  }
  const seen = await seenOn(page);
  console.log(
    `  ${seen.begun} sounds, ${seen.late} later than ${late * 1000} ms, the latest ${(seen.latest * 1000).toFixed(1)} ms after it was due; ` +
      `longest time between two ${seen.longest.toFixed(2)} s; ${ended > 0 ? `ended after ${minutesAndSeconds(ended)}` : 'it plays on'}`,
  );
  for (const text of said) console.log(`  said: ${text}`);
  await page.close();
}

/** A thread that does nothing but reckon. */
const busyThread = (): Thread => new Thread('for (let i = 0; ; i++) Math.sqrt(i);', { eval: true });

/** Builds, serves and measures; prints as it goes. */
export async function benchPlaying(minutes: number, threads: number): Promise<void> {
  await build({ configFile: config, logLevel: 'error' });
  const server = await preview({ configFile: config, preview: { port: 0 }, logLevel: 'silent' });
  const executablePath = findChromium();
  const browser = await chromium.launch({
    ...(executablePath ? { executablePath } : {}),
    args: ['--headless=new', '--no-sandbox', '--disable-gpu', '--autoplay-policy=user-gesture-required'],
  });
  try {
    const address = server.resolvedUrls?.local[0] ?? '';
    console.log(
      `\nPlaying: load ${loadavg()[0]!.toFixed(1)}, a plain loop of ${loopSteps / 1e6} million steps ${loopTime().toFixed(0)} ms\n`,
    );
    for (let visit = 0; visit < 3; visit++) await benchTakes(browser, address);
    await benchPresses(browser, address);
    await benchAuditions(browser, address);
    const busy = Array.from({ length: threads }, busyThread);
    if (minutes > 0) await benchLong(browser, address, minutes);
    for (const thread of busy) await thread.terminate();
  } finally {
    await browser.close();
    await server.close();
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await benchPlaying(10, 0);
