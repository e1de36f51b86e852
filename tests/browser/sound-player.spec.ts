// The player played live, as far as a machine can tell: what it says, what it holds, and what it does when sound is refused.
import { chromium, expect, test } from '@playwright/test';
import type { Wish } from './sound-harness';
import { testTimeout } from './page';
import { fourBars, header, round } from './sound-measures';
import { openHarness } from './sound-page';

test.setTimeout(testTimeout);

test.describe('the player', () => {
  const take = { chart: fourBars, settings: { countInBars: 0 as const } };

  test('P-13: does not sound without a gesture, says so, and plays once there is one', async () => {
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
    await openHarness(page, { playsAlone: true });
    await expect.poll(() => said, { timeout: 20_000 }).toEqual(['loading', 'refused: blocked']);
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'playing');
    await browser.close();
  });

  test('plays, tells where it is, changes line and tempo, stops, and lets go', async ({ page }) => {
    const messages: string[] = [];
    page.on('pageerror', (error) => messages.push(error.message));
    page.on('console', (message) => messages.push(message.text()));
    await openHarness(page);
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
      return [before, player.position()?.tick ?? 0] as const;
    }, fourBars);
    // Two beats on, the last of the new lines has taken over.
    await page.waitForFunction((tick) => (player.position()?.tick ?? 0) > tick + 960, sizes[1]);
    expect(await page.evaluate(() => player.size)).toBeLessThan(sizes[0] + 20);
    expect(await page.evaluate(() => player.settings.tempo)).toBe(300);

    // What is shown moves by what was asked for, to the tick; the clock may go on from one look to the next.
    const delays = [0.1, -0.05];
    const moved = await page.evaluate((asked) => {
      const tickAt = (outputDelay: number): number => {
        player.set({ outputDelay });
        return player.position()?.tick ?? Number.NaN;
      };
      return asked.map((delay) => [tickAt(0), tickAt(delay), tickAt(0)] as const);
    }, delays);
    delays.forEach((delay, i) => {
      const [before, shifted, after] = moved[i]!;
      const ticks = ((delay * 300) / 60) * 480;
      expect(shifted).toBeGreaterThanOrEqual(before - ticks - 1e-6);
      expect(shifted).toBeLessThanOrEqual(after - ticks + 1e-6);
      // The looks lie close together, or the bounds would say little.
      expect(after - before).toBeLessThan(100);
    });

    await page.evaluate(() => {
      player.stop();
    });
    expect(await page.evaluate(() => player.position())).toBeNull();
    await page.evaluate(() => player.dispose());
    expect(await page.evaluate(() => statuses)).toEqual(['loading', 'playing', 'ready', 'idle']);
    expect(messages).toEqual([]);
  });

  test('holds no more the longer it plays with another line each time round, and reaches further ahead while the page is hidden', async ({
    page,
  }) => {
    await openHarness(page);
    await page.evaluate(
      (music) => {
        harness.makePlayer(music);
        Object.assign(globalThis, { sources: harness.watchSources() });
      },
      {
        chart: fourBars,
        settings: {
          countInBars: 0 as const,
          tempo: 320 as never,
          loop: round(0),
        },
        renews: true,
      },
    );
    const session = await page.context().newCDPSession(page);
    await session.send('Performance.enable');
    await page.click('button');
    /** What is held once the music has come round so often: audio nodes alive in the browser, sounds, events. */
    const heldAt = async (pass: number): Promise<{ nodes: number; sounds: number; events: number }> => {
      await page.waitForFunction((wanted) => (player.position()?.pass ?? 0) >= wanted, pass);
      await session.send('HeapProfiler.collectGarbage');
      const { metrics } = await session.send('Performance.getMetrics');
      const nodes = metrics.find(({ name }) => name === 'AudioHandlers')?.value ?? Number.NaN;
      return page.evaluate((count) => {
        const { sources } = globalThis as unknown as { sources: ReturnType<typeof harness.watchSources> };
        return { nodes: count, sounds: sources.playing, events: player.size };
      }, nodes);
    };
    // A bar lasts 0.75 s. The longest sound has ended for the first time by the eighth.
    const [early, late] = [[], []] as Awaited<ReturnType<typeof heldAt>>[][];
    for (const pass of [8, 9, 10, 11]) early!.push(await heldAt(pass));
    for (const pass of [20, 21, 22, 23]) late!.push(await heldAt(pass));
    test.info().annotations.push({ type: 'held', description: JSON.stringify([early, late]) });
    const mostOf = (list: typeof early, what: 'nodes' | 'sounds' | 'events'): number =>
      Math.max(...list!.map((held) => held[what]));
    // Chance gives one bar a chord more than another; twelve bars that piled up would be several hundred nodes.
    const bound = (what: 'nodes' | 'sounds' | 'events'): number => mostOf(early, what) * 1.25 + 10;
    for (const what of ['sounds', 'events'] as const) {
      expect(mostOf(early, what), what).toBeGreaterThan(0);
      expect(mostOf(late, what), what).toBeLessThan(bound(what));
    }
    expect(mostOf(early, 'nodes')).toBeGreaterThan(0);
    // A busy machine gives nodes back late; what leaks never comes back, as the music goes on.
    await expect.poll(async () => (await heldAt(24)).nodes).toBeLessThan(bound('nodes'));
    const ahead = await page.evaluate(() => {
      const { sources } = globalThis as unknown as { sources: ReturnType<typeof harness.watchSources> };
      const first = sources.latest;
      Object.defineProperty(document, 'visibilityState', { configurable: true, get: () => 'hidden' });
      document.dispatchEvent(new Event('visibilitychange'));
      const hidden = sources.latest - first;
      Reflect.deleteProperty(document, 'visibilityState');
      document.dispatchEvent(new Event('visibilitychange'));
      return { hidden, pass: player.position()?.pass ?? 0 };
    });
    expect(ahead.hidden).toBeGreaterThan(0.9);
    await page.waitForFunction((pass) => (player.position()?.pass ?? 0) > pass + 2, ahead.pass);
    expect(await page.evaluate(() => player.status.state)).toBe('playing');
  });

  test('changes the bass while it plays', async ({ page }) => {
    await openHarness(page);
    await page.evaluate((music) => harness.makePlayer(music), take);
    await page.click('button');
    await page.waitForFunction(() => (player.position()?.noteIndex ?? 0) >= 1);
    const asked = page.waitForResponse(/electric-41\.mp3/);
    await page.evaluate(() => {
      player.set({ bassSound: 'sampled electric' });
    });
    expect((await asked).ok()).toBe(true);
    const before = await page.evaluate(() => player.position()?.tick ?? 0);
    await page.waitForFunction((tick) => (player.position()?.tick ?? 0) > tick + 480, before);
    expect(await page.evaluate(() => player.status)).toEqual({ state: 'playing', substitutes: [] });
  });

  test('ends by itself when nothing goes round', async ({ page }) => {
    await openHarness(page);
    const short = {
      chart: `${header}| F7 |]`,
      settings: { countInBars: 0 as const, loop: 'none' as const, tempo: 320 as never },
    };
    await page.evaluate((music) => harness.makePlayer(music), short);
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'ready');
    expect(await page.evaluate(() => statuses)).toEqual(['loading', 'playing', 'ready']);
  });

  test('P-13: never says it plays while the clock stands still', async ({ page }) => {
    await openHarness(page);
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
    await page.waitForFunction(() => player.status.state === 'silent');
  });

  test('P-13: goes on by itself when the browser took the sound away and gives it back', async ({ page }) => {
    await openHarness(page);
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
    await page.waitForFunction(() => (player.position()?.noteIndex ?? -1) >= 0);
    const before = await page.evaluate(() => {
      dispatchEvent(new Event('take-away'));
      return player.position()?.tick ?? 0;
    });
    await page.waitForFunction((tick) => (player.position()?.tick ?? 0) > tick + 480, before);
    expect(await page.evaluate(() => statuses.filter((said) => said !== 'playing'))).toEqual(['loading']);
    expect(await page.evaluate(() => player.status)).toMatchObject({ state: 'playing' });
  });

  test('starts by itself when the device answers late, and blames nobody for it', async ({ page }) => {
    await openHarness(page);
    await page.evaluate((music) => {
      const Real = AudioContext;
      globalThis.AudioContext = class extends Real {
        constructor(options?: AudioContextOptions) {
          super(options);
          void this.suspend();
        }
        override async resume(): Promise<void> {
          await new Promise((resolve) => setTimeout(resolve, 2_500));
          await super.resume();
        }
      };
      harness.makePlayer(music);
    }, take);
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'playing');
    expect(await page.evaluate(() => statuses)).toEqual(['loading', 'refused: waiting', 'playing']);
    await page.waitForFunction(() => (player.position()?.noteIndex ?? -1) >= 0);
  });

  test('plays a test tone when it is asked to', async ({ page }) => {
    await openHarness(page);
    await page.evaluate((music) => harness.makePlayer(music), take);
    const sounded = await page.evaluate(async () => {
      let started = 0;
      const start = Reflect.get<OscillatorNode, 'start'>(OscillatorNode.prototype, 'start');
      OscillatorNode.prototype.start = function (this: OscillatorNode) {
        started++;
        start.apply(this);
      };
      const tone = player.testTone();
      await Promise.race([tone, new Promise((resolve) => setTimeout(resolve, 5_000))]);
      return started;
    });
    expect(sounded).toBe(1);
    expect(await page.evaluate(() => player.status.state)).toBe('idle');
  });

  test('plays by a timer of the page where no worker may run', async ({ page }) => {
    await openHarness(page);
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

  test('P-17: plays computed sounds where the samples cannot be had, and says which', async ({ page }) => {
    await openHarness(page, { withoutSamples: true });
    const sampled = { ...take, settings: { ...take.settings, bassSound: 'sampled upright' as const } };
    await page.evaluate((music) => harness.makePlayer(music), sampled);
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'playing');
    const substitutes = await page.evaluate(() => player.status.substitutes);
    expect(substitutes).toEqual(['bass', 'cymbal', 'hi-hat', 'drums', 'click', 'chords']);
    const wish: Wish = {
      ...sampled,
      sounds: 'substitutes',
      only: ['bass', 'cymbal'],
      startAt: 0.15,
      seconds: 2,
    };
    await page.evaluate((all) => harness.render(all), wish);
    expect(await page.evaluate(() => harness.rms(0.15, 2))).toBeGreaterThan(0.02);
  });

  test('has nothing to play before there is a line', async ({ page }) => {
    await openHarness(page);
    await page.evaluate((music) => {
      harness.makePlayer(music);
      player.load(null);
    }, take);
    await page.click('button');
    expect(await page.evaluate(() => statuses)).toEqual(['refused: nothing to play']);
  });
});
