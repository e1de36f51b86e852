// The door to rendering; the code behind it is fetched on demand.
import type { RenderWishes } from './render-wishes';

/**
 * Mono samples of the loop, or the whole form, once through, and `ringOut` seconds more: exactly
 * (ticks / 480 * 60 / tempo + ringOut) * renderRate of them, to the nearest whole one.
 */
export async function renderMusic(wishes: RenderWishes): Promise<Float32Array> {
  const { renderSamples } = await import('./tone-render');
  return renderSamples(wishes);
}
