// Cards and days of practice, kept on this device and nowhere else. The last writer wins.
import * as v from 'valibot';
import { layerIds, type DeviceId, type LayerId } from '../../pipeline';
import type { TextStorage } from '..';
import { answered, cardId, cardsOfDay, inOrder, knownDevices, type Card, type CardOrder } from './cards';
import { planDay, type DayPart } from './day';
import { deck } from './deck';
import { lessonsSchema, usualLessons, type LessonValues } from './schema';

export const lessonsKey = 'ramble.lessons';
/** Days of passes remembered. */
const mostDays = 400;

function read(storage: TextStorage | null): LessonValues {
  try {
    const result = v.safeParse(lessonsSchema, JSON.parse(storage?.getItem(lessonsKey) ?? '{}'));
    return result.success ? result.output : usualLessons;
  } catch {
    return usualLessons;
  }
}

export class Lessons {
  readonly #storage: TextStorage | null;
  readonly #today: () => string;
  #values: LessonValues = $state.raw(usualLessons);
  /** The cards still to be asked, first to last; null before they are dealt. */
  #hand: readonly Card[] | null = $state.raw(null);

  /** `today`: the day as the person counts it, such as "2030-02-28". */
  constructor(storage: TextStorage | null, today: () => string) {
    this.#storage = storage;
    this.#today = today;
    this.#values = read(storage);
  }

  get values(): LessonValues {
    return this.#values;
  }

  /** Changes settings; the cards of the day are dealt anew. */
  change(part: Partial<Pick<LessonValues, 'order' | 'returns' | 'newADay' | 'minutes' | 'parts'>>): void {
    this.#keep(part);
    this.#hand = null;
  }

  /** The cards still to be asked today. */
  get cards(): readonly Card[] {
    return this.#hand ?? this.#dealt();
  }

  /** Cards that were answered at least once. */
  get seen(): number {
    return this.#values.records.length;
  }
  get known(): readonly DeviceId[] {
    return knownDevices(deck, this.#values.records);
  }

  /** The person said whether they had the first card; it goes to the day it comes back. */
  answer(isHad: boolean): void {
    const [card, ...rest] = this.cards;
    if (!card) return;
    const { records, fresh, returns, newADay } = this.#values;
    const before = records.find(({ id }) => id === cardId(card));
    const record = answered(before, card, isHad, this.#today(), { returns, newADay });
    const count = this.#introduced + (before ? 0 : 1);
    this.#keep({
      records: [...records.filter(({ id }) => id !== record.id), record],
      fresh: before ? fresh : { day: this.#today(), count },
    });
    this.#hand = rest;
  }

  /** The parts of today's practice. */
  get plan(): readonly DayPart[] {
    const { minutes, parts, passes } = this.#values;
    const today = this.#today();
    return planDay(
      { minutes, parts },
      {
        hasYesterday: passes.some(({ day }) => day < today),
        hasLayer: this.layer !== null || this.hasPutOff,
        hasCards: this.cards.length > 0,
      },
    );
  }

  /**
   * The new layer of today: the first, as they are taught, that was neither practised on a day before nor put off today; null
   * after the last.
   */
  get layer(): LayerId | null {
    const today = this.#today();
    const before = this.#values.layers.filter(({ day }) => day !== today).map(({ id }) => id);
    const putOff = this.#values.putOff.filter(({ day }) => day === today).map(({ id }) => id);
    return layerIds.find((id) => !before.includes(id) && !putOff.includes(id)) ?? null;
  }
  /** Puts the new layer of today off to another day, since it cannot be made here or is not wanted: the next one comes. */
  putOff(layer: LayerId): void {
    const today = this.#today();
    const kept = this.#values.putOff.filter(({ id, day }) => day === today && id !== layer);
    this.#keep({ putOff: [...kept, { id: layer, day: today }] });
  }
  /** Whether layers were put off today. */
  get hasPutOff(): boolean {
    return this.#values.putOff.some(({ day }) => day === this.#today());
  }
  /** Takes them back. */
  takeBack(): void {
    this.#keep({ putOff: [] });
  }
  /** How many layers were practised, those of today with them. */
  get practised(): number {
    return this.#values.layers.length;
  }

  /** Passes of today. */
  get passes(): { readonly clean: number; readonly all: number } {
    return this.#values.passes.find(({ day }) => day === this.#today()) ?? { clean: 0, all: 0 };
  }
  /**
   * A pass was played. The first clean one of a layer makes that one practised.
   * @param layer of the lesson that lay on the sheet; null where none did
   */
  addPass(isClean: boolean, layer: LayerId | null = null): void {
    const { clean, all } = this.passes;
    const today = { day: this.#today(), clean: clean + (isClean ? 1 : 0), all: all + 1 };
    const others = this.#values.passes.filter(({ day }) => day !== today.day);
    const { layers } = this.#values;
    const isNew = isClean && layer !== null && layers.every(({ id }) => id !== layer);
    this.#keep({
      passes: [...others, today].slice(-mostDays),
      ...(isNew ? { layers: [...layers, { id: layer, day: today.day }] } : {}),
    });
  }

  get #introduced(): number {
    const { fresh } = this.#values;
    return fresh.day === this.#today() ? fresh.count : 0;
  }

  #dealt(): readonly Card[] {
    const { records, returns, newADay, order } = this.#values;
    const today = this.#today();
    const cards = cardsOfDay(deck, records, today, { returns, newADay }, this.#introduced);
    return inOrder(cards, order, seedOf(today, order));
  }

  #keep(part: Partial<LessonValues>): void {
    this.#values = { ...this.#values, ...part };
    try {
      this.#storage?.setItem(lessonsKey, JSON.stringify(this.#values));
    } catch {
      // Storage that refuses does no harm: the day goes on without it.
    }
  }
}

/** The same order all day, another one the next. */
const seedOf = (day: string, order: CardOrder): number =>
  order === 'blocks' ? 0 : Number(day.replaceAll('-', ''));
