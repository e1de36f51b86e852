// Shapes over and beside the staff on the screen: columns, the bracket around chosen bars, wedges.
import type { Sizes, SystemLayout } from '../../notation';

/**
 * Height of the travel strip under a system, in pixels, for a staff of the given width: low, so that the lines of music to
 * come stay in sight; a screen that is very wide is tall as well.
 */
export const stripHeightFor = (width: number): number => (width < 620 ? 44 : width < 1400 ? 46 : 76);

/** Pixels from one system, strip and all, to the next. */
export const systemGap = 12;

/** Height of a system in whole pixels, so that what lies over the next one meets it exactly. */
export const heightOf = ({ height }: SystemLayout): number => Math.ceil(height);

/** Where the systems begin, in pixels from the first, with strips of a height under them. */
export function topsOf(systems: readonly SystemLayout[], strip: number): readonly number[] {
  let top = 0;
  return systems.map((system) => {
    const begins = top;
    top += heightOf(system) + strip + systemGap;
    return begins;
  });
}

/** The beat columns of a system from top to bottom: what lights up, under the chord symbols and over the roles. */
export const columnRows = (
  { rows }: SystemLayout,
  sizes: Sizes,
): { readonly top: number; readonly bottom: number } => ({
  top: rows.finger - sizes.finger - 3,
  bottom: rows.position + 6,
});

export interface BarBracket {
  readonly box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  readonly edges: string;
}

/** Square brackets around some bars of a system. */
export function bracketAround(
  system: SystemLayout,
  chosen: { readonly from: number; readonly to: number } | null,
): BarBracket | null {
  const first = system.bars.find(({ index }) => index === chosen?.from);
  const last = system.bars.find(({ index }) => index === chosen?.to);
  if (first === undefined || last === undefined) return null;
  const x = first.x;
  const end = last.x + last.width;
  const y = system.staffTop - 6;
  const bottom = system.staffBottom + 6;
  return {
    box: { x, y, width: end - x, height: bottom - y },
    edges: `M${x + 7} ${y}H${x}V${bottom}h7M${end - 7} ${y}H${end}V${bottom}h-7`,
  };
}

/** Wedges that point down beside the fingers of notes, to the left, where nothing of another row can lie. */
export const wedges = (
  notes: readonly { readonly finger: { readonly x: number; readonly y: number } }[],
  size: number,
): string =>
  notes
    .map(({ finger: { x, y } }) => `M${x - size * 0.34 - 9} ${y - size * 0.56}h8l-4 ${size * 0.48}z`)
    .join('');
