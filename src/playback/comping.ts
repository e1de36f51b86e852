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

/** Every close shape of some pitch classes within the range, lowest note first. */
function shapes(classes: readonly PitchClass[]): readonly (readonly number[])[] {
  const found: number[][] = [];
  for (let bottom = lowest; bottom <= highest; bottom++) {
    const first = classes.findIndex((one) => one === bottom % 12);
    if (first < 0) continue;
    const above = classes.map((one) => bottom + ((((one - bottom) % 12) + 12) % 12)).sort((a, b) => a - b);
    if (above.at(-1)! <= highest) found.push(above);
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

/** The voicing of a chord that moves least from the one before it, lowest note first. */
export function voicing(chord: Chord, before: readonly SoundingMidi[]): readonly SoundingMidi[] {
  const classes = [...new Set(tonesToPlay(chord))];
  const cost = (shape: readonly number[]): number =>
    (before.length === 0 ? 0 : movement(before, shape)) +
    pull * classes.length * Math.abs(mean(shape) - centre);
  const [best = []] = [...shapes(classes)].sort((a, b) => cost(a) - cost(b));
  return best.map(soundingMidi);
}

interface Stroke {
  /** Ticks from the chord's start. */
  readonly at: number;
  readonly ticks: number;
}

const shortStroke = 0.4 * beat;
/** Ways to strike a chord that has time, as beats after its start (common practice, no source). */
const manners: Readonly<Record<'swing' | 'waltz' | 'bossa', readonly (readonly number[])[]>> = {
  swing: [[0], [0, 1.5], [0, 2.5]],
  waltz: [[0], [0, 1.5]],
  bossa: [
    [0, 1.5, 3],
    [0, 2.5],
  ],
};

/** One of the ways, chosen by chance; a short chord is struck once, ballads and two-feel hold it. */
function strokes(length: number, feel: Feel, random: Random): readonly Stroke[] {
  if (feel === 'ballad' || feel === 'two-feel') return [{ at: 0, ticks: length * 0.9 }];
  if (length < 3 * beat) return [{ at: 0, ticks: Math.min(length * 0.7, beat) }];
  const ways = manners[feel === 'waltz' || feel === 'bossa' ? feel : 'swing'];
  const beats = ways[Math.floor(random() * ways.length)] ?? [0];
  return beats
    .map((at) => at * beat)
    .filter((at) => at < length)
    .map((at) => ({ at, ticks: at === 0 ? 1.2 * beat : shortStroke }));
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
