// What is really heard: the player's own code rendered offline and measured, and played live as far as a machine can tell.
import { chromium, expect, test, type Page } from '@playwright/test';
import sampleTable from '../../shared/rhythm/samples.json' with { type: 'json' };
import type { Wish } from './sound-harness';
import { bundleHarness, openHarness, type Bundle } from './sound-page';

let bundle: Bundle;
test.beforeAll(async () => {
  bundle = await bundleHarness();
});

const header = 'Key: F\nMeter: 4/4\nFeel: swing\nTempo: 120\n\n';
const fourBars = `${header}| F7 | Bb7 | F7 | C7 |]`;
const startAt = 0.15;
/** Seconds of a beat at the 120 of the fixtures. */
const beat = 0.5;
const millisecond = 0.001;
/** A click that went through the mix is well over this, the rest of the world is far under it. */
const clickLevel = 0.02;

type Render = Partial<Wish> & Pick<Wish, 'sounds' | 'only' | 'seconds'>;

/** Renders in the page; gives what the run held at its end. */
const render = (page: Page, wish: Render): Promise<number> =>
  page.evaluate((all) => harness.render(all), { chart: fourBars, startAt, ...wish });
const onsets = (page: Page, level: number, gap: number): Promise<number[]> =>
  page.evaluate(([a, b]) => harness.onsets(a, b), [level, gap] as const);
const rms = (page: Page, from: number, to: number): Promise<number> =>
  page.evaluate(([a, b]) => harness.rms(a, b), [from, to] as const);

/** When a part's events should be heard, in seconds. */
async function expected(page: Page, part: string, settings: Wish['settings'] = {}): Promise<number[]> {
  const ticks = await page.evaluate(
    ([chart, name, wishes]) =>
      harness
        .scheduleOf({ chart, settings: wishes })
        .events.flatMap((event) => (event.part === name ? [event.tick] : [])),
    [fourBars, part, settings] as const,
  );
  return ticks.map((tick) => startAt + (tick / 480) * beat);
}

function expectWithin(heard: readonly number[], wanted: readonly number[], tolerance: number): void {
  expect(heard).toHaveLength(wanted.length);
  heard.forEach((time, i) => {
    expect(Math.abs(time - wanted[i]!)).toBeLessThan(tolerance);
  });
}

test.describe('the sample files', () => {
  test('are all there and begin where the table says, once decoded', async ({ page }) => {
    await openHarness(page, bundle);
    const decoded = await page.evaluate(() => harness.decodedOnsets());
    expect(decoded).toHaveLength(sampleTable.samples.length);
    decoded.forEach(({ file, decoded: onset, seconds }, i) => {
      const row = sampleTable.samples[i]!;
      expect(file).toBe(row.file);
      expect(Math.abs(onset - row.onset), `onset of ${file}`).toBeLessThan(0.2 * millisecond);
      expect(Math.abs(seconds - row.seconds), `length of ${file}`).toBeLessThan(0.03);
    });
  });

  test('and what stands in for them are in tune within 2 cents', async ({ page }) => {
    await openHarness(page, bundle);
    for (const sounds of ['samples', 'substitutes'] as const) {
      const cents = await page.evaluate((which) => harness.tuning(which), sounds);
      expect(cents).toHaveLength(7);
      for (const fault of cents) expect(Math.abs(fault)).toBeLessThan(2);
    }
  });
});

test.describe('onsets', () => {
  for (const part of ['bass', 'cymbal', 'hi-hat', 'click'] as const) {
    test(`of the ${part} are where the schedule says, within 1 ms`, async ({ page }) => {
      await openHarness(page, bundle);
      await render(page, { sounds: 'clicks', only: [part], seconds: 5 });
      const wanted = (await expected(page, part)).filter((time) => time < 4.9);
      const heard = (await onsets(page, clickLevel, 0.02)).filter((time) => time < 4.9);
      expectWithin(heard, wanted, millisecond);
    });
  }

  test('of real hits and of real notes after a rest are right within 1 ms', async ({ page }) => {
    await openHarness(page, bundle);
    for (const part of ['hi-hat', 'click'] as const) {
      await render(page, { sounds: 'samples', only: [part], seconds: 3 });
      const level = 0.1 * (await page.evaluate(() => harness.peak()));
      const wanted = (await expected(page, part)).filter((time) => time < 2.9);
      expectWithin(await onsets(page, level, 0.2), wanted, millisecond);
    }
    const moments = [0, 960, 1920].map((tick) => ({ tick, ticks: 480, midi: 41 }));
    await render(page, { sounds: 'samples', only: ['bass'], seconds: 2.6, moments });
    const level = 0.08 * (await page.evaluate(() => harness.peak()));
    expectWithin(
      await onsets(page, level, 0.2),
      [0, 1, 2].map((time) => startAt + time),
      millisecond,
    );
  });
});

