// The signs of the form over a system and at its bar lines: repeats, endings, and words such as D.S. al Coda.
import { engraving, textWidth } from './glyphs';
import type { PlacedText, SystemLayout } from './model';

/** What a bar says of the form. */
export interface BarForm {
  readonly repeatStart: boolean;
  /** How often the stretch that ends here is played in all; null where none ends. */
  readonly repeatEnd: number | null;
  /** "1." where an ending begins; empty in the rest of it, null outside endings. */
  readonly ending: string | null;
  /** The bracket of the ending closes at the end of this bar. */
  readonly endingStops: boolean;
  /** Words over the beginning of the bar, such as Coda. */
  readonly opening: string | null;
  /** Words over its end, such as Fine. */
  readonly closing: string | null;
}

export interface FormMarks {
  /** Pixels that are needed above the system. */
  readonly height: number;
  /** Paths of bar lines, to be stroked at their thickness. */
  readonly thin: string;
  readonly thick: string;
  readonly dots: readonly { readonly x: number; readonly y: number }[];
  /** Path of the brackets over endings, to be stroked. */
  readonly brackets: string;
  readonly texts: readonly PlacedText[];
}

/** Of a dot beside a bar line, in staff spaces: from the thin line to its middle, and its radius. */
export const repeatDot = { from: 0.55, radius: 0.22 } as const;
const at = (value: number): string => value.toFixed(2);

/**
 * The signs of the bars of one system.
 *
 * @param forms by the index of the bar
 * @param size of the words, in pixels
 */
export function formMarks(
  system: Pick<SystemLayout, 'bars' | 'staffTop' | 'staffBottom'>,
  forms: readonly BarForm[],
  space: number,
  size: number,
): FormMarks {
  const { staffTop, staffBottom, bars } = system;
  const thin: string[] = [];
  const thick: string[] = [];
  const brackets: string[] = [];
  const dots: { x: number; y: number }[] = [];
  const texts: PlacedText[] = [];
  const line = (x: number): string => `M${at(x)} ${at(staffTop)}V${at(staffBottom)}`;
  const dotsAt = (x: number): void => {
    dots.push({ x, y: staffTop + 1.5 * space }, { x, y: staffTop + 2.5 * space });
  };
  const row = size * 1.35;
  const [base, top, foot] = [-size * 0.35, -row + 1, -2];
  const thickHalf = (engraving.thickBar / 2) * space;
  const gap = engraving.barGap * space;
  bars.forEach((bar, place) => {
    const form = forms[bar.index];
    if (!form) return;
    const end = bar.x + bar.width;
    const before = place === 0 ? undefined : forms[bars[place - 1]!.index];
    if (form.repeatEnd !== null) {
      thick.push(line(end - thickHalf));
      const inner = end - 2 * thickHalf - gap;
      thin.push(line(inner));
      dotsAt(inner - repeatDot.from * space);
    }
    if (form.repeatStart) {
      // Where a repeat ends at the same line, its thick line serves both.
      const isShared = before !== undefined && before.repeatEnd !== null;
      if (!isShared) thick.push(line(bar.x + thickHalf));
      const inner = bar.x + (isShared ? 0 : 2 * thickHalf) + gap;
      thin.push(line(inner));
      dotsAt(inner + repeatDot.from * space);
    }
    if (form.ending !== null) {
      const opens = form.ending !== '';
      const from = bar.x + (opens ? 2 : 0);
      const to = end - (form.endingStops ? 2 : 0);
      brackets.push(`M${at(from)} ${at(opens ? foot : top)}${opens ? `V${at(top)}` : ''}H${at(to)}`);
      if (form.endingStops) brackets.push(`V${at(foot)}`);
      if (opens) texts.push({ text: form.ending, x: from + 5, y: base });
    }
    const number = form.ending ? textWidth(form.ending, size, 'sans') + 12 : 0;
    if (form.opening !== null) texts.push({ text: form.opening, x: bar.x + number + 2, y: base });
    const times = form.repeatEnd !== null && form.repeatEnd > 2 ? `×${form.repeatEnd}` : null;
    const closing = [form.closing, times].filter((word) => word !== null).join('  ');
    if (closing !== '') texts.push({ text: closing, x: end - 4 - textWidth(closing, size, 'sans'), y: base });
  });
  const height = brackets.length + texts.length > 0 ? row : 0;
  return { height, thin: thin.join(''), thick: thick.join(''), dots, brackets: brackets.join(''), texts };
}
