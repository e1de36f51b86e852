// Every way this hand can hold a note on this bass.
import frameTable from '../../shared/hand/frames.json' with { type: 'json' };
import { semitones, soundingMidi } from '../music';
import { spanShare, spanShares } from './hand';
import { handPosition } from './positions';
import {
  fingers,
  frames,
  type Finger,
  type Frame,
  type Hand,
  type HandPosition,
  type Instrument,
  type Placement,
} from './types';

interface FrameFinger {
  readonly frame: Frame;
  readonly finger: Finger;
  readonly offset: number;
}

const framesByPosition = frameTable.rows.map((row) => ({
  frame: frames.find((name) => name === row.frame)!,
  from: row.positions[0]!,
  to: row.positions[1]!,
  offsets: Object.entries(row.fingers).map(([finger, offset]) => ({
    finger: fingers.find((name) => name === finger)!,
    offset,
  })),
}));

const extendedWidth = Math.max(
  ...framesByPosition
    .filter((row) => row.frame === 'extended')
    .flatMap((row) => row.offsets.map((one) => one.offset)),
);

/** Fingers that can play in a position, with the semitones of each from the first finger, for this hand. */
export function fingersIn(
  instrument: Instrument,
  hand: Hand,
  position: HandPosition,
): readonly FrameFinger[] {
  return framesByPosition
    .filter((row) => position >= row.from && position <= row.to)
    .flatMap((row) => {
      const widest = Math.max(...row.offsets.map((one) => one.offset));
      const wholeFrameFits = spanShare(instrument, hand, position, widest) <= spanShares.practical;
      return row.offsets
        .filter(({ finger, offset }) => {
          if (finger === 'T') return position + offset >= frameTable.thumbFrom;
          // Finger 3 of the extended frame needs the whole frame; in the closed one each finger stands for itself.
          if (row.frame === 'extended') return wholeFrameFits;
          return spanShare(instrument, hand, position, offset) <= spanShares.practical;
        })
        .map(({ finger, offset }) => ({ frame: row.frame, finger, offset }));
    });
}

/**
 * All placements up to a highest position, in a fixed order (string, then position, then stop): the order breaks ties in
 * the solver. An open string appears once for each place the hand can be while it rings.
 */
export function allPlacements(
  instrument: Instrument,
  hand: Hand,
  range: { readonly highestPosition: number },
): readonly Placement[] {
  const result: Placement[] = [];
  for (const string of instrument.strings) {
    for (let semitone = 1; semitone <= range.highestPosition; semitone++) {
      const position = handPosition(semitone);
      const add = (finger: Finger, frame: Frame, stop: number): void => {
        const midi = soundingMidi(string.open + stop);
        result.push({
          id: result.length,
          string: string.number,
          stop: semitones(stop),
          finger,
          position,
          frame,
          midi,
        });
      };
      add('0', 'open', 0);
      for (const { finger, frame, offset } of fingersIn(instrument, hand, position)) {
        const stop = semitone + offset;
        if (stop <= instrument.highestStop) add(finger, frame, stop);
      }
    }
  }
  return result;
}

/** True when a finger that holds a stop in this position does so within a frame that this hand can take there. */
export function isHoldable(instrument: Instrument, hand: Hand, placement: Placement): boolean {
  const string = instrument.strings.find((one) => one.number === placement.string);
  if (!string || string.open + placement.stop !== placement.midi) return false;
  if (placement.finger === '0') return placement.stop === 0;
  return fingersIn(instrument, hand, placement.position).some(
    ({ finger, offset }) => finger === placement.finger && placement.position + offset === placement.stop,
  );
}

/** Semitones that the hand is spread over to play: 0 for open strings, the whole frame where the hand is extended. */
export function reachOf(placement: Placement): number {
  if (placement.frame === 'extended') return extendedWidth;
  return placement.finger === '0' ? 0 : placement.stop - placement.position;
}