test.describe('the loop and the tempo', () => {
  test('two bars come round to the sample, from the first note', async ({ page }) => {
    await openHarness(page, bundle);
    const settings: Wish['settings'] = { loop: { from: 2, to: 2 }, countInBars: 0 };
    await render(page, { sounds: 'clicks', only: ['bass'], seconds: 7, settings });
    const heard = await onsets(page, clickLevel, 0.02);
    expectWithin(
      heard,
      heard.map((_, i) => startAt + i * beat),
      0.1 * millisecond,
    );
    expect(heard.length).toBe(14);
  });

  test('a tempo set while playing is kept to the sample', async ({ page }) => {
    await openHarness(page, bundle);
    await render(page, { sounds: 'clicks', only: ['bass'], seconds: 6, deeds: [{ at: 1.3, tempo: 200 }] });
    const heard = await onsets(page, clickLevel, 0.02);
    const gaps = heard.slice(1).map((time, i) => time - heard[i]!);
    // What had been handed over at 1.3 s keeps its time, the beat under way is shortened, the rest is at 200.
    const slow = gaps.filter((gap) => Math.abs(gap - 0.5) < millisecond);
    const fast = gaps.filter((gap) => Math.abs(gap - 0.3) < millisecond);
    expect(slow).toHaveLength(2);
    expect(fast.length).toBeGreaterThan(8);
    expect(slow.length + fast.length).toBe(gaps.length - 1);
    expect(gaps[2]).toBeGreaterThan(0.3);
    expect(gaps[2]).toBeLessThan(0.5);
  });
});

test.describe('silence', () => {
  test('follows a mute at once, and sound its opening', async ({ page }) => {
    await openHarness(page, bundle);
    const [muted, open] = await page.evaluate(
      () => [harness.mixOf([]), harness.mixOf(['bass', 'cymbal'])] as const,
    );
    await render(page, {
      sounds: 'samples',
      only: ['bass', 'cymbal'],
      seconds: 4,
      deeds: [
        { at: 1.4, mix: muted },
        { at: 2.4, mix: open },
      ],
    });
    expect(await rms(page, 1, 1.4)).toBeGreaterThan(0.03);
    expect(await rms(page, 1.45, 2.39)).toBeLessThan(1e-4);
    expect(await rms(page, 2.45, 3)).toBeGreaterThan(0.03);
  });

  test('follows a stop, and a new start has nothing of the old run', async ({ page }) => {
    await openHarness(page, bundle);
    await render(page, {
      sounds: 'clicks',
      only: ['bass'],
      seconds: 3.2,
      settings: { loop: { from: 0, to: 1 } },
      // Stopped just before a note that has been handed over already, started again at another bar.
      deeds: [
        { at: 1.1, stop: true },
        { at: 1.12, restartAt: 1.3, take: { chart: fourBars, settings: { loop: { from: 3, to: 3 } } } },
      ],
    });
    const heard = await onsets(page, clickLevel, 0.02);
    expectWithin(heard, [0.15, 0.65, 1.3, 1.8, 2.3, 2.8], millisecond);
  });

  test('comes after a stopped note, and an old note is gone when the next sounds', async ({ page }) => {
    await openHarness(page, bundle);
    const low = { tick: 0, ticks: 480, midi: 28, open: true };
    await render(page, { sounds: 'samples', only: ['bass'], seconds: 2, moments: [low] });
    const ringing = await rms(page, 0.45, 0.65);
    expect(20 * Math.log10((await rms(page, 0.75, 0.95)) / ringing)).toBeLessThan(-40);

    await render(page, {
      sounds: 'samples',
      only: ['bass'],
      seconds: 2,
      moments: [low, { tick: 480, ticks: 480, midi: 46 }],
    });
    const lowE = 440 * 2 ** ((28 - 69) / 12);
    const [before, after] = await page.evaluate(
      (hertz) => [harness.strength(hertz, 0.25, 0.65), harness.strength(hertz, 0.72, 1.12)] as const,
      lowE,
    );
    expect(20 * Math.log10(after / before)).toBeLessThan(-26);
  });

  test('never turns into clipping: all parts at full level stay under full scale', async ({ page }) => {
    await openHarness(page, bundle);
    const only = ['bass', 'cymbal', 'hi-hat', 'chords', 'click'] as const;
    await render(page, { sounds: 'samples', only, seconds: 5 });
    const peak = await page.evaluate(() => harness.peak());
    expect(peak).toBeLessThan(1);
    expect(peak).toBeGreaterThan(0.4);
  });
});

