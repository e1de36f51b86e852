// Placements one by one, written out by hand: what there is, in which order, and what a hand cannot hold.
import { describe, expect, it } from 'vitest';
import {
  allPlacements,
  defaultHand,
  defaultInstrument,
  fingersIn,
  handPosition,
  instruments,
  isHoldable,
  makeHand,
  reachOf,
  type Hand,
  type Instrument,
  type Placement,
  type WayId,
} from '../../src/instrument';
import { semitones, soundingMidi } from '../../src/music';

const bass = (id: string): Instrument => instruments.find((one) => one.id === id)!;
const plainHand: Hand = { ...defaultHand, way: { id: '1-2-4' } };
const [topString] = defaultInstrument.strings;

/** "1 at 1: G 1 closed": string, position, finger, stop, frame, and where the thumb was left. */
const written = ({ string, position, finger, stop, frame, thumb }: Placement): string =>
  `${string} at ${position}: ${finger} on ${stop} ${frame}${thumb === undefined ? '' : ` thumb ${thumb}`}`;
const onTop = (all: readonly Placement[]): string[] =>
  all.filter(({ string }) => string === topString!.number).map(written);

describe('all placements', () => {
  it('go by string, then by position, the open string first, then finger by finger', () => {
    const all = allPlacements(defaultInstrument, plainHand, { highestPosition: 2, pivots: false });
    const ofString = (string: number): string[] => [
      `${string} at 1: 0 on 0 open`,
      `${string} at 1: 1 on 1 closed`,
      `${string} at 1: 2 on 2 closed`,
      `${string} at 1: 4 on 3 closed`,
      `${string} at 2: 0 on 0 open`,
      `${string} at 2: 1 on 2 closed`,
      `${string} at 2: 2 on 3 closed`,
      `${string} at 2: 4 on 4 closed`,
    ];
    expect(all.map(written)).toEqual([1, 2, 3, 4].flatMap(ofString));
    expect(all.map(({ id }) => id)).toEqual(all.map((_, index) => index));
    // G, D, A and E as they sound.
    for (const { string, stop, midi } of all) expect(midi).toBe([43, 38, 33, 28][string - 1]! + stop);
  });

  it('have a stopped note once more for each place where a pivot can have left the thumb', () => {
    const all = allPlacements(defaultInstrument, plainHand, { highestPosition: 2 });
    expect(onTop(all)).toEqual([
      '1 at 1: 0 on 0 open',
      '1 at 1: 1 on 1 closed',
      '1 at 1: 1 on 1 closed thumb 1',
      '1 at 1: 2 on 2 closed',
      '1 at 1: 2 on 2 closed thumb 1',
      '1 at 1: 4 on 3 closed',
      '1 at 1: 4 on 3 closed thumb 1',
      '1 at 2: 0 on 0 open',
      '1 at 2: 1 on 2 closed',
      '1 at 2: 1 on 2 closed thumb -1',
      '1 at 2: 1 on 2 closed thumb 1',
      '1 at 2: 2 on 3 closed',
      '1 at 2: 2 on 3 closed thumb -1',
      '1 at 2: 2 on 3 closed thumb 1',
      '1 at 2: 4 on 4 closed',
      '1 at 2: 4 on 4 closed thumb -1',
      '1 at 2: 4 on 4 closed thumb 1',
    ]);
    expect(all.map(({ id }) => id)).toEqual(all.map((_, index) => index));
  });

  it('end at the highest stop, which is still played', () => {
    const short = { ...defaultInstrument, highestStop: semitones(5) };
    const all = allPlacements(short, plainHand, { highestPosition: 4, pivots: false });
    expect(onTop(all).slice(8)).toEqual([
      '1 at 3: 0 on 0 open',
      '1 at 3: 1 on 3 closed',
      '1 at 3: 2 on 4 closed',
      '1 at 3: 4 on 5 closed',
      '1 at 4: 0 on 0 open',
      '1 at 4: 1 on 4 closed',
      '1 at 4: 2 on 5 closed',
    ]);
  });

  it('end with the stops of an extension, from the lowest up', () => {
    const all = allPlacements(bass('bass-extension'), plainHand, { highestPosition: 1, pivots: false });
    expect(all.slice(-5).map(written)).toEqual([
      '4 at 1: 4 on 3 closed',
      '4 at -4: 1 on -4 closed',
      '4 at -3: 1 on -3 closed',
      '4 at -2: 1 on -2 closed',
      '4 at -1: 1 on -1 closed',
    ]);
  });
});

