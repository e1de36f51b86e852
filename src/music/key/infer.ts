// Which key a run of chords is in: every chord speaks for the keys it belongs to, cadences speak loudest, the first and
// last chord next. Weights are data.
import data from '../../../shared/chords/key-weights.json' with { type: 'json' };
import { pitchClassOf, type NoteName } from '../tonal';
import { modes, type Chord, type ChordFamily, type Key, type Mode } from '../types';
import { fifthsOf, makeKey, noteAtFifths, practicalKeys } from './key';

const { cadence, section } = data;

/** Families that count as one when a key is sought: an augmented chord is a dominant or a tonic without its fifth. */
const familyNames: Readonly<Partial<Record<ChordFamily, ChordFamily>>> = {
  augmented: 'dominant',
  power: 'major',
};

interface Summary {
  readonly root: number;
  readonly name: NoteName;
  readonly family: ChordFamily;
}

const weightByFunction = new Map(
  modes.flatMap((mode) =>
    data.functions[mode].map((row) => [`${mode} ${row.root} ${row.family}`, row.weight] as const),
  ),
);

const summaryOf = (chord: Chord): Summary => ({
  root: pitchClassOf(chord.root),
  name: chord.root,
  family: familyNames[chord.family] ?? chord.family,
});

const above = (root: number, tonic: number): number => (root - tonic + 12) % 12;

/** A dominant, with or without its third. */
const isFive = (chord: Summary): boolean => chord.family === 'dominant' || chord.family === 'suspended';

/** How well a chord serves as the tonic of a key, 0 when it cannot. */
function tonicShare(chord: Summary, tonic: number, mode: Mode): number {
  if (chord.root !== tonic) return 0;
  if (chord.family === mode) return 1;
  return chord.family === 'dominant' && mode === 'major' ? cadence.dominantGoal : 0;
}

/** True for the two chord of a two-five in that mode: minor in major, half-diminished in minor. */
const isTwo = (chord: Summary, tonic: number, mode: Mode): boolean =>
  above(chord.root, tonic) === 2 && chord.family === (mode === 'major' ? 'minor' : 'halfDiminished');

function cadenceScore(chords: readonly Summary[], index: number, tonic: number, mode: Mode): number {
  const five = chords[index]!;
  if (above(five.root, tonic) !== 7 || !isFive(five)) return 0;
  const before = chords[index - 1];
  const hasTwo = before !== undefined && isTwo(before, tonic, mode);
  const after = chords[index + 1];
  const goal = after ? tonicShare(after, tonic, mode) : 0;
  if (goal > 0) return goal * (hasTwo ? cadence.twoFiveOne : cadence.fiveOne);
  return hasTwo ? cadence.twoFive : 0;
}

function score(chords: readonly Summary[], key: Key): number {
  const tonic = pitchClassOf(key.tonic);
  const { mode } = key;
  const first = chords[0]!;
  const last = chords.at(-1)!;
  const ends =
    tonicShare(first, tonic, mode) ** 0.5 * cadence.firstIsTonic +
    tonicShare(last, tonic, mode) ** 0.5 * cadence.lastIsTonic;
  const endsOnFive = isFive(last) && above(last.root, tonic) === 7;
  const before = chords.at(-2);
  const endsOnTwoFive = endsOnFive && before !== undefined && isTwo(before, tonic, mode);
  const turn =
    (endsOnFive && tonicShare(first, tonic, mode) > 0 ? cadence.lastIsFiveOfFirst : 0) +
    (endsOnTwoFive ? cadence.lastIsTwoFive : 0);
  return chords.reduce(
    (sum, chord, index) =>
      sum +
      (weightByFunction.get(`${mode} ${above(chord.root, tonic)} ${chord.family}`) ?? cadence.foreign) +
      cadenceScore(chords, index, tonic, mode),
    ends + turn,
  );
}

/** A chord repeated counts once: what matters is where the harmony moves. */
const withoutRepeats = (chords: readonly Summary[]): readonly Summary[] =>
  chords.filter(
    (chord, index) => chord.root !== chords[index - 1]?.root || chord.family !== chords[index - 1]?.family,
  );

/** The key on that pitch class spelled as the chart spells its chords: sharp roots mean the sharp key. */
function spelledLike(key: Key, chords: readonly Summary[]): Key {
  const tonic = chords.find((chord) => chord.root === pitchClassOf(key.tonic));
  if (tonic) return makeKey(tonic.name, key.mode);
  const lean = chords.reduce((sum, chord) => sum + fifthsOf(chord.name), 0);
  const isSharp = lean > 0 && key.fifths + 12 <= 7;
  return isSharp ? makeKey(noteAtFifths(fifthsOf(key.tonic) + 12), key.mode) : key;
}

const candidates = modes.flatMap((mode) => practicalKeys(mode));

/**
 * The key that a run of chords is most likely in; C major when there are none. Cadences weigh most, so that a blues is
 * in the key of its first chord although that chord is a dominant.
 */
export function inferKey(chords: readonly Chord[]): Key {
  const all = chords.map(summaryOf);
  if (all.length === 0) return makeKey('C' as NoteName, 'major');
  const moves = withoutRepeats(all);
  const scores = candidates.map((key) => ({ key, score: score(moves, key) }));
  const best = scores.reduce((a, b) => (b.score > a.score ? b : a));
  return spelledLike(best.key, all);
}

/**
 * The key of one section of a chart: home, unless the section is plainly in another. It is when its chords speak much
 * louder for that one, a five goes to its one there, and the one of home is nowhere in it. In a church mode, home.
 */
export function sectionKey(chords: readonly Chord[], home: Key): Key {
  const all = chords.map(summaryOf);
  const moves = withoutRepeats(all);
  if (home.church !== undefined || moves.length < section.leastMoves) return home;
  const key = inferKey(chords);
  const tonic = pitchClassOf(key.tonic);
  const homeTonic = pitchClassOf(home.tonic);
  if (tonic === homeTonic && key.mode === home.mode) return home;
  const comesHome = moves.some(({ root, family }) => root === homeTonic && family === home.mode);
  const arrives = moves.some(
    (chord, index) =>
      chord.root === tonic &&
      chord.family === key.mode &&
      index > 0 &&
      isFive(moves[index - 1]!) &&
      above(moves[index - 1]!.root, tonic) === 7,
  );
  const isClear = score(moves, key) - score(moves, home) >= section.margin;
  return arrives && isClear && !comesHome ? key : home;
}

/**
 * The key around each chord: home, except where a five goes to a one of another key; that one, its five and its two
 * belong there.
 */
export function keyAreas(chords: readonly Chord[], home: Key): readonly Key[] {
  const all = chords.map(summaryOf);
  const areas = all.map(() => home);
  for (let index = 0; index + 1 < all.length; index += 1) {
    const goal = all[index + 1]!;
    if (goal.family !== 'major' && goal.family !== 'minor') continue;
    const five = all[index]!;
    if (!isFive(five) || above(five.root, goal.root) !== 7) continue;
    const key = makeKey(goal.name, goal.family);
    if (pitchClassOf(key.tonic) === pitchClassOf(home.tonic) && key.mode === home.mode) continue;
    const before = all[index - 1];
    // A minor goal inside the home key, such as the two of a chain, stays at home unless its own two comes before it.
    const hasTwo = before !== undefined && isTwo(before, goal.root, goal.family);
    if (!hasTwo) continue;
    areas[index - 1] = areas[index] = areas[index + 1] = key;
  }
  return areas;
}
