import { describe, expect, it } from 'vitest';
import { noteName } from '../../src/music';
import { signatureOf, findKey, keyId, keysOf } from '../../src/state/keys';

describe('keys', () => {
  // The circle of fifths, as in any theory primer.
  it.each([
    ['C', 'major', 0],
    ['F', 'major', -1],
    ['Db', 'major', -5],
    ['F#', 'major', 6],
    ['Gb', 'major', -6],
    ['A', 'minor', 0],
    ['D', 'minor', -1],
    ['G#', 'minor', 5],
    ['Eb', 'minor', -6],
    ['G#', 'major', 8],
  ] as const)('%s %s has %i fifths', (tonic, mode, fifths) => {
    expect(signatureOf(noteName(tonic), mode)).toBe(fifths);
  });

  it('offers only keys a signature can show, each found again by its id', () => {
    for (const mode of ['major', 'minor'] as const) {
      const keys = keysOf(mode);
      expect(keys.every((key) => Math.abs(key.fifths) <= 7)).toBe(true);
      for (const key of keys) expect(findKey(keyId(key))).toEqual(key);
    }
    expect(findKey('H major')).toBeUndefined();
  });
});