describe('what a hand can hold', () => {
  const placement = (stop: number, position: number, more: Partial<Placement> = {}): Placement => ({
    id: 0,
    string: topString!.number,
    stop: semitones(stop),
    finger: '1',
    position: handPosition(position),
    frame: 'closed',
    midi: soundingMidi(topString!.open + stop),
    ...more,
  });
  const holds = (one: Placement, instrument = defaultInstrument): boolean =>
    isHoldable(instrument, plainHand, one);

  it('is a finger at its stop, on a string that is there, at the pitch of both', () => {
    expect(holds(placement(3, 3))).toBe(true);
    expect(holds(placement(4, 3, { finger: '2' }))).toBe(true);
    expect(holds(placement(4, 3))).toBe(false);
    expect(holds(placement(3, 3, { finger: '3' }))).toBe(false);
    expect(holds(placement(3, 3, { string: 5 as Placement['string'] }))).toBe(false);
    expect(holds(placement(3, 3, { midi: soundingMidi(47) }))).toBe(false);
  });

  it('is an open string at no stop, wherever the hand is', () => {
    const open = (stop: number): Placement => placement(stop, 9, { finger: '0', frame: 'open' });
    expect(holds(open(0))).toBe(true);
    expect(holds(open(1))).toBe(false);
  });

  it('is a stop of an extension under the hand, on a bass that has one', () => {
    const below = (stop: number, position: number): Placement => ({
      ...placement(0, 1),
      string: 4 as Placement['string'],
      stop: semitones(stop),
      position: position as Placement['position'],
      midi: soundingMidi(28 + stop),
    });
    const extended = bass('bass-extension');
    expect([-4, -3, -2, -1].map((at) => holds(below(at, at), extended))).toEqual([true, true, true, true]);
    expect(holds(below(-5, -5), extended)).toBe(false);
    expect(holds(below(0, 0), extended)).toBe(false);
    expect(holds(below(-3, -4), extended)).toBe(false);
    expect(holds(below(-3, -3))).toBe(false);
  });

  it('spreads it over nothing for an open string, from the first finger, over the whole of a stretch', () => {
    expect(reachOf(placement(0, 5, { finger: '0', frame: 'open' }))).toBe(0);
    expect(reachOf(placement(5, 5))).toBe(0);
    expect(reachOf(placement(7, 5, { finger: '4' }))).toBe(2);
    for (const stop of [7, 8]) expect(reachOf(placement(stop, 5, { frame: 'extended' }))).toBe(3);
    expect(reachOf(placement(12, 14, { finger: 'T', frame: 'thumb' }))).toBe(-2);
  });
});

describe('ways on a neck with frets, and in hands of other sizes', () => {
  const shape = (instrument: Instrument, hand: Hand, position: number): string =>
    fingersIn(instrument, hand, handPosition(position))
      .map(({ finger, offset, frame }) => `${finger}+${offset}${frame === 'closed' ? '' : ` ${frame}`}`)
      .join(', ');
  const electric = bass('electric-4');
  const withWay = (id: WayId, from?: number): Hand => ({
    ...defaultHand,
    way: from === undefined ? { id } : { id, from: handPosition(from) },
  });
  const stretched = '1+0, 2+1, 4+2, 3+2 extended, 4+3 extended';

  it('keep the frames of the neck over the octave, and never have a thumb', () => {
    for (const position of [1, 11, 12, 15, 20]) {
      expect(shape(electric, withWay('1-2-4'), position)).toBe('1+0, 2+1, 4+2');
      expect(shape(electric, defaultHand, position)).toBe(stretched);
      // A way that is of the thumb is the usual one there.
      expect(shape(electric, withWay('thumb'), position)).toBe(stretched);
    }
    expect(shape(electric, withWay('1-2-3-4', 7), 6)).toBe('1+0, 2+1, 4+2');
    expect(shape(electric, withWay('1-2-3-4', 7), 7)).toBe('1+0, 2+1, 3+2 extended, 4+3 extended');
    expect(shape(electric, withWay('3 for 4'), 13)).toBe('1+0, 2+1, 3+2');
  });

  it('have the thumb from where it is asked for, and no lower than the way goes', () => {
    const thumb = (from: number | undefined, position: number): string =>
      shape(defaultInstrument, withWay('thumb', from), position);
    const withThumb = '1+0 thumb, 2+1 thumb, 3+2 thumb, T+-2 thumb';
    const withoutThumb = '1+0 thumb, 2+1 thumb, 3+2 thumb';
    const sorted = (text: string): string[] => text.split(', ').sort();
    // The thumb lies two semitones below the first finger: at its first position it would be below where it may.
    expect(thumb(9, 8)).toBe(stretched);
    expect(sorted(thumb(9, 9))).toEqual(sorted(withoutThumb));
    expect(sorted(thumb(9, 11))).toEqual(sorted(withThumb));
    expect(sorted(thumb(3, 7))).toEqual(sorted(withoutThumb));
    expect(sorted(thumb(3, 9))).toEqual(sorted(withThumb));
    expect(thumb(3, 6)).toBe(stretched);
    expect(sorted(shape(defaultInstrument, plainHand, 13))).toEqual(sorted(withoutThumb));
    expect(sorted(shape(defaultInstrument, plainHand, 14))).toEqual(sorted(withThumb));
  });

  it('leave out what the span does not reach: the fourth finger of a small hand, not the first two', () => {
    expect(shape(defaultInstrument, { ...makeHand(90), way: { id: '1-2-4' } }, 1)).not.toContain('4+2');
    expect(shape(defaultInstrument, { ...makeHand(90), way: { id: '1-2-4' } }, 1)).toContain('1+0');
    expect(shape(defaultInstrument, { ...makeHand(230), way: { id: '1-2-4' } }, 1)).toBe('1+0, 2+1, 4+2');
  });
});
