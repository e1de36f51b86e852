// Every word of the hand report.
import type { ArmZone, Region } from '../../instrument';
import { effortText, type HandReport, type HoldEase } from '../../pipeline';
import type { PositionName } from '../fingerboard';
import type { CountKind } from './figures';

/** "7", "7.5": a figure per chorus need not be whole. */
export const figureText = (value: number): string =>
  Number.isInteger(value) ? String(value) : value.toFixed(1);

const count = (value: number, one: string, many: string): string =>
  `${figureText(value)} ${value === 1 ? one : many}`;

/** "21.8 s" or "2 min 11 s". */
export function durationText(seconds: number): string {
  if (seconds < 60) return `${seconds.toFixed(1)} s`;
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)} min ${whole % 60} s`;
}

export const timeWords: Readonly<Record<Region | 'open', string>> = {
  low: 'low',
  middle: 'middle',
  'neck block': 'neck block',
  octave: 'octave, thumb',
  open: 'open, hand free',
};

export const countWords: Readonly<Record<CountKind, string>> = {
  bareShifts: 'bare shifts',
  coveredShifts: 'covered shifts',
  pivots: 'pivots',
  stretches: 'stretches',
  sameFingerShifts: 'same-finger shifts',
  crossings: 'string crossings',
  heelJumps: 'jumps over the heel',
};

/** How the arm reaches the strings. */
export const armWords: Readonly<Record<ArmZone, string>> = {
  'off the board': 'arm up at the scroll',
  'behind the neck': 'arm behind the neck',
  'over the shoulder': 'arm over the shoulder',
  'thumb on the string': 'thumb on the string',
};

export const holdWords: Readonly<Record<HoldEase, string>> = {
  relaxed: 'relaxed',
  comfortable: 'comfortable',
  practical: 'stretched',
};

/** "1.24 m" for a way in mm. */
export const metresText = (value: number): string =>
  value < 1000 ? `${Math.round(value)} mm` : `${(value / 1000).toFixed(2)} m`;

/** "0.43 m in all, 86 mm a shift, 120 mm at most". */
export const distanceText = ({ total, mean, longest }: HandReport['bareDistance']): string =>
  total === 0
    ? '0 mm'
    : `${metresText(total)} in all, ${Math.round(mean)} mm a shift, ${Math.round(longest)} at most`;

/** What a kind of move is, for whoever does not know our words. */
export const countNotes: Readonly<Record<CountKind, string>> = {
  bareShifts: 'between two stopped notes',
  coveredShifts: 'while an open string rings, or in a rest',
  pivots: 'the thumb stays, the hand turns',
  stretches: 'wider than comfortable for this hand',
  sameFingerShifts: 'one finger slides along one string',
  crossings: 'from string to string',
  heelJumps: 'the thumb leaves the neck or comes back to it',
};

/** "11 beats in the middle, from bar 3". */
export function longestStayText(stay: HandReport['longestStay']): string {
  if (!stay) return words.noStay;
  const where = {
    low: 'low',
    middle: 'in the middle',
    'neck block': 'at the neck block',
    octave: 'at the octave',
  };
  return `${count(stay.beats, 'beat', 'beats')} ${where[stay.region]}, from bar ${stay.fromBar}`;
}

/** "bar 8, beat 2: 4 semitones, III½ to IV, 110 mm; at the edge", in seconds once the player has calibrated. */
export function hardestText(
  hardest: HandReport['hardestMove'],
  name: PositionName,
  isCalibrated: boolean,
): string {
  if (!hardest) return words.noMove;
  const { bar, beat, semitones, move } = hardest;
  const size = count(Math.abs(semitones), 'semitone', 'semitones');
  return (
    `bar ${bar}, beat ${beat}: ${size}, ${name(move.from)} to ${name(move.to)}, ${Math.round(move.distance)} mm; ` +
    effortText(move, isCalibrated)
  );
}

/** "86 mm, at the edge, bar 8". */
export function hardestShort(hardest: HandReport['hardestMove'], isCalibrated: boolean): string {
  if (!hardest) return words.noMove;
  const { bar, move } = hardest;
  return `${Math.round(move.distance)} mm, ${effortText(move, isCalibrated)}, bar ${bar}`;
}

/*
 * The cautions: prevalence and causes of playing-related trouble among bassists cannot be stated (Online Journal of Bass
 * Research 14, 2022), and variety is not shown to protect. The breaks are expert opinion.
 */
export const words = {
  title: 'Hand report',
  where: 'Where the hand is',
  moves: 'How it moves',
  percent: '%',
  share: 'share',
  aChorus: 'a chorus',
  beats: (value: number): string => count(value, 'beat', 'beats'),
  beatsAChorus: 'beats a chorus',
  minutesAnHour: 'minutes an hour',
  anHour: 'an hour',
  tempo: (tempo: number, chorus: string): string =>
    `At ${Math.round(tempo)} a chorus lasts ${chorus}; the hour is this line played over and over.`,
  longestStay: 'longest stay',
  hardestMove: 'hardest move',
  noStay: 'no stopped note',
  noMove: 'the hand does not move',
  byPosition: 'By position',
  byArm: 'By arm',
  holds: 'Holds',
  bareWay: 'distance moved between stopped notes',
  coveredWay: 'distance moved under open strings',
  lowShare: 'low',
  bothWays: 'Beside the usual way',
  percentOf: (share: number): string => `${Math.round(share * 100)} %`,
  notes: (value: number): string => count(value, 'note', 'notes'),
  position: 'position',
  empty: 'No notes: nothing to report.',
  cautionsTitle: 'What this is, and is not',
  cautions: [
    'An estimate of geometry and time, from the string length and the span that were entered. It is not an estimate of injury risk, and variety is not shown to protect.',
    'Stop when something hurts. Pain, numbness, tingling or weakness that lasts or returns is for a clinician; posture and fingering are for a teacher.',
    'Rest often: 5 minutes after 25, or 10 in an hour. That is expert opinion, not measurement.',
  ],
} as const;
