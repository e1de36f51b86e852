import { describe, expect, it } from 'vitest';
import { parsePin } from '../../src/cli/wishes';

describe('pins that ask for a part', () => {
  it.each([
    ['3.1=root', { bar: 3, beat: 1, role: 'root' }],
    ['12.2.5=open', { bar: 12, beat: 2.5, role: 'open' }],
    ['1.4=stopped', { bar: 1, beat: 4, role: 'stopped' }],
  ])('%s', (text, pin) => {
    expect(parsePin(text)).toEqual(pin);
  });

  it.each(['3.1=Root@II', '3.1=roots', '=open', '3=open'])('%s is refused in words', (text) => {
    expect(parsePin(text)).toMatch(/^--pin takes .*root/);
  });
});
