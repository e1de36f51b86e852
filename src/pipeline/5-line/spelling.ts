// Names for the notes of a line: by chord, scale and key, and by where the line goes next.
import { pitchClass, pitchClassOf, spellInContext, type NoteName, type SoundingMidi } from '../../music';
import type { TimelineChord } from '../2-timeline';

interface Sounding {
  readonly harmony: TimelineChord;
  readonly midi: SoundingMidi;
}

/** Spells from the last note back, so that each note knows the name of the one it leads to. */
export function nameNotes(notes: readonly Sounding[]): readonly NoteName[] {
  const names = new Array<NoteName>(notes.length);
  for (let index = notes.length - 1; index >= 0; index--) {
    const { harmony, midi } = notes[index]!;
    const after = notes[index + 1];
    const bass = harmony.chord?.bass ?? null;
    // A bass that the chart names is called what the chart calls it.
    if (bass !== null && pitchClassOf(bass) === pitchClass(midi)) {
      names[index] = bass;
      continue;
    }
    names[index] = spellInContext(pitchClass(midi), {
      chord: harmony.chord,
      scale: harmony.scale,
      key: harmony.key,
      next: after ? { name: names[index + 1]!, direction: Math.sign(after.midi - midi) as -1 | 0 | 1 } : null,
    });
  }
  return names;
}
