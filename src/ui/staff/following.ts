// What the staff asks of the page: to bring a line of music into view, and to move the focus along the bars.
import { onpainted } from '../shared/painted';

/** What is to be in sight: a line of music, and the one that is read after it. */
export interface Wanted {
  readonly system: number;
  /** Null while nothing is played. */
  readonly ahead: number | null;
  /** Pixels of what hangs under the lower of both. */
  readonly under: number;
}

/** What of the page a line of music can be seen in: the nearest ancestor that scrolls, else the window. */
function viewOf(root: HTMLElement): { readonly top: number; readonly bottom: number } {
  for (let element = root.parentElement; element; element = element.parentElement) {
    if (element.scrollHeight > element.clientHeight && getComputedStyle(element).overflowY === 'auto')
      return element.getBoundingClientRect();
  }
  return { top: 0, bottom: innerHeight };
}

/** As much as a system may hang over the edge of the view and still count as seen, in pixels. */
const slack = 6;

/**
 * Scrolls by whole systems, and only when one that is wanted is out of sight; the upper one then comes to the top. Once the
 * light is painted: asked in the middle of a beat, the browser would lay everything out at once to know where the systems
 * are. Returns a way to call it off.
 */
export function bringIntoView(root: HTMLElement | undefined, { system, ahead, under }: Wanted): () => void {
  const behavior = matchMedia('(prefers-reduced-motion: reduce)').matches ? 'auto' : 'smooth';
  let isWanted = true;
  onpainted(() => {
    if (!isWanted || !root) return;
    const find = (index: number): Element | null => root.querySelector(`[data-system="${index}"]`);
    const [first, other] = [find(Math.min(system, ahead ?? system)), find(Math.max(system, ahead ?? system))];
    if (ahead === null || !first || !other) {
      find(system)?.scrollIntoView({ block: 'nearest', inline: 'nearest', behavior });
      return;
    }
    const view = viewOf(root);
    const [from, to] = [first.getBoundingClientRect(), other.getBoundingClientRect()];
    if (from.top >= view.top - slack && to.bottom + under <= view.bottom + slack) return;
    first.scrollIntoView({ block: 'start', inline: 'nearest', behavior });
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
