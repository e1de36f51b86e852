// Notes of a line of one's own as text: what comes back, and what is refused.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { soundingMidi, barNumber } from '../../src/music';
import type { OwnNote } from '../../src/pipeline';
import { editOwn, newStudy, setOwn, setOwnFingering } from '../../src/state/document';
import { envelop, restore } from '../../src/state/envelope';
import { starTake } from '../../src/state/keeping';
import { lengthened, movedTo, stepFrom, transposed, without, withNote } from '../../src/state/own-notes';
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

  const place = { bar: 0, at: 480 };
  const edited = (edit: (all: readonly OwnNote[]) => readonly OwnNote[]): readonly OwnNote[] =>
    editOwn(study, edit).own!.notes;

  it('moves one note, whose written fingers then say nothing, and keeps it a pitch', () => {
    const moved = edited((all) => transposed(all, place, -1));
    expect(moved[1]).toMatchObject({ midi: 40, string: null, finger: null });
    expect(moved[0]).toEqual(notes[0]);
    expect(edited((all) => transposed(all, place, 500))[1]!.midi).toBe(127);
    expect(editOwn(newStudy('| Dm7 |'), (all) => transposed(all, place, 1)).own).toBeNull();
  });

  it('makes a note longer and shorter as far as there is room, and keeps its fingers', () => {
    const sized = (by: 1 | -1, from: number, room: number): OwnNote =>
      edited((all) => lengthened(all, place, by, { from, room }))[1]!;
    expect(sized(1, 480, 1440)).toMatchObject({ ticks: 720, finger: '4' });
    expect(sized(1, 480, 600).ticks).toBe(600);
    expect(sized(-1, 480, 480).ticks).toBe(320);
    expect(editOwn(study, (all) => lengthened(all, place, 1, { from: 480, room: 480 }))).toBe(study);
    expect(editOwn(study, (all) => lengthened(all, place, -1, { from: 120, room: 480 }))).toBe(study);
  });

  it('moves a note to another moment, in order and with its fingers, but not onto another', () => {
    const moved = edited((all) => movedTo(all, { bar: 0, at: 0 }, { bar: 0, at: 720 }));
    expect(moved.map(({ at, ticks, midi }) => [at, ticks, midi])).toEqual([
      [480, 480, 41],
      [720, 480, 38],
    ]);
    expect(editOwn(study, (all) => movedTo(all, { bar: 0, at: 0 }, place))).toBe(study);
    expect([stepFrom(0, 1), stepFrom(320, 1), stepFrom(320, -1), stepFrom(480, -1)]).toEqual([
      240, 480, 240, 240,
    ]);
  });

  it('takes a note away, the last one, too, and puts one in where none begins', () => {
    const one = edited((all) => without(all, place));
    expect(one).toEqual([notes[0]]);
    const none = setOwn(study, { notes: without(one, one[0]!), fingering: 'theirs' });
    const stored = restore(JSON.parse(JSON.stringify(envelop(none))));
    expect(stored.ok && stored.study.own).toEqual({ notes: [], fingering: 'theirs' });
    const more = { bar: 0, at: 240, ticks: 240, midi: soundingMidi(40) };
    expect(edited((all) => withNote(all, more)).map(({ at, midi }) => [at, midi])).toEqual([
      [0, 38],
      [240, 40],
      [480, 41],
    ]);
    expect(editOwn(study, (all) => withNote(all, { ...more, at: 480 }))).toBe(study);
  });

  it('comes back from a starred take as it was, over a walked line and over storage', () => {
    const starred = starTake({ ...study, kept: [{ bar: barNumber(1), notes: [] }] }, 'Mine');
    const stored = restore(JSON.parse(JSON.stringify(envelop({ ...starred, own: null }))));
    expect(stored).toMatchObject({ ok: true, replaced: [] });
    expect(stored.ok && stored.study.stars[0]!.own).toEqual(study.own);
  });

  it('changes its fingers, and is walked anew once the line is gone', () => {
    expect(setOwnFingering(study, 'ours').own!.fingering).toBe('ours');
    expect(setOwnFingering(study, 'theirs')).toBe(study);
    const shown = { ...study, kept: [{ bar: barNumber(1), notes: [] }] };
    expect(setOwn(shown, null)).toMatchObject({ own: null, kept: [] });
  });
});
