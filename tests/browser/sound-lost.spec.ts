// What takes the sound away, and how the music goes on: devices that are held back or lost, and a page that is kept busy.
import { expect, test } from '@playwright/test';
import { testTimeout } from './page';
import { fourBars } from './sound-measures';
import { openHarness } from './sound-page';

test.setTimeout(testTimeout);

test.describe('the music', () => {
  const take = { chart: fourBars, settings: { countInBars: 0 as const } };

  test('says why nothing is heard while the sound is held back, then goes on with another context', async ({
    page,
  }) => {
    await openHarness(page);
    await page.evaluate((music) => {
      const Real = AudioContext;
      globalThis.AudioContext = class extends Real {
        constructor(options?: AudioContextOptions) {
          super(options);
          const takeAway = (): void => {
            void this.suspend();
            this.resume = () => new Promise(() => undefined);
          };
          addEventListener('take-away', takeAway, { once: true });
        }
      };
      harness.makePlayer(music);
    }, take);
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'playing');
    await page.evaluate(() => dispatchEvent(new Event('take-away')));
    await page.waitForFunction(
      () => player.status.state === 'playing' && player.status.trouble?.code === 'interrupted',
    );
    await page.waitForFunction(
      () => player.status.state === 'playing' && player.status.trouble?.code === 'restored',
    );
    const before = await page.evaluate(() => player.position()?.tick ?? 0);
    await page.waitForFunction((tick) => (player.position()?.tick ?? 0) > tick + 480, before);
    expect(await page.evaluate(() => statuses.filter((said) => said !== 'playing'))).toEqual(['loading']);
  });

  test('goes on with a device of another rate when the sound is taken away for good, in the bar and the round where it was', async ({
    page,
  }) => {
    await openHarness(page);
    await page.evaluate(
      (music) => {
        const Real = AudioContext;
        const rates = [44_100, 48_000];
        globalThis.AudioContext = class extends Real {
          constructor(options?: AudioContextOptions) {
            const sampleRate = rates.shift();
            super(sampleRate === undefined ? options : { ...options, sampleRate });
            Object.assign(globalThis, { latest: this });
          }
        };
        harness.makePlayer(music);
      },
      { chart: fourBars, settings: { countInBars: 1 as const, tempo: 300 as never } },
    );
    await page.click('button');
    // In the second round or later: it is not begun anew.
    await page.waitForFunction(() => player.position()?.pass === 1);
    const after = await page.evaluate(async () => {
      const lost = globalThis as unknown as { latest: AudioContext };
      const before = player.position();
      await lost.latest.close();
      const said = (): string | undefined =>
        player.status.state === 'playing' ? player.status.trouble?.code : undefined;
      while (said() !== 'restored') await new Promise((resolve) => setTimeout(resolve, 1));
      const barsOf = (place: typeof before): number => (place?.pass ?? 0) * 4 + (place?.bar ?? 0);
      const later = player.position();
      return {
        bars: barsOf(later) - barsOf(before),
        pass: later?.pass ?? 0,
        countIn: later?.countIn,
        rate: lost.latest.sampleRate,
      };
    });
    expect(after).toMatchObject({ countIn: null, rate: 48_000 });
    // Closing takes a moment in which the music may come to the next bar.
    expect(after.bars).toBeGreaterThanOrEqual(0);
    expect(after.bars).toBeLessThanOrEqual(1);
    await page.waitForFunction((pass) => (player.position()?.pass ?? 0) > pass, after.pass);
    // The sentence goes by itself.
    await page.waitForFunction(() => player.status.state === 'playing' && !player.status.trouble);
    expect(await page.evaluate(() => statuses.filter((said) => said !== 'playing'))).toEqual(['loading']);
    // Closed while nothing plays, it is replaced with the next start.
    await page.evaluate(async () => {
      player.stop();
      await (globalThis as unknown as { latest: AudioContext }).latest.close();
    });
    await page.click('button');
    await page.waitForFunction(() => player.status.state === 'playing' && player.position() !== null);
  });

  test('plays on in time while the page is kept busy and slowed down', async ({ page }) => {
    await openHarness(page);
    const session = await page.context().newCDPSession(page);
    await page.evaluate(
      (music) => {
        harness.makePlayer(music);
        // How far behind its time the sound clock was whenever a sound was begun, in seconds.
        const behind: number[] = [];
        const start = Reflect.get<AudioBufferSourceNode, 'start'>(AudioBufferSourceNode.prototype, 'start');
        AudioBufferSourceNode.prototype.start = function (this: AudioBufferSourceNode, ...wish) {
          behind.push(this.context.currentTime - (wish[0] ?? 0));
          start.apply(this, wish);
        };
        Object.assign(globalThis, { behind });
      },
      { ...take, settings: { ...take.settings, tempo: 240 as never } },
    );
    await session.send('Emulation.setCPUThrottlingRate', { rate: 4 });
    await page.click('button');
    await page.waitForFunction(() => (player.position()?.noteIndex ?? -1) >= 0);
    // Every third of a second the page does nothing else for a tenth of one.
    await page.evaluate(() => {
      setInterval(() => {
        const until = performance.now() + 100;
        while (performance.now() < until);
      }, 333);
    });
    await page.waitForFunction(() => (player.position()?.pass ?? 0) >= 3);
    const behind = await page.evaluate(() => (globalThis as unknown as { behind: number[] }).behind);
    const latest = Math.max(...behind);
    const late = behind.filter((one) => one > 0.01).length;
    test.info().annotations.push({
      type: 'sounds, later than 10 ms, the latest in ms',
      description: [behind.length, late, 1000 * latest].join(', '),
    });
    // How many are late is the machine's affair; what would come too late to be on the beat is left out.
    expect(latest).toBeLessThan(0.25);
    expect(behind.length).toBeGreaterThan(100);
    expect(await page.evaluate(() => statuses.filter((said) => said !== 'playing'))).toEqual(['loading']);
    expect(await page.evaluate(() => player.status.state)).toBe('playing');
  });
});
