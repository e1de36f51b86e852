// What is kept and what is let go of.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { getOrMake, makeCache, Numbers } from '../../src/cache';

describe('a cache', () => {
  it('lets go of what was asked for longest ago', () => {
    const cache = makeCache<string, number>({ most: 2 });
    cache.set('a', 1);
    cache.set('b', 2);
    cache.get('a');
    cache.set('c', 3);
    expect([...cache.entries()]).toEqual([
      ['c', 3],
      ['a', 1],
    ]);
  });

  it('is looked into without a change to the order', () => {
    const cache = makeCache<string, number>({ most: 2 });
    cache.set('a', 1);
    cache.set('b', 2);
    expect(cache.peek('a')).toBe(1);
    cache.set('c', 3);
    expect(cache.peek('a')).toBeUndefined();
  });

  it('counts sizes, and how many there are where that is limited, too', () => {
    const cache = makeCache<string, string>({ most: 10, sizeOf: ({ length }) => length, mostValues: 3 });
    for (const text of ['aaaa', 'bbbb', 'cc']) cache.set(text, text);
    expect(cache.calculatedSize).toBe(10);
    cache.set('d', 'd');
    expect([...cache.keys()]).toEqual(['d', 'cc', 'bbbb']);
    cache.set('b', 'b');
    expect([...cache.keys()]).toEqual(['b', 'd', 'cc']);
  });

  it('keeps what is larger than all its room alone', () => {
    const cache = makeCache<string, number>({ most: 10, sizeOf: (size) => size });
    cache.set('small', 1);
    cache.set('large', 99);
    expect([...cache.keys()]).toEqual(['large']);
  });

  it('holds what a list in the order of use holds', () => {
    const deed = fc.record({ key: fc.nat(9), isRead: fc.boolean() });
    fc.assert(
      fc.property(fc.array(deed, { maxLength: 60 }), fc.integer({ min: 1, max: 6 }), (deeds, most) => {
        const cache = makeCache<number, string>({ most });
        let model: number[] = [];
        for (const { key, isRead } of deeds) {
          const isThere = model.includes(key);
          if (isRead) expect(cache.get(key)).toBe(isThere ? `${key}` : undefined);
          else cache.set(key, `${key}`);
          if (isThere || !isRead) model = [key, ...model.filter((one) => one !== key)].slice(0, most);
          expect([...cache.keys()]).toEqual(model);
        }
      }),
    );
  });
});

describe('getOrMake', () => {
  it('makes a value once, nought among them, and null in a plain map', () => {
    const cache = makeCache<string, number>({ most: 2 });
    const map = new Map<string, null>();
    let made = 0;
    const nought = (): number => made++ * 0;
    expect([getOrMake(cache, 'a', nought), getOrMake(cache, 'a', nought)]).toEqual([0, 0]);
    expect(made).toBe(1);
    expect(getOrMake(map, 'a', () => null)).toBeNull();
    expect(map.has('a')).toBe(true);
  });
});

describe('numbers', () => {
  it('are those of their keys while these are kept, and never given twice', () => {
    const numbers = new Numbers<string>(2);
    const [a, b] = [numbers.of('a'), numbers.of('b')];
    expect(numbers.of('a')).toBe(a);
    const c = numbers.of('c');
    expect(numbers.of('b')).not.toBe(b);
    expect(new Set([a, b, c, numbers.of('b')]).size).toBe(4);
  });
});