test('another line while playing takes over without a gap or a doubled note, fifty times', async ({
  page,
}) => {
  await openHarness(page, bundle);
  const settings: Wish['settings'] = { loop: 'form' };
  const once = await render(page, { sounds: 'clicks', only: ['bass'], seconds: 6.1, settings });
  const deeds = Array.from({ length: 50 }, (_, i) => ({
    at: 0.2 + i * 0.05,
    take: { chart: fourBars, settings },
  }));
  const often = await render(page, { sounds: 'clicks', only: ['bass'], seconds: 6.1, settings, deeds });
  const heard = await onsets(page, clickLevel, 0.02);
  expectWithin(
    heard,
    Array.from({ length: 12 }, (_, i) => startAt + i * beat),
    millisecond,
  );
  // A few passages are remembered for a moment; events are not piled up.
  expect(often - once).toBeLessThan(10);
});

test.describe('the player', () => {
  const take = { chart: fourBars, settings: { countInBars: 0 as const } };

  test('does not sound without a gesture, says so, and plays once there is one', async () => {
    // A browser of its own, with the rule that browsers at home have.
    const options = test.info().project.use.launchOptions ?? {};
    const args = (options.args ?? []).filter((arg) => !arg.startsWith('--autoplay-policy'));
    const browser = await chromium.launch({
      ...options,
      args: [...args, '--autoplay-policy=document-user-activation-required'],
    });
    const page = await browser.newPage();
    const said: string[] = [];
    page.on('request', (request) => {
      const match = /said\/(.*)/.exec(decodeURI(request.url()));
      if (match) said.push(match[1]!);
    });
    await openHarness(page, bundle, { playsAlone: true });
    await expect.poll(() => said, { timeout: 20_000 }).toEqual(['loading', 'refused: blocked']);
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'playing');
    await browser.close();
  });

  test('plays, tells where it is, changes line and tempo, stops, and lets go', async ({ page }) => {
    const messages: string[] = [];
    page.on('pageerror', (error) => messages.push(error.message));
    page.on('console', (message) => messages.push(message.text()));
    await openHarness(page, bundle);
    await page.evaluate((music) => harness.makePlayer(music), take);
    await page.evaluate(() => player.prepare());
    await page.click('button');
    await page.waitForFunction(() => (player.position()?.noteIndex ?? 0) >= 1);
    const walked = await page.evaluate(async () => {
      const ticks: number[] = [];
      for (let frame = 0; frame < 30; frame++) {
        await new Promise(requestAnimationFrame);
        ticks.push(player.position()?.tick ?? Number.NaN);
      }
      return ticks;
    });
    walked.slice(1).forEach((tick, i) => {
      expect(tick).toBeGreaterThanOrEqual(walked[i]!);
    });
    expect(walked.at(-1)! - walked[0]!).toBeGreaterThan(100);

    const sizes = await page.evaluate(async (chart) => {
      const before = player.size;
      for (let i = 0; i < 50; i++) player.load(harness.musicOf(chart), 'next beat');
      player.set({ tempo: 300 as never });
      await new Promise((resolve) => setTimeout(resolve, 700));
      return [before, player.size] as const;
    }, fourBars);
    expect(sizes[1]).toBeLessThan(sizes[0] + 20);
    expect(await page.evaluate(() => player.settings.tempo)).toBe(300);

    await page.evaluate(() => {
      player.stop();
    });
    expect(await page.evaluate(() => player.position())).toBeNull();
    await page.evaluate(() => player.dispose());
    expect(await page.evaluate(() => statuses)).toEqual(['loading', 'playing', 'ready', 'idle']);
    expect(messages).toEqual([]);
  });

  test('ends by itself when nothing goes round', async ({ page }) => {
    await openHarness(page, bundle);
    const short = {
      chart: `${header}| F7 |]`,
      settings: { countInBars: 0 as const, loop: 'none' as const, tempo: 320 as never },
    };
    await page.evaluate((music) => harness.makePlayer(music), short);
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'ready', undefined, { timeout: 8000 });
    expect(await page.evaluate(() => statuses)).toEqual(['loading', 'playing', 'ready']);
  });

  test('never says it plays while the clock stands still', async ({ page }) => {
    await openHarness(page, bundle);
    await page.evaluate((music) => harness.makePlayer(music), take);
    await page.evaluate(() => {
      Object.defineProperty(AudioContext.prototype, 'currentTime', { configurable: true, get: () => 0 });
    });
    await page.click('button');
    await page.waitForFunction(() => statuses.length === 2);
    expect(await page.evaluate(() => statuses)).toEqual(['loading', 'silent: stuck']);
    // The device runs again.
    await page.evaluate(() => Reflect.deleteProperty(AudioContext.prototype, 'currentTime'));
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'playing');
    await page.evaluate(() => {
      const stopped = performance.now() / 1000;
      Object.defineProperty(AudioContext.prototype, 'currentTime', {
        configurable: true,
        get: () => stopped,
      });
    });
    await page.waitForFunction(() => player.status.state === 'silent', undefined, { timeout: 3000 });
  });

  test('says that it was interrupted when the browser takes the sound away', async ({ page }) => {
    await openHarness(page, bundle);
    await page.evaluate((music) => {
      const Real = AudioContext;
      globalThis.AudioContext = class extends Real {
        constructor(options?: AudioContextOptions) {
          super(options);
          addEventListener('take-away', () => void this.suspend());
        }
      };
      harness.makePlayer(music);
    }, take);
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'playing');
    await page.evaluate(() => dispatchEvent(new Event('take-away')));
    await page.waitForFunction(() => player.status.state === 'silent');
    expect(await page.evaluate(() => statuses.at(-1))).toBe('silent: interrupted');
    expect(await page.evaluate(() => player.position())).toBeNull();
  });

  test('plays by a timer of the page where no worker may run', async ({ page }) => {
    await openHarness(page, bundle);
    await page.evaluate((music) => {
      globalThis.Worker = class extends EventTarget {
        postMessage(): void {
          // Nobody is there.
        }
        terminate(): void {
          // Nobody was there.
        }
      } as unknown as typeof Worker;
      harness.makePlayer(music);
    }, take);
    await page.click('button');
    await page.waitForFunction(() => (player.position()?.noteIndex ?? 0) >= 2);
  });

  test('plays computed sounds where the samples cannot be had, and says which', async ({ page }) => {
    await openHarness(page, bundle, { withoutSamples: true });
    await page.evaluate((music) => harness.makePlayer(music), take);
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'playing');
    const substitutes = await page.evaluate(() => player.status.substitutes);
    expect(substitutes).toEqual(['bass', 'cymbal', 'hi-hat', 'click', 'chords']);
    await render(page, { sounds: 'substitutes', only: ['bass', 'cymbal'], seconds: 2 });
    expect(await rms(page, 0.15, 2)).toBeGreaterThan(0.02);
  });

  test('has nothing to play before there is a line', async ({ page }) => {
    await openHarness(page, bundle);
    await page.evaluate((music) => {
      harness.makePlayer(music);
      player.load(null);
    }, take);
    await page.click('button');
    expect(await page.evaluate(() => statuses)).toEqual(['refused: nothing to play']);
  });
});
