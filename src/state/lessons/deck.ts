// The deck: every device into a note of a chord, on every root, and what answers each card.
import data from '../../../shared/lessons/practice.json' with { type: 'json' };
import {
  makeChord,
  makeKey,
  noteName,
  pitchClass,
  scaleFor,
  soundingMidi,
  spellInContext,
  ticks,
  ticksPerQuarter,
  type NoteName,
  type SoundingMidi,
} from '../../music';
import { chordParts, deviceIds, deviceOf, type ChordPart, type GivenNote } from '../../pipeline';
import type { Card } from './cards';

function wordOf<T extends string>(words: readonly T[], text: string): T {
  const found = words.find((word) => word === text);
  if (found === undefined) throw new RangeError(`practice.json: "${text}" is none of ${words.join(', ')}`);
  return found;
}

const { roots, rows } = data.cards.deck;

export const deck: readonly Card[] = rows.flatMap(({ device, into }) =>
  roots.map((root): Card => ({
    device: wordOf(deviceIds, device),
    into: wordOf(chordParts, into),
    root: noteName(root),
  })),
);

/** The chord that a card leads into: a dominant seventh. */
export const chordOfCard = ({ root }: Card): string => `${root}7`;

const degreeOfPart: Readonly<Record<ChordPart, number>> = { root: 1, third: 3, fifth: 5, seventh: 7 };
/** The lowest note that a card leads into. */
const lowestTarget = 33;

const productOf = (shape: readonly (readonly number[])[]): readonly (readonly number[])[] =>
  shape.reduce<readonly (readonly number[])[]>(
    (ways, steps) => ways.flatMap((way) => steps.map((step) => [...way, step])),
    [[]],
  );

/** One way to answer a card: the notes of the device and the one they lead into, last. */
export type CardAnswer = readonly GivenNote[];

/** In 4/4 the note that is led into opens a bar; the notes before it end the bar before. */
function notesOf(steps: readonly number[], target: SoundingMidi, name: NoteName, card: Card): CardAnswer {
  const chord = makeChord(chordOfCard(card));
  const key = makeKey(card.root, 'major');
  const scale = scaleFor(chord, key, null);
  const beat = (place: number): number => (4 - steps.length + place) * ticksPerQuarter;
  const notes: GivenNote[] = [
    { midi: target, name, tick: ticks(beat(steps.length)), ticks: ticks(2 * ticksPerQuarter) },
  ];
  for (let place = steps.length - 1; place >= 0; place--) {
    const next = notes[0]!;
    const step = steps[place]!;
    const midi = soundingMidi(next.midi - step);
    const called = spellInContext(pitchClass(midi), {
      chord,
      scale,
      key,
      next: { name: next.name ?? name, direction: Math.sign(step) as -1 | 0 | 1 },
    });
    notes.unshift({ midi, name: called, tick: ticks(beat(place)), ticks: ticks(ticksPerQuarter) });
  }
  return notes;
}

/** Every way to answer a card. */
export function answersOf(card: Card): readonly CardAnswer[] {
  const { pattern } = deviceOf(card.device);
  const tone = makeChord(chordOfCard(card)).tones.find(({ degree }) => degree === degreeOfPart[card.into]);
  if (!pattern || !tone) return [];
  const target = soundingMidi(lowestTarget + ((tone.pitchClass - lowestTarget + 120) % 12));
  return pattern.shapes.flatMap(productOf).map((steps) => notesOf(steps, target, tone.note, card));
}
