// Ready-made limits, and the positions a player can bar one by one.
import { handPosition, namedPositions, type HandPosition } from '../instrument';
import { studyRange, type Study } from './document';

export const limitPresets = [
  'nothing barred',
  'no half position',
  'no half or II',
  'below the octave',
] as const;
export type LimitPreset = (typeof limitPresets)[number];

/** The highest position with a numeral of its own. */
const highestNamed = namedPositions.at(-1) ?? handPosition(1);

/** Positions above the named ones, with the thumb on the string. */
export const thumbPositions: readonly HandPosition[] = Array.from(
  { length: studyRange.position.most - highestNamed },
  (_, i) => handPosition(highestNamed + 1 + i),
);

const barredBy: Readonly<Record<LimitPreset, readonly HandPosition[]>> = {
  'nothing barred': [],
  'no half position': [handPosition(1)],
  'no half or II': [handPosition(1), handPosition(3)],
  'below the octave': [highestNamed, ...thumbPositions],
};

export const barredPositionsOf = (preset: LimitPreset): readonly HandPosition[] => barredBy[preset];

/** The preset a study's limits are, null when they are none of them. */
export const presetOf = (study: Pick<Study, 'barred'>): LimitPreset | null =>
  limitPresets.find((preset) => {
    const positions = barredBy[preset];
    return (
      positions.length === study.barred.length &&
      positions.every((position, i) => position === study.barred[i])
    );
  }) ?? null;

/** True when every thumb position is barred. */
export const isThumbBarred = (study: Pick<Study, 'barred'>): boolean =>
  thumbPositions.every((position) => study.barred.includes(position));

/** Bars all thumb positions, or allows them again. */
export const withThumb = (study: Pick<Study, 'barred'>, barred: boolean): readonly HandPosition[] => [
  ...study.barred.filter((position) => position <= highestNamed),
  ...(barred ? thumbPositions : []),
];
