// Cards: a device into a note of a chord, in a key. The player says "had it" or "not yet"; the card comes back after some
// days. How many is a setting; the usual ones are a convention.
import data from '../../../shared/lessons/practice.json' with { type: 'json' };
import { seededRandom, type NoteName } from '../../music';
import type { ChordPart, DeviceId } from '../../pipeline';

export interface Card {
  readonly device: DeviceId;
  /** The part of the chord that it leads into. */
  readonly into: ChordPart;
  /** The root of that chord. */
  readonly root: NoteName;
}

/** What is known of a card: days are as the player counts them, such as "2030-02-28". */
export interface CardRecord {
  readonly id: string;
  /** How often in a row it was had. */
  readonly streak: number;
  /** The day it comes back. */
  readonly due: string;
  readonly asked: number;
  readonly had: number;
}

export interface CardSettings {
  /** Days until a card comes back after it was had once, twice and so on in a row; rising. */
  readonly returns: readonly number[];
  /** New cards a day. */
  readonly newADay: number;
}

export const usualCardSettings: CardSettings = {
  returns: data.cards.returns.days,
  newADay: data.cards.new.aDay,
};

export const cardId = ({ device, into, root }: Card): string => `${device}|${into}|${root}`;

const dayMilliseconds = 86_400_000;

/** The day some days after another. */
export const dayAfter = (day: string, days: number): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * dayMilliseconds).toISOString().slice(0, 10);

/** What is known of a card once it was answered; one that was not had comes back the next day. */
export function answered(
  before: CardRecord | undefined,
  card: Card,
  isHad: boolean,
  today: string,
  { returns }: CardSettings,
): CardRecord {
  const streak = isHad ? (before?.streak ?? 0) + 1 : 0;
  const days = isHad ? (returns[Math.min(streak, returns.length) - 1] ?? 1) : 1;
  return {
    id: cardId(card),
    streak,
    due: dayAfter(today, days),
    asked: (before?.asked ?? 0) + 1,
    had: (before?.had ?? 0) + (isHad ? 1 : 0),
  };
}

/**
 * The cards of a day: those that are due, the longest due first, then new ones in the order of the deck. New cards asked
 * today already count among the day's.
 *
 * @param introduced how many cards were new today so far
 */
export function cardsOfDay(
  deck: readonly Card[],
  records: readonly CardRecord[],
  today: string,
  settings: CardSettings,
  introduced = 0,
): readonly Card[] {
  const known = new Map(records.map((record) => [record.id, record]));
  const due = deck
    .flatMap((card) => {
      const record = known.get(cardId(card));
      return record && record.due <= today ? [{ card, day: record.due }] : [];
    })
    .toSorted((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0))
    .map(({ card }) => card);
  const fresh = deck.filter((card) => !known.has(cardId(card)));
  return [...due, ...fresh.slice(0, Math.max(0, settings.newADay - introduced))];
}

export const cardOrders = ['blocks', 'mixed'] as const;
/** One device after another, or in turn. Which of them teaches better is open. */
export type CardOrder = (typeof cardOrders)[number];

/** Mixed, no device comes twice in a row while another is left. */
export function inOrder(cards: readonly Card[], order: CardOrder, seed: number): readonly Card[] {
  const groups = new Map<DeviceId, Card[]>();
  for (const card of cards) groups.set(card.device, [...(groups.get(card.device) ?? []), card]);
  if (order === 'blocks') return [...groups.values()].flat();
  const random = seededRandom(seed);
  const left = [...groups.values()];
  const result: Card[] = [];
  while (result.length < cards.length) {
    const others = left.filter(([first]) => first && first.device !== result.at(-1)?.device);
    const open = others.length > 0 ? others : left.filter(({ length }) => length > 0);
    // The fullest first, so that none is left to the end; chance among equals.
    const most = Math.max(...open.map(({ length }) => length));
    const fullest = open.filter(({ length }) => length === most);
    result.push(fullest[Math.floor(random() * fullest.length)]!.shift()!);
  }
  return result;
}

/** Devices that a player has: asked more than once, and each of their cards had the last time. */
export function knownDevices(deck: readonly Card[], records: readonly CardRecord[]): readonly DeviceId[] {
  const known = new Map(records.map((record) => [record.id, record]));
  const devices = [...new Set(deck.map(({ device }) => device))];
  return devices.filter((device) => {
    const own = deck.flatMap((card) => (card.device === device ? (known.get(cardId(card)) ?? []) : []));
    return own.length > 0 && own.every(({ streak }) => streak > 0) && own.some(({ streak }) => streak > 1);
  });
}
