// Lines of the staff and of the rows under it as SVG paths, the same on a screen, on paper and in a file.
import { engraving } from './glyphs';
import type { CarryMark, DeviceBracket, PositionBracket, SystemLayout } from './model';

/** Path of the five lines, to be stroked. */
export const staffLinesOf = ({ staffTop, width }: SystemLayout, space: number): string =>
  [0, 1, 2, 3, 4].map((line) => `M0 ${staffTop + line * space}H${width - 2}`).join('');

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
