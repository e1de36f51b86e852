// One line of music placed: staff, notes, rows of fingering, beams and ties, at heights that nothing collides at.
import { ticksPerQuarter, numberOfBar } from '../music';
import { isOpenString, stringName } from '../instrument';
import type { Line } from '../pipeline/5-line';
import {
  changeGlyphs,
  meterGlyphs,
  placeBar,
  signatureGlyphs,
  stepY,
  type PlacedBar,
  type StaffPlace,
} from './bars';
import type { BarContent } from './contents';
import { beamGroups } from './durations';
import { glyph, textWidth } from './glyphs';
import { marksOf, type StemmedHead } from './heads';
import type { LayoutOptions, NoteLayout, PlacedGlyph, PlacedText, Sizes, SystemLayout } from './model';
import { carryMarks, deviceRow, positionBrackets, roleRow, showsString, type AxisNote } from './rows';
import { halfHead, signatureWidth, type SystemBars } from './spacing';
import { barStems, type BarStems } from './stems';
import { mostCurve, slurPaths, tiePaths } from './ties';

/** Everything a system is placed from. */
export interface SystemRequest {
  readonly index: number;
  readonly system: SystemBars;
  readonly contents: readonly BarContent[];
  readonly line: Line | null;
  /** How many times the form is played; more than one is told at the start of each. */
  readonly choruses: number;
  readonly space: number;
  readonly sizes: Sizes;
  readonly options: LayoutOptions;
}

interface Drawn {
  readonly bars: readonly PlacedBar[];
  readonly stems: readonly BarStems[];
}

/** Places and stems all bars on a staff whose top line is at `staff.top`. */
function drawBars({ system, contents }: SystemRequest, staff: StaffPlace): Drawn {
  let x = system.headWidth;
  const bars = system.bars.map(({ width }, place) => {
    const at = system.from + place;
    const placed = placeBar(contents[at]!, system, place, x, staff, contents[at - 1], contents[at + 1]);
    x += width;
    return placed;
  });
  const stems = bars.map(({ heads }, place) => {
    const { bar, grid } = contents[system.from + place]!;
    const groups = beamGroups(
      heads.map(({ piece }) => piece),
      grid,
      bar.meter,
    );
    return barStems(heads, groups, stepY(4, staff), staff.space);
  });
  return { bars, stems };
}

/** How far the notes reach above the top line and below the bottom line. */
function reach(
  { bars, stems }: Drawn,
  staff: StaffPlace,
): { readonly above: number; readonly below: number } {
  const bottom = stepY(0, staff);
  let above = 0;
  let below = 0;
  bars.forEach(({ heads }, place) =>
    heads.forEach((head, index) => {
      const stem = stems[place]!.stems[index];
      const sign = head.sign === null ? 0.55 : 1.8;
      // A figure stands on the stems' side, a curve on the other one; dots and digits of other rows keep clear of both.
      const figure = head.piece.triplet && stem ? (0.7 + glyph('tuplet3').top) * staff.space : 0;
      const isBowed =
        head.tiedTo || head.tiedFrom || head.isPulledOff || heads[index + 1]?.isPulledOff === true;
      const bow = isBowed ? mostCurve * staff.space : 0;
      const isUp = stem?.up ?? true;
      const tip = stem?.to ?? head.y;
      above = Math.max(
        above,
        staff.top - (head.y - sign * staff.space),
        staff.top - (tip - (isUp ? figure : 0)),
        isUp ? 0 : staff.top - (head.y - bow),
      );
      below = Math.max(
        below,
        head.y + 0.6 * staff.space - bottom,
        tip + (isUp ? 0 : figure) - bottom,
        isUp ? head.y + bow - bottom : 0,
      );
    }),
  );
  return { above, below };
}

const middle = (a: number, b: number): number => (a + b) / 2;

