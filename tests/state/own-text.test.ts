// Notes of a line of one's own as text: what comes back, and what is refused.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { soundingMidi } from '../../src/music';
import type { OwnNote } from '../../src/pipeline';
import { moveOwnNote, newStudy, setOwn, setOwnFingering } from '../../src/state/document';
import { mostOwnNotes, ownFromText, ownToText } from '../../src/state/own-text';

const finger = fc.constantFrom('0', '1', '2', '3', '4', 'T' as const) as fc.Arbitrary<
  NonNullable<OwnNote['finger']>
>;
const anyNotes = fc
  .array(
    fc.record({
      bar: fc.integer({ min: 0, max: 60 }),
      at: fc.integer({ min: 0, max: 1919 }),
      ticks: fc.integer({ min: 1, max: 9_999 }),
      midi: fc.integer({ min: 0, max: 127 }).map(soundingMidi),
      string: fc.option(fc.integer({ min: 1, max: 8 })),
      finger: fc.option(finger),
      otherFingers: fc.uniqueArray(finger, { maxLength: 3 }),
    }),
    { maxLength: 30 },
  )
  .map((notes) =>
    notes
      .sort((a, b) => a.bar - b.bar || a.at - b.at)
      .filter((one, at) => at === 0 || one.bar !== notes[at - 1]!.bar || one.at !== notes[at - 1]!.at),
  );

describe('notes of one’s own as text', () => {
  it('come back as they were', () => {
    fc.assert(
      fc.property(anyNotes, (notes) => {
        expect(ownFromText(ownToText(notes))).toEqual(notes);
      }),
    );
  });

  it('are refused where anything of them is damaged', () => {
    for (const text of [
      '0:0:480',
      '0:0:0:40',
      '0:0:480:400',
      '1:0:480:40 0:0:480:40',
      '0:0:480:40 0:0:480:41',
      '0:0:480:40:9:1:',
      'x',
      Array.from({ length: mostOwnNotes + 1 }, (_, bar) => `${bar}:0:480:40`).join(' '),
    ])
      expect(ownFromText(text)).toBeUndefined();
    fc.assert(
      fc.property(fc.string(), (text) => {
        ownFromText(text);
      }),
    );
  });
});

describe('a study with a line of its own', () => {
  const notes = ownFromText('0:0:480:38 0:480:480:41:2:4:')!;
  const study = setOwn(newStudy('| Dm7 |'), { notes, fingering: 'theirs' });

  it('moves one note, whose written fingers then say nothing, and keeps it on any bass', () => {
    const moved = moveOwnNote(study, 0, 480, -1).own!;
    expect(moved.notes[1]).toMatchObject({ midi: 40, string: null, finger: null });
    expect(moved.notes[0]).toEqual(notes[0]);
    expect(moveOwnNote(study, 0, 480, 500).own!.notes[1]!.midi).toBeLessThanOrEqual(127);
    expect(moveOwnNote(newStudy('| Dm7 |'), 0, 0, 1).own).toBeNull();
  });

  it('changes its fingers, and is walked anew once the line is gone', () => {
    expect(setOwnFingering(study, 'ours').own!.fingering).toBe('ours');
    expect(setOwnFingering(study, 'theirs')).toBe(study);
    const shown = { ...study, kept: [{ bar: 1, notes: [] }] };
    expect(setOwn(shown, null)).toMatchObject({ own: null, kept: [] });
  });
});
