// Ways of fingering: which fingers a hand puts down in a position, and how far apart.
import frameTable from '../../shared/hand/frames.json' with { type: 'json' };
import wayTable from '../../shared/hand/ways.json' with { type: 'json' };
import { spanShare, spanShares } from './hand';
import {
  fingers,
  frames,
  wayIds,
  type Finger,
  type FingeringWay,
  type Frame,
  type Hand,
  type HandPosition,
  type Instrument,
  type WayId,
} from './types';

/** A finger that can play, with its semitones above the first. */
export interface FrameFinger {
  readonly frame: Frame;
  readonly finger: Finger;
  readonly offset: number;
}

type Offsets = readonly { readonly finger: Finger; readonly offset: number }[];

/** A frame as one way uses it. */
interface FrameUse {
  readonly frame: Frame;
  readonly side: 'all' | 'below' | 'above';
  readonly positions: readonly [from: number, to: number];
  readonly offsets: Offsets;
  /** What is left of an extended frame where the span does not reach, in the closed one. */
  readonly otherwise: Offsets;
}

/** A way of fingering as data. */
export interface WayRow {
  readonly id: WayId;
  /** For the player to choose by. */
  readonly words: string;
  /** The position that the player chooses, null where there is none to choose. */
  readonly chosen: { readonly default: number; readonly least: number; readonly most: number } | null;
  readonly uses: readonly FrameUse[];
}

const isFinger = (name: string): name is Finger => (fingers as readonly string[]).includes(name);

const offsetsOf = (row: Readonly<Record<string, number | undefined>>): Offsets =>
  Object.entries(row).flatMap(([finger, offset]) =>
    isFinger(finger) && offset !== undefined ? [{ finger, offset }] : [],
  );

const sides = ['all', 'below', 'above'] as const;

interface UseData {
  readonly frame: string;
  readonly side: string;
  readonly fingers?: Readonly<Record<string, number>>;
  readonly otherwise?: Readonly<Record<string, number>>;
}

function useOf(row: UseData): FrameUse {
  const shape = frameTable.rows.find((one) => one.frame === row.frame)!;
  return {
    frame: frames.find((name) => name === row.frame)!,
    side: sides.find((name) => name === row.side)!,
    positions: [shape.positions[0]!, shape.positions[1]!],
    offsets: offsetsOf(row.fingers ?? shape.fingers),
    otherwise: offsetsOf(row.otherwise ?? {}),
  };
}

/** All ways there are, in the order of the data. */
export const ways: readonly WayRow[] = wayTable.rows.map((row) => ({
  id: wayIds.find((name) => name === row.id)!,
  words: row.words,
  chosen: row.chosen,
  uses: row.frames.map((use: UseData) => useOf(use)),
}));

const defaultRow = ways.find((way) => way.id === wayTable.default)!;

export const defaultWay: FingeringWay = { id: defaultRow.id };

/** The first stop that the thumb plays, where a way says nothing else. */
const { thumbFrom } = frameTable;

/** The highest position below the octave, whose frames a fretted neck keeps all the way up. */
const lastClosed = Math.max(
  ...frameTable.rows.filter((row) => row.frame === 'closed').map((row) => row.positions[1]!),
);

function isUsed({ side, frame, positions }: FrameUse, position: number, chosen: number | undefined): boolean {
  const [from, to] = positions;
  if (chosen === undefined || side === 'all') return position >= from && position <= to;
  if (side === 'below') return position < chosen && position <= to;
  // A thumb that is chosen comes up below the octave, too.
  return position >= chosen && (frame === 'thumb' || position <= to);
}

/** The position that a way changes at, within what the way can do. */
const chosenFrom = (
  { default: own, least, most }: NonNullable<WayRow['chosen']>,
  from: HandPosition | undefined,
): number => Math.min(Math.max(from ?? own, least), most);

/** Fingers that can play in a position, with the semitones of each from the first finger, for this hand. */
export function fingersIn(
  instrument: Instrument,
  hand: Hand,
  position: HandPosition,
): readonly FrameFinger[] {
  const asked = ways.find((one) => one.id === hand.way?.id) ?? defaultRow;
  // There is no thumb position on a fretted neck.
  const row = instrument.fretted && asked.id === 'thumb' ? defaultRow : asked;
  const chosen = row.chosen ? chosenFrom(row.chosen, hand.way?.from) : undefined;
  const place = instrument.fretted ? Math.min(position, lastClosed) : position;
  const lowestThumb = Math.min(thumbFrom, row.id === 'thumb' ? (chosen ?? thumbFrom) : thumbFrom);
  const reaches = (width: number): boolean =>
    spanShare(instrument, hand, position, width) <= spanShares.practical;
  return row.uses
    .filter((use) => !(instrument.fretted && use.frame === 'thumb') && isUsed(use, place, chosen))
    .flatMap((use) => {
      const { frame, offsets, otherwise } = use;
      // The extended frame is held as a whole or not at all; in the closed one each finger stands for itself.
      const fits = frame !== 'extended' || reaches(Math.max(...offsets.map((one) => one.offset)));
      return (fits ? offsets : otherwise)
        .filter(({ finger, offset }) =>
          finger === 'T' ? position + offset >= lowestThumb : frame === 'extended' || reaches(offset),
        )
        .map(({ finger, offset }) => ({ frame: fits ? frame : 'closed', finger, offset }) as const);
    });
}
