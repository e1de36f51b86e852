// A line as the critic reads it: notes of their own, each with what it is to its chord and how it is reached.
import { pitchClass, pitchClassOf, type SoundingMidi } from '../../../music';
import { isOrnament, type Slot } from '../../2-timeline';
import { toneClass, type ToneClass } from '../features/degree';
import { deniesChord } from '../grammar';

export interface CriticNote {
  readonly slot: Slot;
  readonly midi: SoundingMidi;
  readonly tone: ToneClass;
  readonly isChordNote: boolean;
  readonly denies: boolean;
  readonly isRoot: boolean;
  /** Semitones from the note before; null at the first note and after a rest. */
  readonly into: number | null;
  /** Semitones to the note after; null at the last note and before a rest. */
  readonly out: number | null;
}

/** Notes of their own of a line: ornaments are passed over. */
export function criticNotes(slots: readonly Slot[], midis: ArrayLike<number>): readonly CriticNote[] {
  const own = slots.flatMap((slot, index) =>
    isOrnament(slot.articulation) ? [] : [{ slot, midi: midis[index]! as SoundingMidi }],
  );
  return own.map(({ slot, midi }, index): CriticNote => {
    const before = own[index - 1];
    const after = own[index + 1];
    const { chord } = slot.harmony;
    const tone = toneClass(slot.harmony, midi);
    return {
      slot,
      midi,
      tone,
      isChordNote: tone !== 'scale' && tone !== 'chrom',
      denies: deniesChord(slot.harmony, midi),
      isRoot: chord !== null && pitchClassOf(chord.bass ?? chord.root) === pitchClass(midi),
      into: before && before.slot.restAfter === 0 ? midi - before.midi : null,
      out: after && slot.restAfter === 0 ? after.midi - midi : null,
    };
  });
}

/** The notes bar by bar, in playing order. */
export function criticBars(notes: readonly CriticNote[]): readonly (readonly CriticNote[])[] {
  const bars: CriticNote[][] = [];
  notes.forEach((note, index) => {
    if (index === 0 || notes[index - 1]!.slot.bar !== note.slot.bar) bars.push([]);
    bars.at(-1)!.push(note);
  });
  return bars;
}
