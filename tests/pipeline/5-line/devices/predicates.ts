// The trade's definitions of approaches and devices, written out once more without the table and without code of its own
// folder: what the table finds is compared with this, note by note.
import { isOrnament, type DeviceId, type PlayedNote, type TimelineChord } from '../../../../src/pipeline';

const letters: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
/** Pitch class of a note name. */
export const noteClass = (name: string): number =>
  (letters[name[0]!]! + [...name.slice(1)].reduce((sum, sign) => sum + (sign === '#' ? 1 : -1), 0) + 24) % 12;

const chordHas = ({ chord }: TimelineChord, midi: number): boolean =>
  chord !== null &&
  [...chord.tones.map(({ note }) => note), ...(chord.bass ? [chord.bass] : [])]
    .map(noteClass)
    .includes(midi % 12);
const scaleHas = ({ scale }: TimelineChord, midi: number): boolean =>
  (scale?.notes ?? []).map(noteClass).includes(midi % 12);
const inside = (harmony: TimelineChord, midi: number): boolean =>
  chordHas(harmony, midi) || scaleHas(harmony, midi);
const isRoot = ({ chord }: TimelineChord, midi: number): boolean =>
  chord !== null && noteClass(chord.bass ?? chord.root) === midi % 12;

/** A tone of the chord or its bass; with the scale, a note of either. */
export const has = (harmony: TimelineChord, midi: number, withScale: boolean): boolean =>
  chordHas(harmony, midi) || (withScale && scaleHas(harmony, midi));

/** Devices into the note of its own after each note, by the index of that last note before the target. */
export function devicesByDefinition(all: readonly PlayedNote[]): ReadonlyMap<number, ReadonlySet<DeviceId>> {
  const own = all
    .map((note, index) => ({ ...note, index }))
    .filter(({ slot }) => !isOrnament(slot.articulation));
  const found = new Map<number, Set<DeviceId>>();
  own.forEach((b, j) => {
    const [p2, p1, a] = [own[j - 3], own[j - 2], own[j - 1]];
    if (!a || !(a.slot.nextIsDownbeat || a.slot.nextIsChange)) return;
    const names = new Set<DeviceId>();
    found.set(a.index, names);
    const step = b.midi - a.midi;
    const targetIsChordNote = chordHas(b.slot.harmony, b.midi);
    const targetIsRoot = isRoot(b.slot.harmony, b.midi);
    const leads = (one: typeof a | undefined): boolean =>
      one === undefined || one.slot.nextIsDownbeat || one.slot.nextIsChange;
    if (targetIsRoot && (step === 5 || step === -7)) names.add('from the fifth');
    if (targetIsRoot && step === 0 && a.slot.nextIsChange) names.add('anticipated root');
    if (!targetIsChordNote) return;
    if (step === 1) names.add('semitone below');
    if (step === -1) names.add('semitone above');
    if ([11, 13].includes(Math.abs(step))) names.add('displaced');
    const isInside = inside(a.slot.harmony, a.midi) || inside(b.slot.harmony, a.midi);
    if (step === 2 && isInside) names.add('step below');
    if (step === -2 && isInside) names.add('step above');
    if (!p1) return;
    const before = a.midi - p1.midi;
    if (!leads(p1)) {
      if (step === 1 && before === 1) names.add('double chromatic below');
      if (step === -1 && before === -1) names.add('double chromatic above');
      const [first, last] = [p1.midi - b.midi, a.midi - b.midi];
      const near = Math.abs(first) <= 2 && Math.abs(last) <= 2;
      if (near && first > 0 && last < 0) names.add('enclosure above first');
      if (near && first < 0 && last > 0) names.add('enclosure below first');
      const chordal = chordHas(a.slot.harmony, a.midi) && chordHas(p1.slot.harmony, p1.midi);
      const sizes = [Math.abs(step), Math.abs(before)];
      if (chordal && step * before > 0 && sizes.every((size) => size >= 3 && size <= 12))
        names.add('chord run');
    }
    if (!p2) return;
    const earlier = p1.midi - p2.midi;
    if (!leads(p1) && !leads(p2)) {
      if (step === 1 && before === 1 && earlier === 1) names.add('triple chromatic below');
      if (step === -1 && before === -1 && earlier === -1) names.add('triple chromatic above');
      if (step === 1 && before === -2 && earlier === -1) names.add('long enclosure above first');
      if (step === -1 && before === 2 && earlier === 1) names.add('long enclosure below first');
    }
    const steps = [step, before, earlier];
    const oneWay = steps.every((one) => one > 0 && one <= 2) || steps.every((one) => one < 0 && one >= -2);
    if (oneWay && [a, p1, p2].every(({ slot, midi }) => inside(slot.harmony, midi))) names.add('scale run');
  });
  return found;
}
