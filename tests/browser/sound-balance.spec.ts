// The bass beside the rest of the band, with the sounds and the mix that a person hears first.
import { expect, test } from '@playwright/test';
import { round } from './sound-measures';
import { chartIn } from '../playback/feel-charts';
import { corners } from '../playback/balance';
import { walked } from '../pipeline/request';
import { testTimeout } from './page';
import { openHarness } from './sound-page';

test.setTimeout(testTimeout);

for (const [feel, bassSound] of [
  ['swing', 'upright'],
  ['ballad', 'upright'],
  ['swing', 'electric'],
] as const) {
  test(`in a ${feel} the ${bassSound} bass is never under the band by more than 3 LU, nor through a tablet or a phone`, async ({
    page,
  }) => {
    await openHarness(page);
    const { timeline, line } = walked(chartIn(feel));
    const [bass, rest] = await page.evaluate(
      ([music, tempo, sound, loop]) => harness.balance(music, { tempo, bassSound: sound, loop, seed: 3 }),
      [{ timeline, notes: line.notes }, timeline.tempo, bassSound, round(6, 13)] as const,
    );
    const over = corners.map((_, i) => bass![i]! - rest![i]!);
    test.info().annotations.push({ type: 'LU over the band', description: over.join(', ') });
    for (const one of over) expect(one, over.join()).toBeGreaterThan(-3);
    // Nor is it all that is heard.
    expect(over[0]).toBeLessThan(12);
    for (const level of rest!) expect(level).toBeGreaterThan(-40);
  });
}
