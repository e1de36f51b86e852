// What is drawn a little after something else.
import { flushSync } from 'svelte';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { after } from '../../../src/ui/shared/after.svelte';

describe('what comes some pictures later', () => {
  let pictures: (() => void)[] = [];
  beforeEach(() => {
    pictures = [];
    vi.useFakeTimers();
    vi.stubGlobal('requestAnimationFrame', (then: () => void) => pictures.push(then));
  });
  afterEach(() => {
    vi.unstubAllGlobals();
    vi.useRealTimers();
  });
  /** One picture: its callbacks, then what is scheduled in them. */
  function paint(): void {
    for (const callback of pictures.splice(0)) callback();
    vi.advanceTimersByTime(1);
    flushSync();
  }

  it('is the value itself at first, then follows by so many pictures, the latest one alone', () => {
    let value = $state('a');
    let late: (() => string) | undefined;
    const end = $effect.root(() => {
      late = after(2, () => value);
    });
    flushSync();
    expect(late?.()).toBe('a');
    paint();
    paint();
    value = 'b';
    flushSync();
    expect(late?.()).toBe('a');
    paint();
    expect(late?.()).toBe('a');
    value = 'c';
    flushSync();
    paint();
    expect(late?.()).toBe('a');
    paint();
    expect(late?.()).toBe('c');
    end();
  });
});
