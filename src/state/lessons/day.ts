// A day's practice: some minutes shared out among what there is to do. Choices, not promises; every time is a setting.
import data from '../../../shared/lessons/practice.json' with { type: 'json' };

export const dayPartIds = ['anchors', 'yesterday', 'layer', 'names', 'cards', 'stage'] as const;
export type DayPartId = (typeof dayPartIds)[number];

export interface DayPart {
  readonly id: DayPartId;
  readonly name: string;
  readonly says: string;
  /** Whole minutes, at least one. */
  readonly minutes: number;
}

export interface DaySettings {
  readonly minutes: number;
  /** Minutes of each part against the others; 0 leaves it out. */
  readonly parts: Readonly<Record<DayPartId, number>>;
}

export const dayMinutes = { least: 5, most: 120 } as const;

const rows = dayPartIds.map((id) => {
  const row = data.day.parts.find((part) => part.id === id);
  if (!row) throw new RangeError(`practice.json has no part ${id}`);
  return { id, name: row.name, says: row.says, minutes: row.minutes };
});

export const usualDay: DaySettings = {
  minutes: data.day.minutes,
  parts: Object.fromEntries(rows.map(({ id, minutes }) => [id, minutes])) as Record<DayPartId, number>,
};

export const dayPartName = (id: DayPartId): string => rows[dayPartIds.indexOf(id)]!.name;

/** What there is to practise. */
export interface DayFacts {
  /** A line was practised the day before. */
  readonly hasYesterday: boolean;
  /** A layer is being learnt. */
  readonly hasLayer: boolean;
  readonly hasCards: boolean;
}

const isThere = (id: DayPartId, { hasYesterday, hasLayer, hasCards }: DayFacts): boolean =>
  id === 'yesterday' ? hasYesterday : id === 'layer' ? hasLayer : id === 'cards' ? hasCards : true;

/**
 * The parts of the day in order; what there is nothing for is left out and its minutes go to the others in proportion.
 * The minutes are whole and add up to those asked for. Where there are fewer minutes than parts, the last parts give way.
 */
export function planDay(settings: DaySettings, facts: DayFacts): readonly DayPart[] {
  const wanted = rows.filter(({ id }) => settings.parts[id] > 0 && isThere(id, facts));
  const open = wanted.slice(0, settings.minutes);
  const weight = open.reduce((sum, { id }) => sum + settings.parts[id], 0);
  const spare = settings.minutes - open.length;
  const exact = open.map(({ id }) => (spare * settings.parts[id]) / weight);
  const minutes = exact.map((share) => 1 + Math.floor(share));
  // Largest remainders get the minutes that rounding left over; the earlier part among equals.
  const left = settings.minutes - minutes.reduce((sum, one) => sum + one, 0);
  const byRemainder = [...exact.keys()].toSorted((a, b) => (exact[b]! % 1) - (exact[a]! % 1) || a - b);
  for (const index of byRemainder.slice(0, Math.max(0, left))) minutes[index]!++;
  return open.map((row, index) => ({ ...row, minutes: minutes[index]! }));
}

/** A pass through a line: clean, or not. */
export interface PracticePass {
  readonly isClean: boolean;
}

/** Share of the passes that were clean; null before the first. */
export const cleanShare = (passes: readonly PracticePass[]): number | null =>
  passes.length === 0 ? null : passes.filter(({ isClean }) => isClean).length / passes.length;
