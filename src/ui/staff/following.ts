// What the staff asks of the page: to bring a line of music into view, and to move the focus along the bars.
import { onpainted } from '../shared/painted';

/**
 * Scrolls by whole systems, and only when the next one is out of sight. Once the light is painted: asked in the middle of a
 * beat, the browser would lay everything out at once to know where the system is. Returns a way to call it off.
 */
export function bringIntoView(root: HTMLElement | undefined, system: number): () => void {
  const still = matchMedia('(prefers-reduced-motion: reduce)').matches;
  let isWanted = true;
  onpainted(() => {
    const element = isWanted ? root?.querySelector(`[data-system="${system}"]`) : null;
    element?.scrollIntoView({ block: 'nearest', inline: 'nearest', behavior: still ? 'auto' : 'smooth' });
  });
  return () => {
    isWanted = false;
  };
}

/** Left and right go from bar to bar along the row of bars. */
export function moveAmongBars(event: KeyboardEvent, root: HTMLElement | undefined): void {
  const bar = event.target instanceof HTMLElement ? event.target.dataset['bar'] : undefined;
  const by = event.key === 'ArrowLeft' ? -1 : event.key === 'ArrowRight' ? 1 : 0;
  if (bar === undefined || by === 0) return;
  const next = root?.querySelector<HTMLElement>(`[data-bar="${Number(bar) + by}"]`);
  event.preventDefault();
  event.stopPropagation();
  next?.focus();
}
