// How the hand gets from note to note: kinds of move, the thumb that may or may not follow, fingers that cross.
import { describe, expect, it } from 'vitest';
import {
  allPlacements,
  defaultHand,
  defaultInstrument,
  findInstrument,
  handPosition,
  type Placement,
} from '../../../src/instrument';
import { seconds } from '../../../src/music';
import {
  crossesFingers,
  fingeringFeatures,
  placeKey,
  shiftFeatures,
  stringFeatures,
  unseen,
  isOverHeel,
  isShift,
  kindOfMove,
  moveBetween,
  takesTime,
  thumbFollows,
} from '../../../src/pipeline/5-line';
import { at, place } from './place';

describe('a pivot', () => {
  const kind = (from: string, to: string): string =>
    moveBetween(at(defaultInstrument), place(from), place(to)).kind;

  it.each([
    ['G1@3', 'G4@4-', 'pivot'],
    ['G1@3', 'D2@4-', 'pivot'],
    ['G4@4', 'G1@3+', 'pivot'],
    // Back to the thumb.
    ['G4@4-', 'G1@3', 'pivot'],
    // The thumb comes along: a shift.
    ['G1@3', 'G4@4', 'bare shift'],
    // The hand turns away from the note.
    ['G1@7', 'G4@6', 'bare shift'],
    ['G1@3', 'G1@4', 'bare shift'],
    ['G4@4-', 'G4@3', 'bare shift'],
    // From an open string, and by a whole tone, there is nothing to turn.
    ['D0@3', 'G4@4-', 'bare shift'],
    ['G1@3+', 'G4@5-', 'bare shift'],
    ['G1@3', 'G4@3', 'stay'],
    ['G1@3', 'D0@8', 'covered shift'],
  ])('%s to %s: %s', (from, to, expected) => {
    expect(kind(from, to)).toBe(expected);
  });

  it.each([
    // A stay keeps the thumb, an open string and a shift bring it under the hand.
    ['G4@4-', 'G1@4-', true],
    ['G4@4-', 'G1@4', false],
    ['G4@4-', 'D0@4', true],
    ['G4@4-', 'G1@6', true],
    ['G1@4', 'G4@4-', false],
    ['D0@3', 'G4@4-', false],
    ['G1@6', 'G4@4-', false],
    // No second pivot away from the thumb.
    ['G1@4-', 'G4@5-', false],
    // Turning against the fingers is no pivot.
    ['G4@3', 'G1@4-', false],
  ])('%s to %s: the thumb can follow: %s', (from, to, expected) => {
    expect(thumbFollows({ rest: seconds(0) }, place(from), place(to))).toBe(expected);
  });

  it('is not needed over a rest: the thumb comes along', () => {
    const parted = at(defaultInstrument, { rest: seconds(0.1) });
    expect(moveBetween(parted, place('G1@3'), place('G4@4-')).kind).toBe('covered shift');
    expect(thumbFollows({ rest: seconds(0.1) }, place('G4@4-'), place('G1@4'))).toBe(true);
    expect(thumbFollows({ rest: seconds(0.1) }, place('G1@3'), place('G4@4-'))).toBe(false);
  });

  it('has its thumb behind the neck, from the first stop to the heel', () => {
    for (const instrument of [defaultInstrument, findInstrument('electric-4')!]) {
      for (const one of allPlacements(instrument, defaultHand, { highestPosition: 14 })) {
        if (one.thumb === undefined) continue;
        expect(one.frame).toBe('closed');
        expect(one.position + one.thumb).toBeGreaterThanOrEqual(1);
        expect(one.position + one.thumb).toBeLessThan(instrument.heel);
      }
    }
  });
});

