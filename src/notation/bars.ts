// One bar with everything in it placed: heads on the time axis, rests, changes of signature and meter, chord symbols.
import { chordWidth } from './chordText';
import type { BarContent } from './contents';
import { glyph } from './glyphs';
import type { BarLayout, PlacedChord, PlacedGlyph } from './model';
import { signatureSteps } from './pitches';
import { halfHead, repeatLead, scaleOf, signatureWidth, type SystemBars } from './spacing';
import type { PlacedHead } from './stems';

/** Where the staff of a system stands. */
export interface StaffPlace {
  readonly space: number;
  readonly top: number;
  readonly chordY: number;
  readonly chordSize: number;
}

/** y of a staff step. */
export const stepY = (step: number, { top, space }: StaffPlace): number => top + (8 - step) * (space / 2);

/** Glyphs of a signature; naturals in the places of `before` when the new one is empty. */
export function signatureGlyphs(
  fifths: number,
  before: number,
  x: number,
  staff: StaffPlace,
): readonly PlacedGlyph[] {
  const cancels = fifths === 0;
  const name = cancels ? 'accidentalNatural' : fifths > 0 ? 'accidentalSharp' : 'accidentalFlat';
  const shown = cancels ? before : fifths;
  const steps = signatureSteps(shown);
  const advance = steps.length === 0 ? 0 : signatureWidth(shown, staff.space) / steps.length;
  return steps.map((step, place) => ({
    text: glyph(name).text,
    x: x + place * advance,
    y: stepY(step, staff),
  }));
}

/** The two figures of a meter, centred over each other; x is the middle. */
export function meterGlyphs(
  meter: { readonly beats: number; readonly unit: number },
  x: number,
  staff: StaffPlace,
): readonly PlacedGlyph[] {
  const row = (value: number, step: number): readonly PlacedGlyph[] => {
    const digits = [...String(value)].map((digit) => glyph(`timeSig${digit}`));
    const width = digits.reduce((sum, digit) => sum + digit.advance, 0) * staff.space;
    let at = x - width / 2;
    return digits.map((digit) => {
      const placed = { text: digit.text, x: at, y: stepY(step, staff) };
      at += digit.advance * staff.space;
      return placed;
    });
  };
  return [...row(meter.beats, 6), ...row(meter.unit, 2)];
}

/** The signature and meter that a bar begins with where they change, from x on. */
export function changeGlyphs(
  { bar, keyChange, meter }: BarContent,
  before: BarContent | undefined,
  x: number,
  staff: StaffPlace,
): readonly PlacedGlyph[] {
  const glyphs: PlacedGlyph[] = [];
  let at = x;
  if (keyChange !== null) {
    const signs = signatureGlyphs(bar.key.fifths, before?.bar.key.fifths ?? 0, at, staff);
    glyphs.push(...signs);
    at += (signs.length === 0 ? 0 : signs.at(-1)!.x - at) + 1.6 * staff.space;
  }
  if (meter !== null) glyphs.push(...meterGlyphs(meter, at + 0.9 * staff.space, staff));
  return glyphs;
}

const restNames: Readonly<Record<number, string>> = {
  1: 'restWhole',
  2: 'restHalf',
  4: 'restQuarter',
  8: 'rest8th',
  16: 'rest16th',
};
/** A whole rest hangs from the fourth line; the others stand about the middle. */
const restStep = (value: number): number => (value === 1 ? 6 : 4);

function restGlyphs(content: BarContent, axis: Axis, staff: StaffPlace): readonly PlacedGlyph[] {
  if (content.rests === 'bar') {
    const rest = glyph('restWhole');
    const middle = axis.startX + (axis.endX - axis.startX) / 2;
    return [{ text: rest.text, x: middle - (rest.advance / 2) * staff.space, y: stepY(6, staff) }];
  }
  return content.rests.flatMap((piece) => {
    const rest = glyph(restNames[piece.value]!);
    const x = axis.startX + piece.offset * axis.scale - (rest.advance / 2) * staff.space;
    const placed = { text: rest.text, x, y: stepY(restStep(piece.value), staff) };
    const dot = {
      text: glyph('augmentationDot').text,
      x: x + (rest.advance + 0.3) * staff.space,
      y: stepY(5, staff),
    };
    return piece.dots === 1 ? [placed, dot] : [placed];
  });
}

interface Axis {
  readonly startX: number;
  readonly scale: number;
  readonly endX: number;
}

function chordsOf(
  content: BarContent,
  isFirst: boolean,
  axis: Axis,
  chordScale: number,
  staff: StaffPlace,
): readonly PlacedChord[] {
  const size = staff.chordSize * chordScale;
  return content.chords
    .filter(({ isChange, offset }) => isChange || (isFirst && offset === 0))
    .map(({ runs, offset }) => {
      const x = axis.startX + offset * axis.scale - halfHead(staff.space);
      const width = chordWidth(runs, size);
      const box = { x, y: staff.chordY - size * 0.95, width, height: size * 1.2 };
      return { runs, x, y: staff.chordY, size, box };
    });
}

/** A placed bar with its heads, whose stems and signs are drawn by the system. */
export interface PlacedBar {
  readonly layout: BarLayout;
  readonly heads: readonly PlacedHead[];
}

/**
 * @param x left edge of the bar
 * @param place which of the system's bars this is
 * @param next the bar that follows in the piece
 */
export function placeBar(
  content: BarContent,
  system: SystemBars,
  place: number,
  x: number,
  staff: StaffPlace,
  before: BarContent | undefined,
  next: BarContent | undefined,
): PlacedBar {
  const { space } = staff;
  const { width, pad, prefix } = system.bars[place]!;
  const { bar } = content;
  const startX = x + prefix + pad;
  const axis: Axis = {
    startX,
    scale: scaleOf(width - prefix, pad, bar.ticks, space),
    endX: x + width - pad / 2,
  };
  const changes =
    prefix > 0 ? changeGlyphs(content, before, x + 0.7 * space + repeatLead(content, space), staff) : [];
  const isDouble =
    content.endsChorus || (next !== undefined && (next.section !== null || next.keyChange !== null));
  return {
    layout: {
      index: bar.index,
      x,
      width,
      startX,
      scale: axis.scale,
      tick: bar.tick,
      ticks: bar.ticks,
      chords: chordsOf(content, place === 0, axis, system.chordScale, staff),
      glyphs: [...changes, ...restGlyphs(content, axis, staff)],
      closing: content.isLast ? 'final' : isDouble ? 'double' : 'single',
    },
    heads: content.heads.map((head) => ({
      ...head,
      x: startX + head.piece.offset * axis.scale,
      y: stepY(head.step, staff),
    })),
  };
}
