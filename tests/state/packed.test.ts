// Plain values as text and back, shared objects included.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pack, unpack } from '../../src/state';

const numbers = fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
const plain = fc.letrec((tie) => ({
  value: fc.oneof(
    { maxDepth: 4 },
    fc.string(),
    fc.boolean(),
    fc.constant(null),
    fc.constant(undefined),
    fc.integer(),
    numbers.filter((value) => !Object.is(value, -0)),
    fc.array(tie('value'), { maxLength: 4 }),
    fc.dictionary(
      fc.string().filter((field) => field !== '__proto__'),
      tie('value'),
      { maxKeys: 4, noNullPrototype: true },
    ),
  ),
})).value;

describe('packed values', () => {
  it('come back as they were', () => {
    fc.assert(
      fc.property(plain, (value) => {
        expect(unpack(pack(value))).toStrictEqual(value);
      }),
    );
  });

  it('keep one object one object', () => {
    const chord = { root: 'F' };
    const read = unpack(pack({ first: chord, others: [chord, { root: 'F' }] })) as {
      first: object;
      others: object[];
    };
    expect(read.others[0]).toBe(read.first);
    expect(read.others[1]).not.toBe(read.first);
    expect(pack([chord, chord]).split('"root"')).toHaveLength(2);
  });

  it('refuse what JSON would change', () => {
    for (const value of [Number.NaN, Infinity, -0, () => 0, new Map(), new Uint8Array(1)])
      expect(() => pack([value])).toThrow(TypeError);
  });
});
