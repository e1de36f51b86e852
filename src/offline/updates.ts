// The page's side of working offline: it registers the service worker and hears of new versions.
import type { Workbox } from 'workbox-window';

export interface UpdateParts {
  /** Address of the built service worker. */
  readonly worker: string;
  /** A new version is there and waits; `take` puts it in place and loads the page again. */
  readonly onwaiting: (take: () => void) => void;
  /** What must be done before the page is loaded again. */
  readonly beforeReload: () => Promise<void>;
  readonly reload: () => void;
  /** Makes the registering client; tests bring their own. */
  readonly connect?: (
    worker: string,
  ) => Promise<Pick<Workbox, 'addEventListener' | 'messageSkipWaiting' | 'register'>>;
}

/** The library is fetched after the page stands: it is not needed before. */
const connectWorkbox: NonNullable<UpdateParts['connect']> = async (worker) => {
  const library = await import('workbox-window');
  return new library.Workbox(worker);
};

/**
 * Makes the program work without a connection from the next visit on. Where the browser has no service workers, or does
 * not allow them (a private window), the program works as before, online.
 *
 * @returns whether a service worker is registered
 */
export async function keepOffline(parts: UpdateParts): Promise<boolean> {
  try {
    const client = await (parts.connect ?? connectWorkbox)(parts.worker);
    let isTaken = false;
    client.addEventListener('waiting', () => {
      parts.onwaiting(() => {
        isTaken = true;
        client.messageSkipWaiting();
      });
    });
    client.addEventListener('controlling', () => {
      // The first visit is taken over, too; only an update the person asked for loads the page again.
      if (isTaken) void parts.beforeReload().then(parts.reload, parts.reload);
    });
    await client.register();
    return true;
  } catch {
    return false;
  }
}
