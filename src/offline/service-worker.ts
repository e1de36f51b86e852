// Keeps the whole program on the device after the first visit, and serves it from there. A new version is fetched beside
// the old one and waits until the person asks for it: a page never changes under somebody who plays.
import { clientsClaim } from 'workbox-core';
import { cleanupOutdatedCaches, precacheAndRoute, type PrecacheEntry } from 'workbox-precaching';

/** Every file of the built program with its revision; the build puts the list here. */
declare const programFiles: PrecacheEntry[];

/** What is used of the global scope of a service worker; the page's types do not know it. */
interface WorkerScope {
  addEventListener(type: 'message', listener: (event: MessageEvent<unknown>) => void): void;
  skipWaiting(): Promise<void>;
}
const scope = self as unknown as WorkerScope;

scope.addEventListener('message', ({ data }) => {
  if (typeof data === 'object' && data !== null && 'type' in data && data.type === 'SKIP_WAITING')
    void scope.skipWaiting();
});

cleanupOutdatedCaches();
// The first page, too, gets what it asks for later from the files kept here, and holds back the next version.
clientsClaim();
precacheAndRoute(programFiles, { directoryIndex: 'index.html', cleanURLs: false });
