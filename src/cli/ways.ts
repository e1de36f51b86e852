// ramble ways: every approach and device into a note, with its notes, how they are held, and its exact price.
import { positionName, stringName, stringNumeral, type Instrument } from '../instrument';
import { scientificName } from '../music';
import {
  beginsCarry,
  bestWays,
  deviceOf,
  waysInto,
  type LineNote,
  type WayIn,
  type WaysProblem,
} from '../pipeline';
import type { WaysCommand } from './lesson-arguments';
import { failed, readInput, type Outcome } from './outcome';

const problems: Readonly<Record<WaysProblem, string>> = {
  'no line': 'nothing in this chart can be played.',
  'no such beat': 'no note begins there.',
  'no target': 'that note opens neither a bar nor a chord, or nothing comes before it.',
};

const reasons = {
  'no room': 'no room: too few notes before it, or one of them opens a bar or a chord',
  'outside its chords': 'its notes are outside the chords there',
  'no line': 'no line can have it',
} as const;

const placeText = ({ pitch, placement }: LineNote, instrument: Instrument): string =>
  `${scientificName(pitch)} ${stringName(instrument, placement.string)}.${placement.finger}`;

const priceText = (price: number): string => `+${(price / 1000).toFixed(2)}`;

const notesOf = ({ line, notes }: WayIn): readonly LineNote[] =>
  line ? notes.map((index) => line.notes[index]!) : [];

/** What the hand does between the notes. */
const handText = (notes: readonly LineNote[]): string =>
  notes
    .flatMap(({ move, carry }, index) => {
      if (carry === null && (index === 0 || move.from === move.to)) return [];
      if (carry !== null && !beginsCarry(notes, index)) return [];
      const { from, to } = carry ?? move;
      const kind = carry === null ? move.kind : 'covered shift';
      return [`${kind} ${positionName(from)}→${positionName(to)}`];
    })
    .join(', ') || 'stays';

function rowText(way: WayIn, instrument: Instrument): string {
  const { name } = deviceOf(way.device);
  if (way.price === null) return `     –  ${name}: ${reasons[way.why ?? 'no line']}`;
  const notes = notesOf(way);
  const places = notes.map((note) => placeText(note, instrument));
  const led = `${places.slice(0, -1).join(', ')} → ${places.at(-1)}`;
  return `${priceText(way.price).padStart(6)}  ${name}: ${led}; hand ${handText(notes)}`;
}

const noteObject = (note: LineNote): object => ({
  bar: note.bar,
  beat: note.beat,
  midi: note.midi,
  name: scientificName(note.pitch),
  string: stringNumeral(note.placement.string),
  finger: note.placement.finger,
  position: positionName(note.placement.position),
  move: note.move.kind,
});

/** @param name how the chart is called in messages */
export function waysOutcome(input: Uint8Array, name: string, command: WaysCommand): Outcome {
  const { problems: found, ...source } = readInput(input);
  const messages = found.map(({ message }) => `${name}: ${message}`);
  const request = {
    ...source,
    key: command.key,
    tempo: command.tempo,
    choruses: 1,
    instrument: command.player.instrument,
    hand: command.player.hand,
    limits: { barredPositions: command.avoid, ...command.player.where },
    take: { seed: 1, temperature: 0 },
  };
  const result = waysInto(request, command.into, command.on);
  if (typeof result === 'string')
    return failed([
      ...messages,
      `${name}: bar ${command.into.bar}, beat ${command.into.beat}: ${problems[result]}`,
    ]);
  const ways = command.best === null ? result.ways : bestWays(result, command.best);
  const json = {
    into: command.into,
    on: command.on,
    optimum: result.optimum,
    costUnit: 'thousandths',
    price:
      'what the best whole line that has the way costs more than the best line, hand and melody together',
    ways: ways.map((way) => ({
      device: way.device,
      name: deviceOf(way.device).name,
      price: way.price,
      why: way.why,
      notes: notesOf(way).map(noteObject),
    })),
  };
  const text = [
    `Into bar ${command.into.bar}, beat ${command.into.beat}, its ${command.on}; prices against the best line:`,
    ...ways.map((way) => rowText(way, command.player.instrument)),
  ].join('\n');
  const output = command.format === 'json' ? JSON.stringify(json, null, 2) : text;
  return { output: `${output}\n`, messages, exitCode: 0 };
}