/** Notes of the system with their beat columns: to halfway between neighbours, at most half a beat to either side. */
function axisNotes({ bars }: Drawn, line: Line | null): readonly AxisNote[] {
  const firsts = bars.flatMap(({ heads, layout }) =>
    heads
      .filter(({ tiedFrom }) => !tiedFrom)
      .map(({ note, x }) => ({ note, x, half: layout.scale * (ticksPerQuarter / 2) })),
  );
  return firsts.flatMap(({ note: index, x, half }, place) => {
    const note = line?.notes[index];
    if (note === undefined) return [];
    const before = firsts[place - 1];
    const after = firsts[place + 1];
    const left = Math.max(x - half, before ? middle(before.x, x) : Number.NEGATIVE_INFINITY);
    const right = Math.min(x + half, after ? middle(x, after.x) : Number.POSITIVE_INFINITY);
    return [{ note, index, x, column: { x: left, width: right - left } }];
  });
}

function headGlyphs(request: SystemRequest, staff: StaffPlace): readonly PlacedGlyph[] {
  const first = request.contents[request.system.from]!;
  const { fifths } = first.bar.key;
  const { space } = staff;
  const clef = glyph('fClef');
  const afterClef = (clef.advance + 0.9) * space;
  const signature = signatureGlyphs(fifths, 0, afterClef, staff);
  const meterX = afterClef + signatureWidth(fifths, space) + (fifths === 0 ? 0 : 0.6 * space) + 0.9 * space;
  return [
    { text: clef.text, x: 0.3 * space, y: stepY(6, staff) },
    ...signature,
    ...(first.meter === null ? [] : meterGlyphs(first.meter, meterX, staff)),
  ];
}

function headingOf({ contents, system, choruses, sizes }: SystemRequest): PlacedText | null {
  const first = contents[system.from]!;
  const chorus = first.startsChorus && choruses > 1 ? `Chorus ${first.bar.chorus + 1}` : null;
  const parts = [chorus, first.section].filter((part) => part !== null);
  return parts.length === 0 ? null : { text: parts.join(' · '), x: 2, y: sizes.label };
}

/** How high signs stand, in parts of their size: chord symbols with their raised parts, and digits. */
const capHeight = { chord: 0.86, digit: 0.75 };
/** Pixels from a heading to the chord symbol beside it. */
const headingGap = 8;

/** A short heading stands over the clef, in the row of the chord symbols; a longer one has a row of its own. */
const headingFits = ({ text, x }: PlacedText, { system, sizes, space }: SystemRequest): boolean =>
  x + textWidth(text, sizes.label, 'serif') + headingGap <=
  system.headWidth + system.bars[0]!.pad - halfHead(space);

/** The figure 3 at the stem side of each group of triplets. */
function tupletFigures({ bars, stems }: Drawn, space: number): readonly PlacedGlyph[] {
  const figure = glyph('tuplet3');
  return bars.flatMap(({ heads }, place) => {
    const groups = new Map<number, number[]>();
    heads.forEach(({ piece }, index) => {
      if (!piece.triplet) return;
      const beat = Math.floor(piece.offset / ticksPerQuarter);
      groups.set(beat, [...(groups.get(beat) ?? []), index]);
    });
    return [...groups.values()].map((indices) => {
      const own = indices.flatMap((index) => stems[place]!.stems[index] ?? []);
      const up = own[0]?.up ?? true;
      const tips = own.map(({ to }) => to);
      const y = up ? Math.min(...tips) - 0.5 * space : Math.max(...tips) + (0.5 + figure.top) * space;
      const x = middle(heads[indices[0]!]!.x, heads[indices.at(-1)!]!.x) - (figure.advance / 2) * space;
      return { text: figure.text, x, y };
    });
  });
}

const stemmedHeads = ({ bars, stems }: Drawn): readonly StemmedHead[] =>
  bars.flatMap(({ heads }, place) =>
    heads.map((head, index) => ({
      head,
      stem: stems[place]!.stems[index]!,
      flagged: stems[place]!.flagged[index]!,
    })),
  );

