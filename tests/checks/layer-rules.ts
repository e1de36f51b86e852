// The rules of a layer checked on a finished line, from the data's own words and the trade's definitions; nothing of the
// engine that makes lessons is used.
import data from '../../shared/lessons/layers.json' with { type: 'json' };
import { isOrnament, type PlayedNote, type TimelineChord } from '../../src/pipeline';
import { devicesByDefinition, has, noteClass } from '../pipeline/5-line/devices/predicates';

export interface RuleFault {
  readonly bar: number;
  readonly beat: number;
  readonly rule: string;
  /** What is there instead. */
  readonly found: string;
}

interface Rule {
  readonly rule: string;
  readonly every?: number;
  readonly on?: readonly string[];
  readonly least?: number;
  readonly by?: readonly (readonly string[])[];
  readonly alike?: readonly (readonly string[])[];
  readonly are?: string;
  readonly density?: number;
}

type Note = PlayedNote & { readonly index: number };

/** The part of a chord that a pitch is: sus tones for the third, sixths for the seventh, a slash bass for the root. */
function partOf({ chord }: TimelineChord, midi: number): string | null {
  if (!chord) return null;
  if (noteClass(chord.bass ?? chord.root) === midi % 12) return 'root';
  const tone = chord.tones.find(({ note }) => noteClass(note) === midi % 12);
  if (!tone) return null;
  if (tone.degree === 1) return chord.bass ? 'fifth' : 'root';
  return [2, 3, 4].includes(tone.degree)
    ? 'third'
    : tone.degree === 5
      ? 'fifth'
      : [6, 7].includes(tone.degree)
        ? 'seventh'
        : null;
}

const partsIn = (harmony: TimelineChord): readonly (string | null)[] =>
  Array.from({ length: 12 }, (_, midi) => partOf(harmony, midi));

/** Notes that each device needs beside the one that opens the chord. */
const roomFor = (device: string): number =>
  /double|^enclosure|run/.test(device) ? 2 : /triple|long/.test(device) ? 3 : 1;
/** Notes that are the device's own, not counting the one that opens the chord. */
const lengthOf = (device: string): number => roomFor(device);

/** Chords as they sound: from the note that opens one to the last before the next. */
function chordsOf(own: readonly Note[]): readonly (readonly Note[])[] {
  const chords: Note[][] = [];
  own.forEach((note, place) => {
    if (place === 0 || note.slot.isChange) chords.push([note]);
    else chords.at(-1)!.push(note);
  });
  return chords;
}

/** A change: the chord before it, and what leads into it by definition, into any octave of the note at the top. */
interface Change {
  readonly before: readonly Note[];
  readonly ways: ReadonlySet<string>;
}

function changesOf(
  own: readonly Note[],
  chords: readonly (readonly Note[])[],
  goesRound: boolean,
): readonly Change[] {
  const led = devicesByDefinition(own);
  const inside = chords.slice(1).flatMap((_, place): Change[] => {
    const before = chords[place]!;
    const last = before.at(-1)!;
    return last.slot.restAfter > 0 ? [] : [{ before, ways: led.get(own.indexOf(last)) ?? new Set() }];
  });
  const last = own.at(-1)!;
  if (!goesRound || !last.slot.nextIsChange || last.slot.restAfter > 0) return inside;
  const octaves = [-24, -12, 0, 12, 24].map((by) => own[0]!.midi + by);
  const ways = octaves.flatMap((midi) => {
    const round = [...own, { ...own[0]!, midi: midi as Note['midi'] }];
    return [...(devicesByDefinition(round).get(own.length - 1) ?? [])];
  });
  return [...inside, { before: chords.at(-1)!, ways: new Set(ways) }];
}

/** Every place where a line breaks a rule of a layer; `goesRound` where its end leads back to the top. */
export function layerFaults(
  layerId: string,
  line: readonly PlayedNote[],
  goesRound = true,
): readonly RuleFault[] {
  const layer = data.layers.find(({ id }) => id === layerId);
  if (!layer) throw new Error(`no layer ${layerId}`);
  const rules: readonly Rule[] = layer.rules;
  const own = line
    .map((note, index) => ({ ...note, index }))
    .filter(({ slot }) => !isOrnament(slot.articulation));
  const chords = chordsOf(own);
  const faults: RuleFault[] = [];
  const fault = (rule: string, { slot, midi }: Note, found = String(midi)): void => {
    faults.push({
      bar: slot.bar + 1,
      beat: slot.beat,
      rule,
      found: `${found} over ${slot.harmony.chord?.symbol}`,
    });
  };
  const part = ({ slot, midi }: Note): string | null => partOf(slot.harmony, midi);

  // What leads into the changes comes first: its notes are spoken of by no other rule.
  const leading = new Set<Note>();
  let before: string | undefined;
  const alike = rules.find(({ rule }) => rule === 'differ')?.alike;
  for (const { every = 1, by = [] } of rules.filter(({ rule }) => rule === 'into')) {
    let counted = 0;
    for (const { before: chord, ways } of changesOf(own, chords, goesRound)) {
      const choice = by.find((devices) => roomFor(devices[0]!) <= chord.length - 1);
      if (!choice) {
        before = undefined;
        continue;
      }
      counted++;
      if (counted % every !== 0) continue;
      const way = choice.find((device) => ways.has(device));
      if (way === undefined) {
        fault('into', chord.at(-1)!, `${[...ways].join(', ') || 'nothing'} for ${choice.join(' or ')}`);
        continue;
      }
      for (const note of chord.slice(-lengthOf(way))) leading.add(note);
      const kind = alike?.find((list) => list.includes(way))?.[0] ?? way;
      if (alike && kind === before) fault('differ', chord.at(-1)!, kind);
      before = kind;
    }
  }

  for (const { rule, every = 1, on = [], least = 0, are, density = 0 } of rules) {
    chords.forEach((chord, place) => {
      const [first] = chord;
      const parts = partsIn(first!.slot.harmony);
      const isPossible = on.some((one) => parts.includes(one));
      if (rule === 'opens' && (place + 1) % every === 0 && isPossible && !on.includes(part(first!)!))
        fault(rule, first!);
      if (
        rule === 'speaks' &&
        chord.length >= least &&
        isPossible &&
        !chord.some((note) => on.includes(part(note)!))
      )
        fault(rule, first!);
      chord.slice(1).forEach((note, at) => {
        if (rule === 'inner' && note.slot.strength === 2 && isPossible && !on.includes(part(note)!))
          fault(rule, note);
        if (rule === 'roots' && !leading.has(note) && part(note) === 'root') fault(rule, note);
        const step = Math.abs(note.midi - chord[at]!.midi);
        if (rule === 'steps' && chord[at]!.slot.bar === note.slot.bar && (step === 0 || step > 2))
          fault(rule, note, `a step of ${step}`);
      });
    });
    if (rule === 'notes')
      for (const note of own) {
        if (leading.has(note) || are === 'all') continue;
        const isIn =
          are === 'root'
            ? part(note) === 'root'
            : are === 'root and fifth'
              ? part(note) === 'root' || part(note) === 'fifth'
              : has(note.slot.harmony, note.midi, are === 'inside');
        if (!isIn) fault(rule, note);
      }
    if (rule === 'skips' && density > 0 && own.length === line.length)
      fault(rule, own[0]!, 'no figure at all');
  }
  return faults;
}
