// Bass, hand and where the hand may be, as they are asked for on the command line: the same for every command that fingers.
import {
  bassOf,
  defaultHand,
  findInstrument,
  findLivingPlace,
  instruments,
  livingPlaces,
  makeHand,
  parsePosition,
  spanRange,
  ways,
  type FingeringWay,
  type Hand,
  type Instrument,
  type LivingPlace,
} from '../instrument';
import type { Limits } from '../pipeline';
import { orUsage } from './options';

export const playerOptions = {
  bass: { type: 'string' },
  length: { type: 'string' },
  heel: { type: 'string' },
  tuning: { type: 'string' },
  span: { type: 'string' },
  fingers: { type: 'string' },
  place: { type: 'string' },
  gentle: { type: 'boolean' },
} as const;

export interface PlayerValues {
  readonly bass?: string | undefined;
  readonly length?: string | undefined;
  readonly heel?: string | undefined;
  readonly tuning?: string | undefined;
  readonly span?: string | undefined;
  readonly fingers?: string | undefined;
  readonly place?: string | undefined;
  readonly gentle?: boolean | undefined;
}

export interface PlayerWish {
  readonly instrument: Instrument;
  readonly hand: Hand;
  /** The place to live, and whether a hard move is out. */
  readonly where: Pick<Limits, 'place' | 'hardest'>;
}

export const playerUsage = `Bass and hand, for walk, finger, scale, ways, lesson and round:
  [--bass ID] [--length MM] [--heel D|Eb] [--tuning "E1 A1 D2 G2"] [--span MM] [--fingers WAY[@POSITION]]
  [--place ${livingPlaces.map(({ id }) => id).join('|')}] [--gentle]
--bass is one of ${instruments.map(({ id }) => id).join(', ')};
WAY one of ${ways.map(({ id }) => id).join(', ')}. --gentle asks for no single hard move: no shift needs more than its
time, and where the notes force one to, as little more as can be.`;

const names = (ids: readonly string[]): string => ids.join(', ');

function heelOf(text: string): number | undefined {
  const known: Readonly<Record<string, number>> = { D: 7, Eb: 8, 'E♭': 8 };
  return known[text] ?? (/^\d+$/.test(text) ? Number(text) : undefined);
}

function bassWish({ bass, length, heel, tuning }: PlayerValues): Instrument | string {
  const id = bass ?? instruments[0]!.id;
  if (!findInstrument(id)) return `--bass takes ${names(instruments.map((one) => one.id))}, not "${id}"`;
  const heelStop = heel === undefined ? null : heelOf(heel);
  if (heelStop === undefined) return `--heel takes D or Eb, not "${heel}"`;
  const { instrument, problems } = bassOf({
    id,
    length: length === undefined ? null : Number(length),
    heel: heelStop,
    tuning: tuning ?? null,
  });
  return problems[0] ?? instrument;
}

function wayWish(text: string): FingeringWay | string {
  const [name = '', place, ...more] = text.split('@');
  const way = ways.find(({ id }) => id === name.trim());
  const from = place === undefined ? undefined : parsePosition(place);
  if (!way || more.length > 0 || (place !== undefined && (from === undefined || !way.chosen)))
    return `--fingers takes ${names(ways.map(({ id }) => id))}, some of them with a position such as 1-2-3-4@III, not "${text}"`;
  return { id: way.id, ...(from === undefined ? {} : { from }) };
}

function handWish({ span, fingers }: PlayerValues): Hand | string {
  const { least, most } = spanRange;
  const size = span === undefined ? defaultHand.span : Number(span);
  if (!(size >= least && size <= most))
    return `--span takes a number from ${least} to ${most}, not "${span}"`;
  if (fingers === undefined) return makeHand(size);
  const way = wayWish(fingers);
  return typeof way === 'string' ? way : { ...makeHand(size), way };
}

function placeWish(text: string | undefined): LivingPlace | null | string {
  if (text === undefined) return null;
  return findLivingPlace(text) ?? `--place takes ${names(livingPlaces.map(({ id }) => id))}, not "${text}"`;
}

/** The player of a command line, or a sentence on what is wrong. */
export function playerOf(values: PlayerValues): PlayerWish | string {
  const instrument = bassWish(values);
  if (typeof instrument === 'string') return instrument;
  const hand = handWish(values);
  if (typeof hand === 'string') return hand;
  const place = placeWish(values.place);
  if (typeof place === 'string') return place;
  const way = values.fingers === undefined && place?.way ? { way: { id: place.way } } : {};
  return {
    instrument,
    hand: { ...hand, ...way },
    where: { ...(place ? { place } : {}), ...(values.gentle ? { hardest: 'gentle' as const } : {}) },
  };
}

/** @throws UsageError */
export const playerWish = (values: PlayerValues): PlayerWish => orUsage(playerOf(values));