/** Places one system. */
export function placeSystem(request: SystemRequest): SystemLayout {
  const { system, contents, line, space, sizes, options } = request;
  const heading = headingOf(request);
  const isBeside = heading !== null && headingFits(heading, request);
  const chordY = (heading === null || isBeside ? 0 : sizes.label * 1.5) + sizes.chord * capHeight.chord;
  const finger = chordY + sizes.finger * capHeight.digit + 5;
  const probe: StaffPlace = { space, top: 0, chordY, chordSize: sizes.chord };
  const { above, below } = reach(drawBars(request, probe), probe);
  const staff: StaffPlace = { ...probe, top: finger + 5 + Math.max(space, above) };
  const drawn = drawBars(request, staff);
  const bottom = stepY(0, staff);
  const string = bottom + Math.max(space, below) + sizes.numeral * capHeight.digit + 4;
  const position = string + sizes.numeral * capHeight.digit + 5;
  const last = drawn.bars.at(-1)!.layout;
  const endX = last.x + last.width;
  const next = contents[system.to + 1];
  const warning =
    system.warningWidth > 0 && next ? changeGlyphs(next, contents[system.to], endX + 0.7 * space, staff) : [];
  const notes = axisNotes(drawn, line);
  const told = options.showDevices === true && line ? line.devices : [];
  const devices = deviceRow(told, notes, position + 14, sizes.role, endX);
  const underPosition = position + (devices.height > 0 ? 8 + devices.height : 0);
  const role = underPosition + sizes.role + 8;
  const roles = options.showRoles ? roleRow(notes, role, sizes.role) : null;
  const heads = stemmedHeads(drawn);
  const byNote = new Map<number, StemmedHead[]>();
  for (const one of heads) byNote.set(one.head.note, [...(byNote.get(one.head.note) ?? []), one]);
  const tied = [...byNote].filter(([, own]) => own[0]!.head.tiedFrom);
  const { stringText = (number) => stringName(options.instrument, number) } = options;

  const placed = notes.map((one, place): NoteLayout => {
    const own = byNote.get(one.index)!;
    const { string: stringNumber, finger: digit } = one.note.placement;
    return {
      index: one.index,
      x: one.x,
      y: own[0]!.head.y,
      column: one.column,
      ...marksOf(own, staff),
      isOpen: isOpenString(one.note.placement),
      finger: { text: digit, x: one.x, y: finger },
      string: showsString(notes, place) ? { text: stringText(stringNumber), x: one.x, y: string } : null,
      role: roles?.roles[place] ?? null,
    };
  });
  const beams = drawn.stems.flatMap((bar) => bar.beams).join('');
  const ties = tiePaths(heads, system.headWidth, endX, space) + slurPaths(heads, space);
  return {
    index: request.index,
    firstBar: system.from,
    lastBar: system.to,
    width: endX + system.warningWidth + 2,
    height: (roles && notes.length > 0 ? role + roles.height - sizes.role : underPosition) + 6,
    headEnd: system.headWidth,
    staffTop: staff.top,
    staffBottom: bottom,
    rows: { chord: chordY, finger, string, position, role },
    head: [...headGlyphs(request, staff), ...warning],
    heading: heading && isBeside ? { ...heading, y: chordY } : heading,
    barNumber: { text: String(numberOfBar(system.from)), x: 2, y: staff.top - 0.9 * space },
    bars: drawn.bars.map(({ layout }) => layout),
    notes: placed,
    tiedHeads: tied.map(([index, own]) => ({
      index,
      isOpen: line?.notes[index]?.placement.finger === '0',
      ...marksOf(own, staff),
    })),
    beams: beams === '' ? null : beams,
    ties: ties === '' ? null : ties,
    tuplets: tupletFigures(drawn, space),
    brackets: positionBrackets(notes, position, sizes.numeral, options.positionNumeral),
    devices: devices.devices,
    carries: carryMarks(notes, position - sizes.numeral * 0.55, endX),
  };
}
