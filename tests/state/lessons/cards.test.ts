// Cards and their returns.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { noteName } from '../../../src/music';
import type { deviceIds } from '../../../src/pipeline';
import {
  answered,
  cardId,
  cardsOfDay,
  dayAfter,
  inOrder,
  knownDevices,
  usualCardSettings,
  type Card,
  type CardRecord,
} from '../../../src/state/lessons/cards';

const card = (device: (typeof deviceIds)[number], root = 'F'): Card => ({
  device,
  into: 'root',
  root: noteName(root),
});
const below = card('semitone below');
const today = '2030-02-27';

describe('days', () => {
  it('go over the ends of months and years', () => {
    expect(dayAfter('2030-02-28', 1)).toBe('2030-03-01');
    expect(dayAfter('2032-02-28', 1)).toBe('2032-02-29');
    expect(dayAfter('2030-12-31', 7)).toBe('2031-01-07');
  });
});

describe('a card', () => {
  it('comes back after 1, 3 and 7 days while it is had, then always after 7', () => {
    let record: CardRecord | undefined;
    let day = today;
    const gaps: number[] = [];
    for (let time = 0; time < 5; time++) {
      record = answered(record, below, true, day, usualCardSettings);
      gaps.push((Date.parse(record.due) - Date.parse(day)) / 86_400_000);
      day = record.due;
    }
    expect(gaps).toEqual([1, 3, 7, 7, 7]);
    expect(record).toMatchObject({ streak: 5, asked: 5, had: 5 });
  });

  it('that was not had comes back the next day and begins anew', () => {
    const twice = [1, 2].reduce<CardRecord | undefined>(
      (before) => answered(before, below, true, today, usualCardSettings),
      undefined,
    );
    const missed = answered(twice, below, false, today, usualCardSettings);
    expect(missed).toMatchObject({ streak: 0, due: '2030-02-28', asked: 3, had: 2 });
    expect(answered(missed, below, true, today, usualCardSettings).due).toBe('2030-02-28');
  });

  it('keeps to the returns that the player set', () => {
    const settings = { returns: [2, 10], newADay: 1 };
    const once = answered(undefined, below, true, today, settings);
    expect(once.due).toBe('2030-03-01');
    expect(answered(once, below, true, once.due, settings).due).toBe('2030-03-11');
    expect(answered(undefined, below, true, today, { returns: [], newADay: 1 }).due).toBe('2030-02-28');
  });
});

describe('the cards of a day', () => {
  const deck = [below, card('semitone above'), card('step above'), card('from the fifth'), card('displaced')];
  const record = (of: Card, due: string, streak = 1): CardRecord => ({
    id: cardId(of),
    streak,
    due,
    asked: streak,
    had: streak,
  });

  it('are those due, the longest due first, then new ones up to the number a day', () => {
    const records = [record(deck[1]!, today), record(deck[2]!, '2030-02-20'), record(deck[0]!, '2030-02-28')];
    const settings = { ...usualCardSettings, newADay: 1 };
    expect(cardsOfDay(deck, records, today, settings)).toEqual([deck[2], deck[1], deck[3]]);
    expect(cardsOfDay(deck, records, today, settings, 1)).toEqual([deck[2], deck[1]]);
    expect(cardsOfDay(deck, records, dayAfter(today, 1), settings)).toHaveLength(4);
    expect(cardsOfDay(deck, [], today, usualCardSettings)).toHaveLength(5);
  });

  it('come device by device, or mixed so that none follows itself while another is left', () => {
    const ids = ['semitone below', 'semitone above', 'displaced'] as const;
    const anyCards = fc.array(
      fc.record({ device: fc.constantFrom(...ids), root: fc.constantFrom('C', 'F', 'Bb') }),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(anyCards, fc.nat(), (rows, seed) => {
        const cards = rows.map(({ device, root }) => card(device, root));
        const blocks = inOrder(cards, 'blocks', seed);
        const mixed = inOrder(cards, 'mixed', seed);
        for (const order of [blocks, mixed])
          expect(order.map(cardId).toSorted()).toEqual(cards.map(cardId).toSorted());
        const changes = blocks.filter((one, index) => one.device !== blocks[index - 1]?.device).length;
        expect(changes).toBe(new Set(cards.map(({ device }) => device)).size);
        mixed.forEach((one, index) => {
          const before = mixed[index - 1];
          if (before?.device !== one.device) return;
          expect(mixed.slice(index).every(({ device }) => device === one.device)).toBe(true);
        });
        expect(inOrder(cards, 'mixed', seed)).toEqual(mixed);
      }),
    );
  });

  it('make a device known once it was had more than once and every card of it the last time', () => {
    const other = card('semitone below', 'C');
    const all = [below, other];
    expect(knownDevices(all, [])).toEqual([]);
    expect(knownDevices(all, [record(below, today, 1)])).toEqual([]);
    expect(knownDevices(all, [record(below, today, 2)])).toEqual(['semitone below']);
    expect(knownDevices(all, [record(below, today, 2), record(other, today, 0)])).toEqual([]);
  });
});
