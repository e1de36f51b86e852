// Words for changing a line: bars drawn anew or kept, ways tried at a beat, starred takes, limits in force.
import type { BarNumber } from '../../music';
import type { EndingWish, StayPlace } from '../../pipeline';
import type { Region } from '../../instrument';

/** A difference of costs in thousandths: "1.2 more than", "0.4 less than". */
export const differenceText = (difference: number): string =>
  `${(Math.abs(difference) / 1000).toFixed(1)} ${difference < 0 ? 'less' : 'more'} than`;

const bars = (from: BarNumber, to: BarNumber): string => (from === to ? `Bar ${from}` : `Bars ${from}–${to}`);

export const regionWords: Readonly<Record<Region, string>> = {
  low: 'low',
  middle: 'middle',
  'neck block': 'neck block',
  octave: 'octave',
};

/** Where a longest stay may be a limit. */
export const stayPlaceWords: Readonly<Record<StayPlace, string>> = {
  low: 'the low region',
  middle: 'the middle region',
  'neck block': 'the neck block',
  octave: 'the octave',
  any: 'any one region',
};

const stayWords: Readonly<Record<StayPlace, string>> = { ...regionWords, any: 'in one region' };

export const endingWords: Readonly<Record<EndingWish, string>> = {
  round: 'leads back to the top',
  final: 'ends on the root',
  tag: 'tags the last phrase',
};

export const editing = {
  bars: {
    title: bars,
    redraw: 'New notes here',
    keep: (bars: number): string => (bars === 1 ? 'Hold this bar' : 'Hold these bars'),
    letGo: 'Let go',
    kept: 'held',
    keptHint: 'Held: no new take changes it.',
    hint: 'Choose more bars by their chord symbols.',
    clear: 'Clear the choice',
  },
  ways: {
    pin: 'Pin this way',
    leave: 'Leave it',
    working: 'Working out its route…',
    none: 'There is no line through it with the bars around it as they are.',
    costs: (difference: string): string =>
      `With the bars around it as they are it costs ${difference} what is played now.`,
    same: 'This is how it is played now.',
    hint: 'The dashed route is the way the line would take.',
    root: 'Root here',
    open: 'Open here',
    pinned: { root: 'the root', open: 'an open string', stopped: 'no open string' },
    pinnedAs: (what: string): string => `Pinned: ${what}.`,
  },
  open: {
    show: 'Show the route without it',
    hide: 'Hide that route',
    costs: (difference: string): string =>
      `With the bars around it as they are, the route without it costs ${difference} what is played now.`,
    shifts: (count: number): string =>
      count === 0
        ? 'It needs no more bare shifts.'
        : count > 0
          ? `It needs ${count} more bare ${count === 1 ? 'shift' : 'shifts'}.`
          : `It needs ${-count} bare ${count === -1 ? 'shift' : 'shifts'} fewer.`,
  },
  stars: {
    title: 'Kept takes',
    star: 'Keep this take',
    none: 'A kept take stays with its notes, whatever you change later.',
    open: 'Play this one',
    compare: 'Compare',
    compared: 'Stop comparing',
    remove: 'Remove',
    rename: 'Name of the take',
    name: (seed: number, redrawn: number): string =>
      `Take ${seed}${redrawn > 0 ? `, new notes ${redrawn}×` : ''}`,
    of: (action: string, name: string): string => `${action}: ${name}`,
    figures: 'Side by side',
    mine: 'shown',
    row: {
      bare: 'bare shifts',
      covered: 'covered shifts',
      low: 'low region',
      open: 'open strings',
      stay: 'longest stay',
      pressure: 'hardest move, semitones',
    },
    working: 'Working it out…',
    impossible: 'It no longer fits these changes.',
    beats: (count: number): string => `${count} ${count === 1 ? 'beat' : 'beats'}`,
  },
  legend: {
    label: 'Two lines',
    mine: 'as played now',
    way: 'the way that is tried',
    stopped: 'without the open string',
    working: 'is worked out…',
    impossible: 'cannot be had',
    off: 'Stop comparing',
    key: 'Esc',
  },
  line: {
    title: 'Rhythm',
    feel: 'Feel',
    own: (feel: string): string => `as written (${feel})`,
    ending: 'Last chorus',
  },
  limits: {
    inForce: 'In force',
    lift: 'Lift all limits',
    remove: (what: string): string => `Lift: ${what}`,
    regions: 'Regions',
    wholeRegion: (name: string): string => `the ${name} region`,
    reach: 'Range',
    lowest: 'Lowest note',
    highest: 'Highest note',
    free: 'no limit',
    highestStop: 'Highest stop',
    stopOf: (semitones: number): string => (semitones === 12 ? 'the octave' : `${semitones} semitones up`),
    strings: 'Strings',
    notUsed: 'not used',
    hand: 'Hand',
    relaxed: 'Only what a relaxed hand can hold',
    shares: 'Share of the beats',
    shareOf: (name: string): string => `In the ${name} region at most`,
    anyShare: 'any share',
    spread: 'Of the stopped notes, low, middle and neck block each have at least',
    percent: (share: number): string => `${Math.round(share * 100)} %`,
    position: (name: string): string => `${name} barred`,
    positions: (count: number): string => `${count} positions barred`,
    stay: (place: StayPlace, beats: number): string => `${stayWords[place]} for at most ${beats} beats`,
    string: (name: string): string => `string ${name} not used`,
    below: (note: string): string => `nothing below ${note}`,
    above: (note: string): string => `nothing above ${note}`,
    stop: (text: string): string => `no stop above ${text}`,
    relaxedOnly: 'relaxed span only',
    share: (name: string, percent: string): string => `${name} region at most ${percent}`,
    spreadInForce: (percent: string): string => `each region at least ${percent}`,
    locked: (from: BarNumber): string => `bar ${from} held`,
    pin: (bar: BarNumber, beat: number): string => `bar ${bar}, beat ${beat} pinned`,
  },
} as const;