describe('moves', () => {
  it('that were worked out before are those that are worked out anew', () => {
    const table = allPlacements(defaultInstrument, defaultHand, { highestPosition: 14 }).filter(
      ({ string }) => string <= 2,
    );
    const known = at(defaultInstrument, { toLength: seconds(0.7) });
    for (const from of table)
      for (const to of table) {
        const move = moveBetween(known, from, to);
        const free = to.finger === '0' ? 0.7 : 0.4 * 0.33;
        const isRight =
          move.kind === kindOfMove(known, from, to) &&
          move.from === from.position &&
          move.to === to.position &&
          Math.abs(move.time - free) < 1e-9;
        if (!isRight) expect.fail(`${JSON.stringify([from, to, move])}`);
      }
    expect(known.known.size).toBeGreaterThan(100);
  });

  it.each([
    ['stay', false, false],
    ['pivot', false, true],
    ['bare shift', true, true],
    ['covered shift', true, true],
  ] as const)('a %s goes along the neck: %s, takes time: %s', (kind, goes, takes) => {
    expect([isShift({ kind }), takesTime({ kind })]).toEqual([goes, takes]);
  });

  it.each([
    ['bare shift', 7, 8, true],
    ['covered shift', 8, 7, true],
    ['bare shift', 6, 7, false],
    ['bare shift', 8, 9, false],
    ['pivot', 7, 8, false],
  ] as const)('a %s from %d to %d goes over the heel: %s', (kind, from, to, goes) => {
    const move = { kind, from: handPosition(from), to: handPosition(to) };
    expect(isOverHeel(defaultInstrument, move)).toBe(goes);
  });
});

describe('a hand whose fingers change with the position', () => {
  const hand = { ...defaultHand, way: { id: '1-2-3-4', from: handPosition(5) } } as const;
  const table = allPlacements(defaultInstrument, hand, { highestPosition: 8 });
  const held = (finger: string, position: number): Placement =>
    table.find(
      (one) => one.string === 1 && one.finger === finger && one.position === position && one.frame !== 'open',
    )!;

  it('crosses a lower finger over a higher one where both reach that far', () => {
    // The fourth a whole tone up in the fourth position, the third as far up in the next.
    const [fourth, third] = [held('4', 4), held('3', 5)];
    expect([fourth.stop, third.stop]).toEqual([6, 7]);
    expect(crossesFingers(fourth, third)).toBe(true);
    expect(crossesFingers(third, fourth)).toBe(true);
    expect(crossesFingers(held('2', 5), held('3', 5))).toBe(false);
  });

  it('crosses nothing between notes that are no neighbours', () => {
    // A semitone down with the hand, a tone up with the note.
    const [first, fourth] = [held('1', 8), held('4', 7)];
    expect([first.stop, fourth.stop]).toEqual([8, 10]);
    expect(crossesFingers(first, fourth)).toBe(false);
  });
});

describe('what a term of a move looks at', () => {
  const table = allPlacements(defaultInstrument, defaultHand, { highestPosition: 12 }).filter(
    ({ position, thumb }) => thumb === undefined && [1, 2, 3, 8, 12].includes(position),
  );

  it.each([...shiftFeatures, ...fingeringFeatures, ...stringFeatures])(
    '$name costs the same for placements that are alike in it',
    ({ amount, looksAt = placeKey }) => {
      const alike = new Map<number, Placement>();
      for (const one of table) if (!alike.has(looksAt(one))) alike.set(looksAt(one), one);
      const like = (one: Placement): Placement => alike.get(looksAt(one))!;
      const context = at(defaultInstrument);
      for (const from of table)
        for (const to of table)
          if (amount(context, from, to) !== amount(context, like(from), like(to)))
            expect.fail(`${JSON.stringify(from)} to ${JSON.stringify(to)}`);
      expect(alike.size).toBeGreaterThan(1);
    },
  );

  it('is the whole of a placement but the thumb, where nothing else is said', () => {
    expect(new Set(table.map(placeKey)).size).toBe(table.length);
    expect(Math.min(...table.map(placeKey))).toBeGreaterThan(unseen);
    const lowest = {
      string: 1,
      stop: -12,
      finger: '1',
      frame: 'closed',
      position: -12,
    } as unknown as Placement;
    expect(placeKey(lowest)).toBeGreaterThan(unseen);
    expect(placeKey({ ...lowest, position: 24 } as Placement)).toBeLessThan(
      placeKey({ ...lowest, stop: -11 } as unknown as Placement),
    );
  });
});
