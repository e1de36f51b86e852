import { describe, expect, it } from 'vitest';
import {
  needsSheet,
  shortcutOf,
  type KeyPlace,
  type KeyPress,
  type ShortcutName,
} from '../../../src/ui/shared/shortcuts';
import { makeTapper } from '../../../src/ui/transport/tap';
import { fileName } from '../../../src/ui/shared/download';

const press = (key: string, held: Partial<KeyPress> = {}): KeyPress => ({
  key,
  ctrlKey: false,
  metaKey: false,
  shiftKey: false,
  altKey: false,
  ...held,
});

describe('shortcuts', () => {
  it('that change the sheet need it in sight; those of the whole page do not', () => {
    expect((['redraw', 'keep bar', 'pin', 'next'] as const).map(needsSheet)).toEqual([
      true,
      true,
      true,
      true,
    ]);
    expect((['play', 'auditions', 'undo', 'close', 'help'] as const).some(needsSheet)).toBe(false);
  });

  it.each<[KeyPress, KeyPlace, ShortcutName | undefined]>([
    [press(' '), 'page', 'play'],
    [press(' '), 'control', undefined],
    [press('r'), 'control', 'redraw'],
    [press('R', { shiftKey: true }), 'control', 'new take'],
    [press('ArrowDown'), 'control', 'way after'],
    [press('ArrowUp'), 'slider', undefined],
    [press('Backspace'), 'page', 'unpin'],
    [press('Backspace'), 'writing', undefined],
    [press('k'), 'page', 'keep bar'],
    [press('a'), 'control', 'auditions'],
    [press('a'), 'writing', undefined],
    [press('r'), 'writing', undefined],
    [press('r', { ctrlKey: true }), 'page', undefined],
    [press('ArrowLeft'), 'page', 'previous'],
    [press('ArrowRight'), 'slider', undefined],
    [press('z', { ctrlKey: true }), 'page', 'undo'],
    [press('Z', { metaKey: true, shiftKey: true }), 'control', 'redo'],
    [press('y', { ctrlKey: true }), 'page', 'redo'],
    [press('z', { ctrlKey: true }), 'writing', undefined],
    [press('?', { shiftKey: true }), 'page', 'help'],
    [press('Escape'), 'writing', 'close'],
    [press('Enter'), 'page', 'pin'],
    [press('Enter'), 'control', undefined],
    [press('Delete'), 'page', 'unpin'],
    [press('Delete'), 'writing', undefined],
    [press('d'), 'page', 'devices'],
    [press('D'), 'control', 'devices'],
    [press('d'), 'writing', undefined],
    [press('x'), 'page', undefined],
  ])('%o at %s means %s', (key, place, expected) => {
    expect(shortcutOf(key, place)).toBe(expected);
  });
});

describe('tapping a tempo', () => {
  it('gives the mean of the last taps and starts again after a pause', () => {
    const tapper = makeTapper();
    expect(tapper.tap(0)).toBeNull();
    expect(tapper.tap(500)).toBe(120);
    expect(tapper.tap(1_000)).toBe(120);
    expect(tapper.tap(9_000)).toBeNull();
    expect(tapper.tap(9_400)).toBe(150);
  });
});

describe('file names', () => {
  it('come from any title', () => {
    expect(fileName('Back Stairs Blues', 'mid')).toBe('back-stairs-blues.mid');
    expect(fileName('../../É<tude> №7', 'musicxml')).toBe('e-tude-no7.musicxml');
    expect(fileName('♭♯', 'mid')).toBe('study.mid');
  });
});
