// One line of music on paper, from the layout that the screen draws.
import {
  barLinesOf,
  bracketLines,
  carryArrows,
  deviceLines,
  engraving,
  raisedBy,
  raisedGap,
  raisedSize,
  staffLinesOf,
  type NoteMarks,
  type PlacedChord,
  type PlacedText,
  type RoleText,
  type Sizes,
  type SystemLayout,
} from '../notation';
import { element, escaped } from './elements';
import { looks } from './looks';
import { marks } from './marks';

type Look = (typeof looks)[keyof typeof looks];

/** Font size of music glyphs: a staff is an em high (SMuFL). */
const em = 4;
const lineHeight = 1.1;

const path = (look: Look, d: string | null, width?: number): string =>
  d === null || d === ''
    ? ''
    : element('path', { ...look, ...(width === undefined ? {} : { 'stroke-width': width.toFixed(2) }), d });

const text = (look: Look, { text: content, x, y }: PlacedText, size: number): string =>
  element('text', { ...look, x, y, 'font-size': size }, escaped(content));

function chord({ runs, x, y, size }: PlacedChord): string {
  const parts = runs.map((run, place) =>
    element(
      'tspan',
      {
        x: place === 0 ? x : undefined,
        dx: run.raised ? size * raisedGap : undefined,
        y: run.raised ? y - size * raisedBy : y,
        'font-size': run.raised ? size * raisedSize : size,
      },
      escaped(run.text),
    ),
  );
  return element('text', looks.chord, parts.join(''));
}

const lines = (look: Look, { lines: rows, x, y }: RoleText, size: number): string =>
  rows.map((row, at) => text(look, { text: row, x, y: y + at * lineHeight * size }, size)).join('');

/** The system's elements, its top left corner at the origin. */
export function systemMarks(system: SystemLayout, space: number, sizes: Sizes): string {
  const bars = barLinesOf(system, space);
  const heads: readonly NoteMarks[] = [...system.tiedHeads, ...system.notes];
  const glyphs = [
    ...system.head,
    ...system.tuplets,
    ...system.bars.flatMap((bar) => bar.glyphs),
    ...heads.flatMap((head) => head.glyphs),
  ];
  const strokes = (pick: (head: NoteMarks) => string | null): string =>
    heads.map((head) => pick(head) ?? '').join('');
  return [
    path(looks.staff, staffLinesOf(system, space), engraving.staffLine * space),
    path(looks.barLine, bars.thin, engraving.thinBar * space),
    path(looks.barLine, bars.thick, engraving.thickBar * space),
    marks(glyphs, space * em),
    system.heading === null ? '' : text(looks.heading, system.heading, sizes.label),
    text(looks.small, system.barNumber, sizes.label - 2),
    ...system.bars.flatMap((bar) => bar.chords.map(chord)),
    path(
      looks.stem,
      strokes(({ ledgers }) => ledgers),
      engraving.ledgerLine * space,
    ),
    path(
      looks.stem,
      strokes(({ stems }) => stems),
      engraving.stem * space,
    ),
    path(looks.music, `${system.beams ?? ''}${system.ties ?? ''}`),
    ...system.notes.map(({ finger }) => text(looks.finger, finger, sizes.finger)),
    ...system.notes.map(({ string }) => (string === null ? '' : text(looks.string, string, sizes.numeral))),
    ...system.brackets.map(({ numeral }) => text(looks.position, numeral, sizes.numeral)),
    path(looks.bracket, bracketLines(system.brackets)),
    path(looks.carry, carryArrows(system.carries)),
    path(looks.device, deviceLines(system.devices)),
    ...system.devices.map(({ name }) => (name === null ? '' : lines(looks.deviceName, name, sizes.role))),
    ...system.notes.map(({ role }) => (role === null ? '' : lines(looks.small, role, sizes.role))),
  ].join('');
}
