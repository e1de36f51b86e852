// Chords as three close notes around middle C that move as little as they can, clear of the bass.
import commonData from '../../shared/band/common.json' with { type: 'json' };
import { soundingMidi, type Chord, type PitchClass, type SoundingMidi } from '../music';

const voicingSize = 3;
/** Middle of the first voicing: close to middle C, clear of the bass (common practice, no source). */
const centre = 60;
const lowest = 52;
/** How far up a shape may reach, semitones over its lowest place. */
const reach = 22;
const highest = lowest + reach;

/** What tells the chord from others comes first: third or fourth, seventh or sixth, then colours, then the fifth. */
const degreeOrder = [3, 4, 2, 7, 6, 9, 13, 11, 5];

/** The root is the bass's: it is played here only where two notes would not be left without it. */
function tonesToPlay(chord: Chord): readonly PitchClass[] {
  const others = chord.tones.filter(({ degree }) => degree !== 1);
  const tones = others.length < 2 ? chord.tones : others;
  return [...tones]
    .sort((a, b) => degreeOrder.indexOf(a.degree) - degreeOrder.indexOf(b.degree))
    .slice(0, voicingSize)
    .map((tone) => tone.pitchClass);
}

/** Every close shape of some pitch classes between two notes, lowest note first. */
function shapes(classes: readonly PitchClass[], from: number, to: number): readonly (readonly number[])[] {
  const found: number[][] = [];
  for (let bottom = from; bottom <= to; bottom++) {
    const first = classes.findIndex((one) => one === bottom % 12);
    if (first < 0) continue;
    const above = classes.map((one) => bottom + ((((one - bottom) % 12) + 12) % 12)).sort((a, b) => a - b);
    if (above.at(-1)! <= to) found.push(above);
  }
  return found;
}

const mean = (midis: readonly number[]): number => midis.reduce((sum, midi) => sum + midi, 0) / midis.length;

/** Semitones that the voices move, each to its neighbour; shapes of other sizes are compared by their middles. */
const movement = (from: readonly number[], to: readonly number[]): number =>
  from.length === to.length
    ? to.reduce((sum, midi, voice) => sum + Math.abs(midi - from[voice]!), 0)
    : to.length * Math.abs(mean(to) - mean(from));

/** A shape far from the middle costs a little, so that a long run of changes does not climb or sink. */
const pull = 0.25;

/**
 * The voicing of a chord that moves least from the one before it, lowest note first.
 * @param bass the highest note that the bass sounds meanwhile: the chord keeps off it by more than a fifth
 */
export function voicing(
  chord: Chord,
  before: readonly SoundingMidi[],
  bass = -Infinity,
): readonly SoundingMidi[] {
  const classes = [...new Set(tonesToPlay(chord))];
  const from = Math.max(lowest, bass + commonData.chordsFromBass);
  const cost = (shape: readonly number[]): number =>
    (before.length === 0 ? 0 : movement(before, shape)) +
    pull * classes.length * Math.abs(mean(shape) - centre);
  const [best = []] = [...shapes(classes, from, Math.max(highest, from + reach))].sort(
    (a, b) => cost(a) - cost(b),
  );
  return best.map(soundingMidi);
}
