// The composition root: builds everything and puts it on the page. The only file that knows all layers.
import { mount } from 'svelte';
import { keepOffline } from './offline';
import { makePlayback } from './playback';
import {
  AuditionSheet,
  Beside,
  ChartOpener,
  dayOf,
  demosOf,
  Focus,
  LessonSheet,
  Library,
  newStudy,
  Notices,
  Playing,
  PracticeLog,
  Settings,
  Studio,
  studyOf,
  unpack,
} from './state';
import packedLine from 'virtual:first-line';
import App from './ui/App.svelte';
import './ui/shared/fonts.css';
import './ui/tokens.css';
import './ui/base.css';
import './ui/print.css';
import './ui/first/first.css';
import { download, fileName } from './ui/shared/download';
import { commitField } from './ui/shared/fields';
import { rambleContext, type Ramble } from './ui/shared/context';
import { onpainted } from './ui/shared/painted';
import { ExtraPaper } from './ui/shared/extra-paper.svelte';
import { Panels } from './ui/shared/panels.svelte';
import type { WalkResult } from './pipeline';
import type { LessonNames } from './state';
import type { LessonDesk } from './state/lessons';
import type { Night } from './state/night';
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

/** From now on the page opens on the person's own work (see static/theme.js). */
function markVisited(): void {
  try {
    localStorage.setItem('ramble.visited', 'yes');
  } catch {
    // A browser that keeps nothing has no work to open.
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
const settings = new Settings(
  storageOf(() => localStorage),
  () => {
    notices.show({ code: 'notes not kept' });
  },
);
/** A client with a worker of its own, or with the same computations on this thread where there are no workers. */
const connect =
  <Name extends TaskName>(task: Name, patience: number, isSeen = false) =>
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
      ...(isSeen ? { onpainted } : {}),
    });
