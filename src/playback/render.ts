// The door to rendering; the code behind it is fetched on demand.
import type { Sides } from './mixdown';
import type { RenderWishes } from './render-wishes';

/**
 * Samples of the loop, or the whole form, once through, and `ringOut` seconds more, left and right: exactly
 * (ticks / 480 * 60 / tempo + ringOut) * renderRate of each, to the nearest whole one.
 */
export async function renderMusic(wishes: RenderWishes): Promise<Sides> {
  const { renderSamples } = await import('./rendering');
  return renderSamples(wishes);
}
