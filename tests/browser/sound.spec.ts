import { expect, test, type Page } from '@playwright/test';
import { bundleHarness, openHarness, type Bundle } from './sound-page';

let bundle: Bundle;
test.beforeAll(async () => {
  bundle = await bundleHarness();
});

test('probe', async ({ page }) => {
  page.on('console', (m) => console.log(m.type(), m.text()));
  page.on('pageerror', (e) => console.log(e.stack));
  await openHarness(page, bundle);
  console.log([...bundle].map(([n, c]) => n + ' ' + c.length));
  const on = await page.evaluate(() => harness.decodedOnsets());
  console.log(on);
  const chart = 'Meter: 4/4\nKey: F\nFeel: swing\nTempo: 120\n\n| F7 | Bb7 |]';
  const held = await page.evaluate((chart) => harness.render({ chart, sounds: 'clicks', only: ['bass'], startAt: 0.15, seconds: 5, settings: { loop: 'none' } }), chart);
  console.log(held, await page.evaluate(() => [harness.onsets(0.05, 0.05), harness.peak()]));
  console.log(await page.evaluate(() => harness.tuning('samples')), await page.evaluate(() => harness.tuning('substitutes')));
  for (const only of [['bass'], ['cymbal'], ['hi-hat'], ['chords'], ['click'], ['bass', 'cymbal', 'hi-hat', 'chords', 'click']]) {
    await page.evaluate(([chart, only]) => harness.render({ chart, sounds: 'samples', only, startAt: 0.15, seconds: 5, settings: { loop: 'none' } } as any), [chart, only] as const);
    console.log(only.join(), await page.evaluate(() => [harness.peak(), harness.rms(0.15, 4.15), harness.onsets(harness.peak() * 0.1, 0.03)]));
  }
});
