// Which pages of the program live: each holds a lock of its name for as long as it is there, which no crash can forget.

/** The part of the browser's locks that is needed. */
export interface PageLocks {
  request(name: string, work: () => Promise<unknown>): Promise<unknown>;
  query(): Promise<{ readonly held?: readonly { readonly name?: string }[] }>;
}

const lockName = 'ramble.page.';

/** Makes a page known as living until it ends. */
export function live(locks: PageLocks | null, page: string): void {
  locks?.request(`${lockName}${page}`, () => new Promise(() => undefined)).catch(() => undefined);
}

/** Ids of the pages that live; null where the browser cannot tell. */
export async function livingPages(locks: PageLocks | null): Promise<ReadonlySet<string> | null> {
  try {
    const held = (await locks?.query())?.held;
    if (!held) return null;
    return new Set(
      held.flatMap(({ name }) => (name?.startsWith(lockName) ? [name.slice(lockName.length)] : [])),
    );
  } catch {
    return null;
  }
}

/** Runs work while no other page does the same; at once where the browser has no locks. */
export async function alone(locks: PageLocks | null, work: () => void): Promise<void> {
  let isDone = false;
  const once = (): Promise<void> => {
    if (!isDone) work();
    isDone = true;
    return Promise.resolve();
  };
  try {
    await locks?.request('ramble.alone', once);
  } catch {
    // A page that may not use locks does its work all the same.
  }
  await once();
}
