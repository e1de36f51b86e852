// Where the hand goes through open strings.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handPosition, type Placement } from '../../../src/instrument';
import { ticks } from '../../../src/music';
import { beginsCarry, carriedRun, carriesOf, handWay, nextPlace, placeAt } from '../../../src/pipeline';
import { walked } from '../request';

const some = walked('| F7 |').line.notes[0]!.placement;
/** "5" is stopped in III, "o7" an open string at whose end the solver has the hand in IV. */
const held = (text: string): readonly Placement[] =>
  text.split(' ').map((one): Placement => ({
    ...some,
    finger: one.startsWith('o') ? '0' : '1',
    position: handPosition(Number(one.replace('o', ''))),
  }));
const notesOf = (text: string, goesRound = false) => {
  const placements = held(text);
  const carries = carriesOf(placements, goesRound);
  return placements.map((placement, index) => ({
    placement,
    carry: carries[index]!,
    tick: ticks(index * 480),
    ticks: ticks(480),
  }));
};
const told = (text: string, goesRound = false): readonly string[] =>
  notesOf(text, goesRound).map(({ carry }) => (carry ? `${carry.from}-${carry.to}` : ''));

describe('open strings', () => {
  it('carry the hand to the next stopped note through any number of them, whichever the solver moved it on', () => {
    for (const between of ['o8 o5', 'o5 o5', 'o8 o12 o5', 'o12 o12 o12'])
      expect(new Set(told(`8 ${between} 5`).slice(1, -1))).toEqual(new Set(['8-5']));
  });

  it('do nothing where the next stopped note is in the same place', () => {
    expect(told('8 o8 8')).toEqual(['', '', '']);
    expect(told('8 o5 o8 8')).toEqual(['', '', '', '']);
  });

  it('lead round to the first stopped note of a line that comes again', () => {
    expect(told('o3 3 5 o3', true)).toEqual(['', '', '', '5-3']);
    expect(told('3 5 o8')).toEqual(['', '', '5-8']);
    expect(told('o5 o7')).toEqual(['', '']);
  });

  it('that carry it together are one run, begun by the first', () => {
    const notes = notesOf('2 o2 o7 7 o7 o5 5');
    expect(notes.map((_, index) => beginsCarry(notes, index))).toEqual(
      [0, 1, 0, 0, 1, 0, 0].map((one) => one === 1),
    );
    expect(carriedRun(notes, 2)).toEqual({ first: 1, last: 2 });
  });
});

describe('the place of the hand', () => {
  it('is that of the note, or over an open string of the next stopped one', () => {
    const notes = notesOf('2 o3 o8 5');
    expect(notes.map((_, index) => placeAt(notes, index))).toEqual([2, 5, 5, 5]);
    expect(notes.map((_, index) => nextPlace(notes, index, true))).toEqual([5, 5, 5, 2]);
    expect(nextPlace(notes, 3, false)).toBeUndefined();
  });

  it('goes round where a stretch is repeated', () => {
    const notes = notesOf('2 4 6 o8 9');
    expect(placeAt(notes, 3, 1, 4)).toBe(4);
    expect(placeAt([], 0)).toBeUndefined();
  });

  it('goes on without a jump, from each stopped note to the next', () => {
    const token = fc
      .tuple(fc.boolean(), fc.integer({ min: 1, max: 12 }))
      .map(([isOpen, at]) => `${isOpen ? 'o' : ''}${at}`);
    fc.assert(
      fc.property(fc.array(token, { minLength: 1, maxLength: 12 }), (tokens) => {
        const notes = notesOf(['1', ...tokens, '2'].join(' '));
        notes.forEach((note, index) => {
          const { from, to } = handWay(notes, index);
          if (note.placement.finger !== '0')
            expect([from, to]).toEqual(Array(2).fill(note.placement.position));
          const next = notes[index + 1];
          // Over an open string that carries nothing, the solver's place of it is passed over by those who draw.
          if (note.carry)
            expect(to).toBeCloseTo(next!.carry ? handWay(notes, index + 1).from : note.carry.to, 9);
        });
      }),
    );
  });
});
