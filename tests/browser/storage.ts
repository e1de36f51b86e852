// What a browser's storage can do to a page, made to happen before the page's first line runs.
import type { BrowserContext, Page } from '@playwright/test';

type Scripted = Pick<Page | BrowserContext, 'addInitScript'>;

/** The database opens, and tells that something is stored, so many milliseconds later than it would; Infinity is never. */
export const slowDatabase = (scripted: Scripted, milliseconds: number): Promise<unknown> =>
  scripted.addInitScript(
    (wait) => {
      const delay = (target: typeof IDBOpenDBRequest | typeof IDBTransaction, event: string): void => {
        const plain = EventTarget.prototype.addEventListener;
        target.prototype.addEventListener = function (
          this: EventTarget,
          type: string,
          listener: EventListenerOrEventListenerObject | null,
          options?: boolean | AddEventListenerOptions,
        ) {
          const later = (told: Event): void => {
            if (wait < 1e9)
              setTimeout(() => {
                if (typeof listener === 'function') listener.call(this, told);
              }, wait);
          };
          plain.call(this, type, type === event ? later : listener, options);
        };
      };
      delay(IDBOpenDBRequest, 'success');
      delay(IDBTransaction, 'complete');
    },
    Math.min(milliseconds, 1e9),
  );

/** Opening the database fails: with an error, or because there is none. */
export const refuseDatabase = (scripted: Scripted, how: 'denied' | 'absent'): Promise<unknown> =>
  scripted.addInitScript((manner) => {
    if (manner === 'absent') Object.defineProperty(globalThis, 'indexedDB', { value: undefined });
    else
      IDBFactory.prototype.open = () => {
        throw new DOMException('The operation is insecure.', 'SecurityError');
      };
  }, how);

/** The page's quick storage is refused, or full. */
export const refuseJournal = (scripted: Scripted, how: 'denied' | 'full'): Promise<unknown> =>
  scripted.addInitScript((manner) => {
    if (manner === 'full')
      Storage.prototype.setItem = () => {
        throw new DOMException('exceeded the quota', 'QuotaExceededError');
      };
    else
      for (const name of ['localStorage', 'sessionStorage'])
        Object.defineProperty(globalThis, name, {
          get: () => {
            throw new DOMException('Access is denied for this document.', 'SecurityError');
          },
        });
  }, how);

/** Writes records into the database as they are. */
export const putRecords = (page: Page, records: readonly object[]): Promise<void> =>
  page.evaluate(
    (all) =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('ramble', 1);
        opening.onupgradeneeded = () => opening.result.createObjectStore('studies', { keyPath: 'id' });
        opening.onerror = () => reject(new Error('not opened'));
        opening.onsuccess = () => {
          const writing = opening.result.transaction('studies', 'readwrite');
          for (const record of all) writing.objectStore('studies').put(record);
          writing.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      }),
    records,
  );

/** A page of the same site with nothing on it. */
export async function openBlank(page: Page): Promise<void> {
  await page.route('**/blank', (route) =>
    route.fulfill({
      contentType: 'text/html',
      body: '<!doctype html><link rel="icon" href="data:," /><p>blank',
    }),
  );
  await page.goto('./blank');
}
