// What the browser remembers for one tab, over a reload.

export interface TabMemory {
  get(key: TabKey): string | null;
  set(key: TabKey, value: string | null): void;
}

/** The study that is open, and the page that worked on it. */
export const tabKeys = ['open', 'page'] as const;
export type TabKey = (typeof tabKeys)[number];

/** A browser that keeps nothing for the tab only means that a reload opens the study worked on last. */
export function tabMemory(storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | null): TabMemory {
  const quietly = <Value>(use: () => Value, otherwise: Value): Value => {
    try {
      return use();
    } catch {
      return otherwise;
    }
  };
  return {
    get: (key) => quietly(() => storage?.getItem(`ramble.${key}`) ?? null, null),
    set: (key, value) => {
      quietly(
        () =>
          value === null ? storage?.removeItem(`ramble.${key}`) : storage?.setItem(`ramble.${key}`, value),
        undefined,
      );
    },
  };
}
