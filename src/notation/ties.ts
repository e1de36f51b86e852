// Ties between the heads of one note; over the end of a system a tie is drawn in two parts.
import { engraving } from './glyphs';
import type { StemmedHead } from './heads';

const n = (value: number): string => value.toFixed(2);

/** Staff spaces from the middle of a head to the far side of the highest curve at it. */
export const mostCurve = 0.65 + 1.1 * 1.4 * 0.75 + 0.25;

/** A crescent from x1 to x2, bent away from the stems. */
function crescent(x1: number, x2: number, y: number, isAbove: boolean, space: number): string {
  const sign = isAbove ? -1 : 1;
  const start = y + sign * 0.65 * space;
  const height = Math.min(1.1, 0.35 + (x2 - x1) / (14 * space)) * space * 1.4;
  const thickness = engraving.ledgerLine * 1.4 * space;
  const at = (share: number): number => x1 + (x2 - x1) * share;
  const outer = n(start + sign * (height + thickness));
  const inner = n(start + sign * height);
  return (
    `M${n(x1)} ${n(start)}C${n(at(0.25))} ${outer} ${n(at(0.75))} ${outer} ${n(x2)} ${n(start)}` +
    `C${n(at(0.75))} ${inner} ${n(at(0.25))} ${inner} ${n(x1)} ${n(start)}Z`
  );
}

/** Slurs over notes that are pulled off, each from the note that is struck; one filled path, empty when there are none. */
export function slurPaths(heads: readonly StemmedHead[], space: number): string {
  return heads
    .map(({ head, stem }, place) => {
      if (head.isPulledOff || !heads[place + 1]?.head.isPulledOff) return '';
      const past = heads.findIndex((one, at) => at > place && !one.head.isPulledOff);
      const own = heads.slice(place, past < 0 ? heads.length : past);
      const isAbove = stem !== null && !stem.up;
      const heights = own.map((one) => one.head.y);
      const y = isAbove ? Math.min(...heights) : Math.max(...heights);
      return crescent(head.x, own.at(-1)!.head.x, y, isAbove, space);
    })
    .join('');
}

/** All ties of a system as one filled path, empty when there are none. */
export function tiePaths(heads: readonly StemmedHead[], startX: number, endX: number, space: number): string {
  const gap = 0.75 * space;
  return heads
    .map(({ head, stem }, place) => {
      const isAbove = stem !== null && !stem.up;
      const before = heads[place - 1];
      const after = heads[place + 1];
      let path = '';
      if (head.tiedFrom && before === undefined)
        path += crescent(startX + gap, head.x - gap, head.y, isAbove, space);
      if (head.tiedTo) {
        const end = after === undefined ? endX - 0.3 * space : after.head.x - gap;
        path += crescent(head.x + gap, end, head.y, isAbove, space);
      }
      return path;
    })
    .join('');
}
