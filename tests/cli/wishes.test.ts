import { describe, expect, it } from 'vitest';
import { parseCommand } from '../../src/cli/arguments';
import { walkOutcome } from '../../src/cli/commands';
import { parsePin, parseStay } from '../../src/cli/wishes';

describe('a pin outside the form', () => {
  const said = (pin: string): readonly string[] => {
    const command = parseCommand(['walk', 'x', '--pin', pin]);
    if (command.command !== 'walk') throw new Error('not a command to walk');
    return walkOutcome(new TextEncoder().encode('| F7 | Bb7 |'), 'x', command).messages;
  };
  it.each([
    ['20.1=F1', '--pin 20.1 is not kept: the form has 2 bars in playing order'],
    ['0.1=F1', '--pin 0.1 is not kept: the form has 2 bars in playing order'],
    ['2.5=F1', '--pin 2.5 is not kept: bar 2 has 4 beats'],
  ])('%s is told', (pin, message) => expect(said(pin)).toContain(message));

  it('is not spoken of where it is inside', () => expect(said('2.4=open')).toEqual([]));
});

describe('a string in a pin', () => {
  const pinned = (...args: string[]): unknown => {
    const command = parseCommand(['walk', 'x', ...args]);
    return command.command === 'walk' ? command.pins[0] : null;
  };

  it('is one of the bass that is asked for, by the letter it is tuned to there or by its numeral', () => {
    const five = ['--bass', 'bass-low-b'];
    expect(pinned(...five, '--pin', '1.1=@B')).toEqual({ bar: 1, beat: 1, string: 5 });
    expect(pinned(...five, '--pin', '1.1=@V')).toEqual({ bar: 1, beat: 1, string: 5 });
    const own = ['--tuning', 'E1 A1 D2 Gb2'];
    expect(pinned(...own, '--pin', '1.1=@Gb')).toEqual({ bar: 1, beat: 1, string: 1 });
    expect(() => pinned(...own, '--pin', '1.1=@G')).toThrow(/--pin takes .*@D or @II/);
  });
});

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

describe('longest stays', () => {
  it.each([
    ['8', { region: 'low', beats: 8 }],
    ['any=8', { region: 'any', beats: 8 }],
    ['neck-block=4', { region: 'neck block', beats: 4 }],
  ])('%s', (text, stay) => {
    expect(parseStay(text)).toEqual(stay);
  });

  it.each(['0', '65', '2.5', 'any', 'attic=3', 'any=', 'low=1=2'])('%s is refused in words', (text) => {
    expect(parseStay(text)).toMatch(/^--stay takes beats .*any=8/);
  });
});
