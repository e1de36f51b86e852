// Who plays on what, under which limits: what a fingering must be checked against, so that a file says it all.
import { defaultMover, defaultWay, stringNumeral, type Hand, type Instrument } from '../instrument';
import { plainPitch, scientificName, type SoundingMidi } from '../music';
import type { Limits } from '../pipeline/3-candidates';
import { rounded } from './names';
import type { PositionNamer } from './position-marks';

/** What a line was fingered for. */
export interface FingeredFor {
  readonly instrument: Instrument;
  readonly hand: Hand;
  readonly limits: Limits;
  /** The usual way of a given line; ours when left out. */
  readonly way?: 'usual' | 'open';
}

type JsonObject = Readonly<Record<string, unknown>>;

const pitchOf = (midi: SoundingMidi): string => scientificName(plainPitch(midi));

const bassObject = ({ id, name, length, heel, highestStop, ...bass }: Instrument): JsonObject => ({
  id,
  name,
  /** mm */
  length: rounded(length, 1),
  /** Semitones of the first finger at the heel. */
  heel,
  highestStop,
  tuning: bass.strings.map(({ number, open }) => ({
    string: stringNumeral(number),
    midi: open,
    name: pitchOf(open),
  })),
  fretted: bass.fretted ?? false,
  extension: bass.extension
    ? { string: stringNumeral(bass.extension.string), lowest: bass.extension.lowest }
    : null,
});

const handObject = ({ span, way = defaultWay, mover = defaultMover }: Hand): JsonObject => ({
  /** mm */
  span: rounded(span, 1),
  way: way.id,
  from: way.from ?? null,
  /** s, s a bit, cents, share of the note. */
  moves: {
    intercept: mover.intercept,
    slope: mover.slope,
    tolerance: mover.tolerance,
    bareShare: mover.bareShare,
  },
});

const limitsObject = (limits: Limits, naming: PositionNamer): JsonObject => ({
  avoid: limits.barredPositions.map((position) => naming.positionName(position)),
  avoidStrings: (limits.barredStrings ?? []).map(stringNumeral),
  lowest: limits.lowest ?? null,
  highest: limits.highest ?? null,
  highestStop: limits.highestStop ?? null,
  relaxedOnly: limits.relaxedOnly ?? false,
  stay: limits.stay ?? null,
  regionShares: limits.shares ?? [],
  spread: limits.spread ?? 0,
  place: limits.place?.id ?? null,
  hardest: limits.hardest ?? null,
});

/** Bass, hand, limits and way, as part of the JSON of a line. */
export const playerObject = (
  { instrument, hand, limits, way = 'open' }: FingeredFor,
  naming: PositionNamer,
): JsonObject => ({
  bass: bassObject(instrument),
  hand: handObject(hand),
  limits: limitsObject(limits, naming),
  way,
});
