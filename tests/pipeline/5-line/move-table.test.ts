// The table of moves against its definition: for any two placements, whether the thumb can follow, and the sum of all terms
// taken for that pair alone. A term that says it looks at less than it does would fall here.
import { describe, expect, it } from 'vitest';
import { allPlacements, defaultHand, findInstrument, regionOf, type Hand } from '../../../src/instrument';
import { bpm, seconds } from '../../../src/music';
import { infinite, moveIndex } from '../../../src/pipeline/4-solver';
import { makeCostModel } from '../../../src/pipeline/5-line';
import { moveTable } from '../../../src/pipeline/5-line/move-table';
import { makeMoveContext, sumOfThree, thumbFollows } from '../../../src/pipeline/5-line/features';

const cases: readonly {
  name: string;
  instrument: string;
  hand?: Partial<Hand>;
  highest: number;
  lengths: [number, number];
  rest: number;
  toBeats: number;
}[] = [
  {
    name: 'quarter notes',
    instrument: 'bass-3/4',
    highest: 12,
    lengths: [0.375, 0.375],
    rest: 0,
    toBeats: 1,
  },
  {
    name: 'a long note after a rest',
    instrument: 'bass-3/4',
    highest: 7,
    lengths: [0.2, 0.8],
    rest: 0.4,
    toBeats: 2,
  },
  {
    name: 'frets, a finger to a fret',
    instrument: 'electric-5',
    hand: { way: { id: '1-2-3-4' } },
    highest: 9,
    lengths: [0.25, 0.25],
    rest: 0,
    toBeats: 1,
  },
];

describe('moveTable', () => {
  it.each(cases)('has the sum of all terms for every move that is possible: $name', (one) => {
    const instrument = findInstrument(one.instrument)!;
    const hand: Hand = { ...defaultHand, ...one.hand };
    const placements = allPlacements(instrument, hand, { highestPosition: one.highest });
    const model = makeCostModel({ instrument, hand, livesAtOctave: false }, bpm(160), 1.3);
    const context = makeMoveContext(
      instrument,
      seconds(one.lengths[0]),
      seconds(one.lengths[1]),
      seconds(one.rest),
      hand.mover,
      one.toBeats,
    );
    const { costs } = moveTable(model, placements, context);
    const wrong: string[] = [];
    placements.forEach((from, i) => {
      placements.forEach((to, j) => {
        const sum = thumbFollows(context, from, to) ? sumOfThree(model.move, context, from, to) : infinite;
        if (costs[i * placements.length + j] !== sum) wrong.push(`${i} to ${j}`);
      });
    });
    expect(placements.length).toBeGreaterThan(150);
    expect(wrong).toEqual([]);
  });

  it.each(['any', 'low'] as const)(
    'lets a stay in %s go on by one note, and begin where another ends',
    (region) => {
      const instrument = findInstrument('bass-3/4')!;
      const plain = allPlacements(instrument, defaultHand, { highestPosition: 9 });
      const counted = plain.flatMap((one) => {
        const isCounted = one.finger !== '0' && (region === 'any' || regionOf(one.position) === region);
        return (isCounted ? [1, 2, 3] : [0]).map((stay) => ({ ...one, stay, plain: one.id }));
      });
      const placements = counted.map((one, id) => ({ ...one, id }));
      const model = makeCostModel({ instrument, hand: defaultHand, livesAtOctave: false }, bpm(160));
      const context = makeMoveContext(
        instrument,
        seconds(0.375),
        seconds(0.375),
        seconds(0),
        defaultHand.mover,
      );
      const moves = moveTable(model, placements, context);
      const base = moveTable(model, plain, context);
      const wrong: string[] = [];
      for (const [i, from] of placements.entries()) {
        for (const [j, to] of placements.entries()) {
          const isSame = regionOf(from.position) === regionOf(to.position);
          const isMade = to.stay === 0 || to.stay === 1 + (isSame ? from.stay : 0);
          const cost = isMade ? base.costs[from.plain * plain.length + to.plain]! : infinite;
          if (moves.costs[moveIndex(moves, placements.length, i, j)] !== cost) wrong.push(`${i} to ${j}`);
        }
      }
      expect(placements.length).toBeGreaterThan(plain.length * 1.2);
      expect(moves.costs.length).toBeLessThanOrEqual(plain.length ** 2 + 1);
      expect(wrong).toEqual([]);
    },
  );
});
