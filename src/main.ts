// The composition root: builds everything and puts it on the page. The only file that knows all layers.
import { mount } from 'svelte';
import { keepOffline } from './offline';
import { makePlayback } from './playback';
import {
  Beside,
  ChartOpener,
  demosOf,
  Focus,
  Library,
  newStudy,
  Notices,
  Playing,
  PracticeLog,
  Settings,
  Studio,
} from './state';
import App from './ui/App.svelte';
import './ui/shared/fonts.css';
import './ui/tokens.css';
import './ui/base.css';
import './ui/print.css';
import { rambleContext, type Ramble } from './ui/shared/context';
import { Panels } from './ui/shared/panels.svelte';
import { TaskClient, type Answered, type OnProgress, type TaskName } from './worker';

const demos = demosOf(
  import.meta.glob<string>('../shared/charts/*.txt', { query: '?raw', import: 'default', eager: true }),
);

/** The browser's storage, null where a page may not use it. */
function storageOf(read: () => Storage): Storage | null {
  try {
    return read();
  } catch {
    return null;
  }
}

/** Random ids; `randomUUID` is missing on pages served without encryption. */
const newId = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(12)), (byte) => byte.toString(16).padStart(2, '0')).join(
    '',
  );

/** Keeps the screen awake where the browser can; it lets go when the page is hidden, so it is asked again on return. */
function keepAwake(): () => void {
  let lock: WakeLockSentinel | null = null;
  let isWanted = true;
  const ask = async (): Promise<void> => {
    if (!isWanted || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
    try {
      lock = await navigator.wakeLock.request('screen');
      if (!isWanted) void lock.release();
    } catch {
      lock = null;
    }
  };
  const onVisible = (): void => void ask();
  document.addEventListener('visibilitychange', onVisible);
  onVisible();
  return () => {
    isWanted = false;
    document.removeEventListener('visibilitychange', onVisible);
    void lock?.release();
  };
}

const notices = new Notices();
const settings = new Settings(storageOf(() => localStorage));
/** A client with a worker of its own, or with the same computations on this thread where there are no workers. */
const connect =
  <Name extends TaskName>(task: Name, patience: number) =>
  (
    onanswer: (answered: Answered<Name>) => void,
    onfailure: (message: string) => void,
    onprogress: OnProgress = () => undefined,
  ): TaskClient<Name> =>
    new TaskClient({
      task,
      patience,
      startWorker: () => new Worker(new URL('./worker/worker.ts', import.meta.url), { type: 'module' }),
      loadDoers: async () => (await import('./worker/doers')).doers,
      onanswer,
      onfailure,
      onprogress,
    });
const studio = new Studio({
  study: newStudy(demos[0]?.text ?? ''),
  connect: connect('walk', 2_000),
  connectExplainer: connect('explain', 400),
  now: () => performance.now(),
  onchange: () => {
    library.touch();
  },
  onkept: () => {
    if (library.saveState !== 'untouched') library.touch();
  },
  onlost: (what) => {
    notices.show({ code: what === 'notes' ? 'notes lost' : 'locks lost' });
  },
});
const opener = new ChartOpener(connect('read', 0));
const beside = new Beside(studio, connect('walk', 300));
const log = new PracticeLog(
  storageOf(() => localStorage),
  () => new Date().toLocaleDateString('sv'),
);
const library = new Library({
  desk: studio,
  notices,
  log,
  now: () => Date.now(),
  newId,
  tab: storageOf(() => sessionStorage),
});
/** Folder of the sound samples. */
const samples = './samples/';
const playing = new Playing({
  studio,
  settings,
  notices,
  samples,
  makePlayback: (options) => makePlayback({ samples, ...options }),
  nextFrame: (frame) => {
    const request = requestAnimationFrame(frame);
    return () => {
      cancelAnimationFrame(request);
    };
  },
  connectNext: connect('walk', 400),
  now: () => performance.now(),
  keepAwake,
  log,
  studyId: () => library.deskId,
});
playing.connect();
const focus = new Focus(studio, playing);
const panels = new Panels();

/** Opens what the address holds and takes it out of the address, so that a reload opens the saved study. */
async function openAddress(open: (fragment: string) => Promise<unknown>): Promise<void> {
  const { hash, pathname, search } = location;
  await open(hash);
  if (/^#\d/.test(hash)) history.replaceState(null, '', pathname + search);
}

const target = document.getElementById('app');
if (!target) throw new Error('the page has no place for the program');
const ramble: Ramble = { studio, playing, focus, settings, library, notices, demos, panels, beside, opener };
mount(App, { target, context: rambleContext(ramble) });

void openAddress((fragment) => library.begin(fragment));
window.addEventListener('hashchange', () => void openAddress((fragment) => library.openFragment(fragment)));
// The last moment at which a change can still be saved.
window.addEventListener('pagehide', () => {
  playing.keepTime();
  void library.flush();
});
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'hidden') void library.flush();
});

// After everything else: what keeps the program on the device must not slow its first picture.
if (import.meta.env.PROD && 'serviceWorker' in navigator)
  window.addEventListener('load', () => {
    void keepOffline({
      worker: './sw.js',
      onwaiting: (take) => {
        notices.show({ code: 'new version' }, { name: 'reload', run: take });
      },
      beforeReload: async () => {
        await library.flush();
      },
      reload: () => {
        location.reload();
      },
    });
  });
