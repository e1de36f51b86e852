// What each note aims at, and where its bar stands in its section.
import { describe, expect, it } from 'vitest';
import { readChart } from '../../../src/pipeline/1-chart';
import { isOrnament, makeTimeline, type Slot, type Timeline } from '../../../src/pipeline/2-timeline';

type Options = Partial<Parameters<typeof makeTimeline>[1]>;

const timelineOf = (text: string, options: Options = {}): Timeline =>
  makeTimeline(readChart(text).chart, { choruses: 1, tempo: null, ...options }).timeline!;
const slotsOf = (text: string, options: Options = {}): readonly Slot[] => timelineOf(text, options).slots;

/** A target is marked with an asterisk; then how far it is to the next one, and its chord. */
const aimOf = ({ isTarget, untilTarget, target }: Slot): string =>
  `${isTarget ? '*' : ''}${untilTarget} ${target.chord!.symbol}`;

describe('the target ahead', () => {
  it.each<readonly [string, string, readonly string[]]>([
    [
      'opens the next bar, or the first one after the last',
      'C7 | F7',
      ['*4 F7', '3 F7', '2 F7', '1 F7', '*4 C7', '3 C7', '2 C7', '1 C7'],
    ],
    [
      'opens a chord within the bar',
      'C7 F7 | G7',
      ['*2 F7', '1 F7', '*2 G7', '1 G7', '*4 C7', '3 C7', '2 C7', '1 C7'],
    ],
    [
      'opens a bar over which the chord goes on',
      'C7 | C7',
      ['*4 C7', '3 C7', '2 C7', '1 C7', '*4 C7', '3 C7', '2 C7', '1 C7'],
    ],
    ['is one note away where every beat has a chord', 'C7 F7 G7 A7', ['*1 F7', '*1 G7', '*1 A7', '*1 C7']],
  ])('%s', (_, text, expected) => expect(slotsOf(text).map(aimOf)).toEqual(expected));

  it('is counted in long notes of a two-feel', () => {
    expect(slotsOf('Feel: two-feel\nC7 | F7').map(aimOf)).toEqual(['*2 F7', '1 F7', '*2 C7', '1 C7']);
  });

  it('comes from a pickup into the form, and from its end goes round to the top, past the pickup', () => {
    const slots = slotsOf('{pickup} G7 | C7 | F7');
    expect(slots.map(aimOf)).toEqual([
      '*1 C7',
      ...['*4 F7', '3 F7', '2 F7', '1 F7'],
      ...['*4 C7', '3 C7', '2 C7', '1 C7'],
    ]);
  });

  it('is not there after the last bar of a final ending, and its root is the last one', () => {
    const slots = slotsOf('Key: F\nF7 | C7 | F7 | Gm7 C7', { ending: 'final' });
    expect(slots.at(-2)!.untilTarget).toBe(1);
    expect(slots.at(-2)!.target).toBe(slots.at(-1)!.harmony);
    expect(slots.at(-1)!.isTarget).toBe(true);
    expect(slots.at(-1)!.untilTarget).toBe(0);
    expect(slots.at(-1)!.target).toBe(slots.at(-1)!.harmony);
  });

  it('passes ornaments over: they are no target, and no step on the way to one', () => {
    const { slots } = timelineOf('C7 | F7 | C7 | G7', { choruses: 8, density: 1, seed: 9 });
    const own = slots.filter(({ articulation }) => !isOrnament(articulation));
    expect(own.length).toBeLessThan(slots.length);
    for (const slot of slots) if (isOrnament(slot.articulation)) expect(slot.isTarget).toBe(false);
    slots.forEach((slot, index) => {
      const ahead = slots.slice(index + 1).filter(({ articulation }) => !isOrnament(articulation));
      const until = ahead.findIndex(({ isTarget }) => isTarget);
      if (until < 0) return;
      expect(slot.untilTarget).toBe(until + 1);
      expect(slot.target).toBe(ahead[until]!.harmony);
    });
  });
});

describe('the place in the phrase', () => {
  const placesOf = (text: string, options?: Options): string[] =>
    slotsOf(text, options)
      .filter(({ beat }) => beat === 1)
      .map(({ phrase }) => phrase);

  it('is the top, a section, four bars on or inside; only the opening of a bar has one', () => {
    const text = '[A]\nC7 | C7 | C7 | C7 | F7 | F7\n[B]\nG7 | G7 | G7 | G7 | C7';
    const inside = ['inside', 'inside', 'inside'];
    expect(placesOf(text)).toEqual([
      'top',
      ...inside,
      'four bars',
      'inside',
      'section',
      ...inside,
      'four bars',
    ]);
    for (const { beat, phrase } of slotsOf(text)) if (beat !== 1) expect(phrase).toBe('inside');
  });

  it('begins again with each chorus, and without sections the chorus is one', () => {
    const chorus = ['top', 'inside', 'inside', 'inside', 'four bars'];
    expect(placesOf('C7 | F7 | C7 | G7 | C7', { choruses: 2 })).toEqual([...chorus, ...chorus]);
  });
});