/** Resolves when the screen has been painted for the first time; what is not on it can wait until then. */
let isPainted: () => void;
const painted = new Promise<void>((resolve) => {
  isPainted = resolve;
});
/** The line of the first study comes with the page; those who have a study of their own are not shown it. */
const isFirstVisit = document.documentElement.dataset.visit === 'first';
let isMarked = false;
const mark = (): void => {
  if (!isMarked) markVisited();
  isMarked = true;
};
// A link that was followed brought work to keep.
if (location.hash !== '') mark();
const studio = new Studio({
  study: demos[0] ? studyOf(demos[0]) : newStudy(''),
  answer: isFirstVisit && packedLine !== null ? (unpack(packedLine) as WalkResult) : null,
  connect: connect('walk', 2_000, true),
  connectExplainer: (onanswer, onfailure) => {
    const client = connect('explain', 400)(onanswer, onfailure);
    return {
      request: (ask) => void painted.then(() => client.request(ask)),
      cancel: () => client.cancel(),
    };
  },
  now: () => performance.now(),
  onchange: () => {
    library.touch();
    mark();
  },
  onkept: () => {
    if (library.saveState !== 'untouched') library.touch();
  },
  onlesson: (lesson) => void reopenLesson(lesson),
  onlost: (what) => {
    notices.show({ code: what === 'notes' ? 'notes lost' : 'locks lost' });
  },
});
const opener = new ChartOpener(connect('read', 0));
const beside = new Beside(studio, connect('walk', 300));
const today = (): string => dayOf(new Date());
const log = new PracticeLog(
  storageOf(() => localStorage),
  today,
);
const library = new Library({
  desk: studio,
  notices,
  log,
  now: () => Date.now(),
  newId,
  tab: storageOf(() => sessionStorage),
  journal: storageOf(() => localStorage),
  locks: (navigator as { readonly locks?: LockManager }).locks ?? null,
  onview: ({ roles }) => {
    if (roles) settings.change({ showRoles: true });
  },
  giveFile: (title, content) => {
    download({ name: fileName(title, 'ramble.json'), type: 'application/json', content });
  },
});
/** Folder of the sound samples. */
const samples = './samples/';
const playing = new Playing({
  studio,
  settings,
  notices,
  samples,
  makePlayback: (options) => makePlayback({ samples, ...options }, painted),
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
const focus = new Focus(studio, playing, onpainted);
const panels = new Panels();
const extraPaper = new ExtraPaper();

/** A night that a link brought, until its page takes it. */
let brought: Night | null = null;
async function openNight(fragment: string): Promise<void> {
  const { readNightFragment } = await import('./state/night');
  const reading = readNightFragment(fragment);
  if ('kind' in reading) return;
  if (!reading.ok) {
    notices.show({ code: 'night fault', reason: reading.reason });
    return;
  }
  brought = reading.night;
  // A page that is open is begun again.
  panels.closePage();
  await new Promise((resolve) => setTimeout(resolve));
  panels.togglePage('night');
}

const lessonSheet = new LessonSheet(studio);
const connectLessons = {
  lesson: connect('lesson', 60_000),
  round: connect('round', 60_000),
  carry: connect('carry', 60_000),
};
let reopener: LessonDesk | null = null;
/** Lays the lesson that the study on the desk remembers on the sheet again. */
async function reopenLesson(lesson: LessonNames): Promise<void> {
  const tell = (): void => {
    studio.showLesson(null);
    notices.show({ code: 'no lesson' });
  };
  try {
    const { LessonDesk } = await import('./state/lessons');
    reopener ??= new LessonDesk(studio, lessonSheet, connectLessons);
    if (studio.study.lesson === lesson) reopener.reopen(lesson, tell);
  } catch {
    tell();
  }
}

/** Opens what the address holds and takes it out of the address, so that a reload opens the saved study. */
async function openAddress(open: (fragment: string) => Promise<unknown>): Promise<void> {
  const { hash, pathname, search } = location;
  const isNight = /^#n\d/.test(hash);
  if (isNight) await openNight(hash);
  await open(isNight ? '' : hash);
  if (/^#n?\d/.test(hash)) history.replaceState(null, '', pathname + search);
}

const target = document.getElementById('app');
if (!target) throw new Error('the page has no place for the program');
const ramble: Ramble = {
  studio,
  playing,
  focus,
  settings,
  library,
  notices,
  demos,
  panels,
  extraPaper,
  beside,
  opener,
  connectLine: connect('readLine', 0),
  connectBothWays: connect('bothWays', 300),
  connectWays: connect('ways', 60_000),
  connectLessons,
  lessonSheet,
  auditionParts: { connect: connect('walk', 60_000), held: null },
  auditionSheet: new AuditionSheet(studio, beside),
  lessonsPlace: { storage: storageOf(() => localStorage), today },
  nightParts: {
    connect: connect('night', 300),
    now: () => Date.now(),
    newId,
    tab: storageOf(() => sessionStorage),
    take: () => {
      const night = brought;
      brought = null;
      return night;
    },
  },
};
const firstPicture = [...target.children];
mount(App, { target, context: rambleContext(ramble) });
for (const element of firstPicture) element.remove();
onpainted(() => {
  isPainted();
  studio.prepare();
});

void openAddress((fragment) => library.begin(fragment));
window.addEventListener('hashchange', () => void openAddress((fragment) => library.openFragment(fragment)));
// The last moment at which a change can still be kept: what was typed into a field and not yet left, too.
window.addEventListener('pagehide', () => {
  commitField(document);
  playing.keepTime();
  library.leave();
});
window.addEventListener('pageshow', (event) => {
  if (event.persisted) library.comeBack();
});
// Asked only where the browser keeps an edit nowhere.
window.addEventListener('beforeunload', (event) => {
  if (library.isAtRisk) event.preventDefault();
});
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState !== 'hidden') return;
  // A page out of sight may end without another word.
  commitField(document);
  void library.flush();
});

// After everything else: what keeps the program on the device must not slow its first picture.
const loaded = new Promise<void>((resolve) => {
  if (document.readyState === 'complete') resolve();
  else window.addEventListener('load', () => resolve(), { once: true });
});
if (import.meta.env.PROD && 'serviceWorker' in navigator)
  void Promise.all([loaded, painted]).then(() =>
    keepOffline({
      worker: './sw.js',
      onwaiting: (take) => {
        notices.show({ code: 'new version' }, { name: 'reload', run: take });
      },
      beforeReload: async () => {
        await library.secure();
      },
      reload: () => {
        location.reload();
      },
    }),
  );
