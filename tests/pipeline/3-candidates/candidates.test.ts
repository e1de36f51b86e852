// Which notes are on offer where.
import { describe, expect, it } from 'vitest';
import { defaultHand, defaultInstrument, allPlacements } from '../../../src/instrument';
import { pitchClass, pitchClassOf } from '../../../src/music';
import { findCandidates, insidePitchClasses, type SlotCandidates } from '../../../src/pipeline/3-candidates';
import { makeTimeline } from '../../../src/pipeline/2-timeline';
import { chartOf } from '../../../src/pipeline/pipeline';
import { highestPosition, walkingRange } from '../../../src/pipeline/problem/range';
import { chartNames, chartText, requestFor } from '../request';

const placements = allPlacements(defaultInstrument, defaultHand, { highestPosition });

function candidatesOf(text: string): readonly SlotCandidates[] {
  const { chart } = chartOf(requestFor(text));
  const { timeline } = makeTimeline(chart, { choruses: 1, tempo: null });
  return findCandidates(timeline!.slots, placements, walkingRange(defaultInstrument));
}

/** Pitch classes on offer with a stopped note among their placements. */
function stoppedClasses({ placements }: SlotCandidates): number[] {
  const stopped = placements.filter(({ finger }) => finger !== '0');
  return [...new Set(stopped.map(({ midi }) => pitchClass(midi) as number))].sort((a, b) => a - b);
}

/** Open placements whose pitch class is neither the harmony's nor on offer stopped. */
const outsideOpen = (set: SlotCandidates) =>
  set.placements.filter(
    ({ finger, midi }) => finger === '0' && !stoppedClasses(set).includes(pitchClass(midi)),
  );

describe('an open string outside the harmony', () => {
  it('is on offer as itself alone, and never on a change or a downbeat', () => {
    // E, A, D and G are all outside D flat minor 7 with its dorian scale.
    const sets = candidatesOf('Dbm7 | Dbm7 | Dbm7');
    let met = 0;
    for (const set of sets) {
      const { slot } = set;
      const inside = insidePitchClasses(slot.harmony);
      const open = outsideOpen(set);
      if (slot.isChange || slot.strength === 3) {
        expect(open).toEqual([]);
        for (const { midi } of set.placements) expect(inside.has(pitchClass(midi))).toBe(true);
      }
      met += open.length;
      // As itself: at the pitch of a string, not an octave of it.
      for (const { midi } of open)
        expect(defaultInstrument.strings.map((string) => string.open as number)).toContain(midi);
    }
    expect(met).toBeGreaterThan(0);
  });

  it('holds on every chart that comes with the program', () => {
    for (const name of chartNames) {
      for (const set of candidatesOf(chartText(name))) {
        const { slot } = set;
        if (!slot.isChange && slot.strength < 3) continue;
        expect(outsideOpen(set)).toEqual([]);
      }
    }
  });
});

describe('notes outside chord and scale', () => {
  const outside = (set: SlotCandidates): number[] =>
    stoppedClasses(set).filter((one) => !insidePitchClasses(set.slot.harmony).has(one));

  it('are within three semitones of the bass of the target from three notes before, beat three too', () => {
    const sets = candidatesOf('C7 | F7');
    const [one, two, three, four] = sets.map(stoppedClasses);
    const near = [2, 3, 4, 5, 6, 7, 8];
    expect(outside(sets[0]!)).toEqual([]);
    for (const beat of [two, three, four]) expect(beat).toEqual(expect.arrayContaining(near));
    expect(one).not.toContain(3);
    // Beat three leads nowhere else: only those around the target are outside.
    for (const one of outside(sets[2]!)) expect(near).toContain(one);
    expect(outside(sets[2]!)).toEqual([3, 6, 8]);
  });

  it('begin no earlier than three notes before the target', () => {
    const sets = candidatesOf('Meter: 5/4\nC7 | F#7');
    expect(sets.map(({ slot }) => slot.untilTarget).slice(0, 5)).toEqual([5, 4, 3, 2, 1]);
    const isFull = (set: SlotCandidates): boolean =>
      [3, 4, 5, 6, 7, 8, 9].every((one) => stoppedClasses(set).includes(one));
    expect(
      sets
        .slice(2, 5)
        .filter(({ slot }) => slot.strength < 3)
        .every(isFull),
    ).toBe(true);
    expect(isFull(sets[0]!)).toBe(false);
  });

  it('are not on offer on a change or a downbeat', () => {
    for (const name of chartNames)
      for (const set of candidatesOf(chartText(name)))
        if (set.slot.isChange || set.slot.strength === 3) expect(outside(set)).toEqual([]);
  });
});

describe('a slash bass', () => {
  it('is alone where its chord is new, and one of its notes after', () => {
    const sets = candidatesOf('C7/E | F7 | C7/E');
    for (const { slot, pitches } of sets) {
      if (slot.harmony.chord!.bass === null) continue;
      const classes = new Set(pitches.map((midi) => pitchClass(midi) as number));
      const bass = pitchClassOf(slot.harmony.chord!.bass);
      expect(classes.has(bass)).toBe(true);
      if (slot.isChange) expect([...classes]).toEqual([bass]);
      else expect(classes.size).toBeGreaterThan(3);
    }
  });
});
