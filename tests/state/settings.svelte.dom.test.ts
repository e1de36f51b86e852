import { describe, expect, it } from 'vitest';
import { defaultPreferences, loadPreferences } from '../../src/state/preferences';
import { Settings } from '../../src/state/settings.svelte';
import { memoryStorage } from './memory-shelf';

describe('settings in two tabs', () => {
  it('keep what only one of them changed', () => {
    const storage = memoryStorage();
    const [one, two] = [new Settings(storage), new Settings(storage)];
    one.change({ bench: { own: 'F1 A1 C2' } });
    two.change({ theme: 'stage' });
    two.changePart('bass', { on: false });
    one.change({ countInBars: 2 });
    const stored = loadPreferences(storage);
    expect(stored).toMatchObject({ bench: { own: 'F1 A1 C2' }, theme: 'stage', countInBars: 2 });
    expect(stored.mix.bass.on).toBe(false);
    expect(one.values.theme).toBeNull();
  });

  it('let the last one win where both changed the same', () => {
    const storage = memoryStorage();
    const [one, two] = [new Settings(storage), new Settings(storage)];
    one.change({ swing: 2 });
    two.change({ swing: 3 });
    expect(loadPreferences(storage).swing).toBe(3);
  });

  it('work without a storage, and with one that refuses', () => {
    const refusing = {
      getItem: (): string => {
        throw new DOMException('no', 'SecurityError');
      },
      setItem: (): void => {
        throw new DOMException('no', 'QuotaExceededError');
      },
    };
    for (const storage of [null, refusing]) {
      let told = 0;
      const settings = new Settings(storage, () => void told++);
      settings.change({ theme: 'day' });
      settings.change({ swing: 2 });
      expect(settings.values).toEqual({ ...defaultPreferences, theme: 'day', swing: 2 });
      expect(told).toBe(0);
      for (const own of ['F1', 'F1 A1']) settings.change({ bench: { own } });
      expect(told).toBe(1);
    }
  });
});
