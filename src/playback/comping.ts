// Chords behind the bass: three close notes around middle C that move as little as they can.
import {
  soundingMidi,
  ticksPerQuarter,
  type Chord,
  type PitchClass,
  type Random,
  type SoundingMidi,
} from '../music';
import type { Feel } from '../pipeline/1-chart';
import type { TimelineChord } from '../pipeline/2-timeline';

/** A chord struck, on straight ticks from the start of the form. */
export interface ChordHit {
  readonly tick: number;
  readonly ticks: number;
  readonly midis: readonly SoundingMidi[];
  readonly velocity: number;
}

const voicingSize = 3;
/** Middle of the first voicing: close to middle C, clear of the bass (common practice, no source). */
const centre = 60;
const lowest = 52;
const highest = 74;
const beat = ticksPerQuarter;

/** What tells the chord from others comes first: third or fourth, seventh or sixth, then colours; root and fifth last. */
const degreeOrder = [3, 4, 7, 6, 9, 13, 11, 5, 2, 1];

function tonesToPlay(chord: Chord): readonly PitchClass[] {
  const sorted = [...chord.tones].sort(
    (a, b) => degreeOrder.indexOf(a.degree) - degreeOrder.indexOf(b.degree),
  );
  return sorted.slice(0, voicingSize).map((tone) => tone.pitchClass);
}

/** The octave of a pitch class that lies closest to a place. */
function nearest(pitchClass: PitchClass, place: number): number {
  const above = place + ((((pitchClass - place) % 12) + 12) % 12);
  const midi = above - place <= 6 ? above : above - 12;
  if (midi < lowest) return midi + 12;
  return midi > highest ? midi - 12 : midi;
}

/** The voicing of a chord next to the one before it, lowest note first. */
export function voicing(chord: Chord, before: readonly SoundingMidi[]): readonly SoundingMidi[] {
  const place =
    before.length === 0 ? centre : Math.round(before.reduce((sum, midi) => sum + midi, 0) / before.length);
  const midis = new Set(tonesToPlay(chord).map((tone) => nearest(tone, place)));
  return [...midis].sort((a, b) => a - b).map(soundingMidi);
}

interface Stroke {
  /** Ticks from the chord's start. */
  readonly at: number;
  readonly ticks: number;
}

/** Two common ways to strike a chord that has time, chosen by chance; a short chord is struck once. */
function strokes(length: number, feel: Feel, random: Random): readonly Stroke[] {
  if (feel === 'ballad' || feel === 'two-feel') return [{ at: 0, ticks: length * 0.9 }];
  if (length < 3 * beat) return [{ at: 0, ticks: Math.min(length * 0.7, beat) }];
  if (random() < 0.5) return [{ at: 0, ticks: 1.3 * beat }];
  return [
    { at: 0, ticks: 1.2 * beat },
    { at: 1.5 * beat, ticks: 0.4 * beat },
  ];
}

/** Hits for the chords of one bar, and the voicing the next bar goes on from. N.C. is silence. */
export function compBar(
  chords: readonly TimelineChord[],
  feel: Feel,
  before: readonly SoundingMidi[],
  random: Random,
): { readonly hits: readonly ChordHit[]; readonly last: readonly SoundingMidi[] } {
  const hits: ChordHit[] = [];
  let last = before;
  for (const { chord, tick, ticks } of chords) {
    if (!chord) continue;
    const midis = voicing(chord, last);
    last = midis;
    for (const stroke of strokes(ticks, feel, random)) {
      const length = Math.round(Math.min(stroke.ticks, ticks - stroke.at));
      hits.push({ tick: tick + stroke.at, ticks: length, midis, velocity: stroke.at === 0 ? 0.55 : 0.48 });
    }
  }
  return { hits, last };
}
