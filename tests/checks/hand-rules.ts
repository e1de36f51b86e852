// A fingering checked against the second model: every note can be held, every move can be made, the items of the hand are
// those that the model gives, and no fingering of the notes costs less.
import type { Line } from '../../src/pipeline';
import type { Held, HandModel, Hold, Items, Times } from './hand-model';
import { isCrossed } from './hand-model';

/** A note as any file tells it. */
export interface Played {
  readonly midi: number;
  readonly string: number;
  readonly stop: number;
  readonly finger: string;
  readonly position: number;
  readonly tick: number;
  readonly ticks: number;
}

export const playedOf = (line: Line): readonly Played[] =>
  line.notes.map(({ midi, tick, ticks, placement: { string, stop, finger, position } }) => ({
    ...{ midi, string, stop, finger, position, tick, ticks },
  }));

const quarter = 480;

function timesBetween(a: Played, b: Played, tempo: number): Times {
  const seconds = (ticks: number): number => ((ticks / quarter) * 60) / tempo;
  return {
    first: seconds(a.ticks),
    second: seconds(b.ticks),
    rest: seconds(Math.max(0, b.tick - a.tick - a.ticks)),
    beats: b.ticks / quarter,
  };
}

const sumOf = (items: Items): number => [...items.values()].reduce((sum, one) => sum + one, 0);

/** All that a note can be held as, with every place of the thumb; a line begins with the thumb under the hand. */
const heldAs = (model: HandModel, holds: readonly Hold[], isFirst: boolean): Held[] =>
  holds.flatMap((hold) =>
    (isFirst ? [hold.position] : model.thumbs(hold)).map((thumb) => ({ ...hold, thumb })),
  );

interface Cheapest {
  readonly cost: number;
  readonly path: readonly Held[];
}

/** The last hold of a way, with the way to it. */
interface Way {
  readonly cost: number;
  readonly held: Held;
  readonly before: Way | null;
}

function pathOf(way: Way): Held[] {
  const path: Held[] = [];
  for (let at: Way | null = way; at !== null; at = at.before) path.push(at.held);
  return path.reverse();
}

/** The cheapest way through sets of holds, by plain dynamic programming over (hold, thumb); null when there is none. */
function cheapest(
  model: HandModel,
  notes: readonly Played[],
  sets: readonly (readonly Hold[])[],
  tempo: number,
): Cheapest | null {
  const seconds = (note: Played): number => ((note.ticks / quarter) * 60) / tempo;
  let ways = heldAs(model, sets[0]!, true).map((held): Way => ({
    cost: sumOf(model.holding(held, seconds(notes[0]!))),
    held,
    before: null,
  }));
  for (let t = 1; t < notes.length; t++) {
    const times = timesBetween(notes[t - 1]!, notes[t]!, tempo);
    const midis = [notes[t - 1]!.midi, notes[t]!.midi] as const;
    const next: Way[] = [];
    for (const held of heldAs(model, sets[t]!, false)) {
      const own = sumOf(model.holding(held, seconds(notes[t]!)));
      let best: Way | null = null;
      for (const before of ways) {
        const items = model.moving(before.held, held, midis, times);
        if (items === null) continue;
        const cost = before.cost + own + sumOf(items);
        if (best === null || cost < best.cost) best = { cost, held, before };
      }
      if (best) next.push(best);
    }
    ways = next;
  }
  const best = ways.reduce<Way | null>((least, way) => (least && least.cost <= way.cost ? least : way), null);
  return best && { cost: best.cost, path: pathOf(best) };
}

/**
 * What the best fingering of some notes costs by the hand's terms alone; null when a note cannot be played.
 * @param staysOpen notes that are played on the open string and no other way
 */
export function leastCost(
  model: HandModel,
  notes: readonly Played[],
  tempo: number,
  highest: number,
  avoid: ReadonlySet<number> = new Set(),
  staysOpen: (index: number) => boolean = () => false,
): number | null {
  const sets = notes.map(({ midi }, index) =>
    model
      .holds(midi, highest)
      .filter(({ position, shape }) => !avoid.has(position) && (shape === 'open' || !staysOpen(index))),
  );
  return cheapest(model, notes, sets, tempo)?.cost ?? null;
}

/** What a fingering costs by the hand's terms, the thumb wherever it is cheapest; null when it cannot be played. */
export function costOfFingering(model: HandModel, notes: readonly Played[], tempo: number): number | null {
  const sets = notes.map((note) => shapesOf(model, note));
  return cheapest(model, notes, sets, tempo)?.cost ?? null;
}

/** The shapes in which a note can be held as it is told. */
const shapesOf = (model: HandModel, note: Played): Hold[] =>
  model
    .holds(note.midi, 36)
    .filter(
      ({ string, stop, finger, position }) =>
        string === note.string && stop === note.stop && finger === note.finger && position === note.position,
    );

/** What is wrong with a fingering, in words; nothing when all is well. */
export function faultsOf(
  model: HandModel,
  line: Line,
  tempo: number,
  avoid: ReadonlySet<number> = new Set(),
): readonly string[] {
  const notes = playedOf(line);
  const faults: string[] = [];
  const sets = notes.map((note) => shapesOf(model, note));
  notes.forEach((note, index) => {
    const at = `note ${index + 1} (${note.midi} on ${note.string} with ${note.finger} in ${note.position})`;
    if (sets[index]!.length === 0) faults.push(`${at} cannot be held`);
    if (avoid.has(note.position)) faults.push(`${at} is in a barred position`);
    const before = notes[index - 1];
    if (before && before.tick + before.ticks > note.tick) faults.push(`${at} overlaps`);
    if (before && isCrossed(asHold(before), asHold(note))) faults.push(`${at} crosses fingers`);
  });
  if (faults.some((one) => one.includes('cannot be held'))) return faults;
  const way = cheapest(model, notes, sets, tempo);
  if (!way) return [...faults, 'the thumb has no way through'];
  return [...faults, ...pivotFaults(model, way.path, line), ...costFaults(way, line)];
}

const asHold = ({ string, stop, finger, position }: Played): Hold => ({
  ...{ string, stop, finger, position },
  shape: 'closed',
});

/** Moves that the line calls something else than the model does, and pivots away from the note. */
function pivotFaults(model: HandModel, path: readonly Held[], line: Line): string[] {
  return line.notes.flatMap(({ move, slot }, index) => {
    const [a, b] = [path[index - 1], path[index]!];
    if (!a) return [];
    const before = line.notes[index - 1]!;
    const rest = slot.tick - before.tick - before.ticks;
    const kind = model.kind(a, b, rest);
    const said = move.kind.replace(' shift', '');
    const faults = kind === said ? [] : [`note ${index + 1}: ${said} is a ${String(kind)}`];
    const isAway = a.string === b.string && (b.position - a.position) * (b.stop - a.stop) <= 0;
    return said === 'pivot' && isAway ? [...faults, `note ${index + 1} pivots away`] : faults;
  });
}

/** The hand's part of the line's cost, against the model's. */
function costFaults({ cost }: Cheapest, line: Line): string[] {
  return line.cost === cost ? [] : [`costs ${line.cost}, by the second model ${cost}`];
}
