// Shapes of the staff as SVG: bar lines, the bracket around chosen bars, the arrow of a carry.
import {
  engraving,
  type CarryMark,
  type DeviceBracket,
  type PositionBracket,
  type Sizes,
  type SystemLayout,
} from '../../notation';

/**
 * Height of the travel strip under a system, in pixels, for a staff of the given width: low, so that the lines of music to
 * come stay in sight; a screen that is very wide is tall as well.
 */
export const stripHeightFor = (width: number): number => (width < 620 ? 44 : width < 1400 ? 46 : 76);

/** Pixels from one system, strip and all, to the next. */
export const systemGap = 11;

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

/** Paths of thin and thick bar lines, to be stroked at their thickness. */
export function barLinesOf(
  system: SystemLayout,
  space: number,
): { readonly thin: string; readonly thick: string } {
  const thin: string[] = [];
  const thick: string[] = [];
  const line = (x: number): string => `M${x.toFixed(2)} ${system.staffTop}V${system.staffBottom}`;
  for (const bar of system.bars) {
    const end = bar.x + bar.width;
    if (bar.closing === 'final') {
      thick.push(line(end - (engraving.thickBar / 2) * space));
      thin.push(line(end - (engraving.thickBar + engraving.barGap) * space));
    } else {
      thin.push(line(end));
      if (bar.closing === 'double') thin.push(line(end - engraving.barGap * space));
    }
  }
  return { thin: thin.join(''), thick: thick.join('') };
}

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

/** Lines of the position brackets: along to the last note, with a tick up to it. */
export const bracketLines = (brackets: readonly PositionBracket[]): string =>
  brackets
    .map(({ lineFrom, lineTo, y }) =>
      lineFrom === null ? '' : `M${lineFrom.toFixed(1)} ${y.toFixed(1)}H${lineTo.toFixed(1)}v-4`,
    )
    .join('');

/** Lines of the devices: a tick up where one opens, along, and an arrow up to the note it leads to. */
export const deviceLines = (devices: readonly DeviceBracket[]): string =>
  devices
    .map(({ x1, x2, y, opens, arrives }) => {
      const at = (value: number): string => value.toFixed(1);
      const start = opens ? `M${at(x1)} ${at(y - 4)}V${at(y)}` : `M${at(x1)} ${at(y)}`;
      return `${start}H${at(x2)}${arrives ? 'v-6m-3 3.5l3 -3.5l3 3.5' : ''}`;
    })
    .join('');

/** Arrows that sag from an open string to the next place of the hand. */
export const carryArrows = (carries: readonly CarryMark[]): string =>
  carries
    .map(({ x1, x2, y }) => {
      const sag = y + Math.min(8, 4 + (x2 - x1) / 12);
      const at = (share: number): string => (x1 + (x2 - x1) * share).toFixed(1);
      const arc = `M${at(0)} ${y}C${at(0.3)} ${sag} ${at(0.7)} ${sag} ${at(1)} ${y}`;
      return `${arc}M${(x2 - 5.5).toFixed(1)} ${y - 0.5}l5.5 0.5l-1.2 5.4`;
    })
    .join('');

/** Wedges that point down beside the fingers of notes, to the left, where nothing of another row can lie. */
export const wedges = (
  notes: readonly { readonly finger: { readonly x: number; readonly y: number } }[],
  size: number,
): string =>
  notes
    .map(({ finger: { x, y } }) => `M${x - size * 0.34 - 9} ${y - size * 0.56}h8l-4 ${size * 0.48}z`)
    .join('');
