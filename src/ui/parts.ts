// Parts of the screen that nobody sees at first: their code is fetched once the line stands, or when one is opened.
import type { Load } from './shared/load';
import { fetched } from './staff';
import type { DialogName, DrawerName, LargeName, PageName, SmallPanelName } from './shared/panels.svelte';

export const drawers: Readonly<Record<DrawerName, Load>> = {
  changes: () => import('./changes/ChangesDrawer.svelte'),
  studies: () => import('./studies/StudiesDrawer.svelte'),
  lessons: () => import('./lessons/LessonsDrawer.svelte'),
};

/** The beat's panel and the menu come with the edges of the screen. */
export const sheets: Readonly<Record<Exclude<SmallPanelName, 'beat' | 'menu'>, Load>> = {
  hand: () => import('./limits/HandPanel.svelte'),
  limits: () => import('./limits/LimitsPanel.svelte'),
  take: () => import('./header/TakePanel.svelte'),
  save: () => import('./header/SavePanel.svelte'),
  print: () => import('./print/PrintPanel.svelte'),
  tempo: () => import('./transport/TempoPanel.svelte'),
  loop: () => import('./transport/LoopPanel.svelte'),
  parts: () => import('./transport/PartsPanel.svelte'),
  choruses: () => import('./transport/ChorusesPanel.svelte'),
};

export const dialogs: Readonly<Record<DialogName, Load>> = {
  shortcuts: () => import('./about/Shortcuts.svelte'),
  about: () => import('./about/About.svelte'),
};

export const larges: Readonly<Record<LargeName, Load>> = {
  stand: () => import('./practice/StandView.svelte'),
  projector: () => import('./practice/ProjectorView.svelte'),
};

/** Lies ready for the moment the browser prints. */
export const paper: Load = () => import('./print/Paper.svelte');

export const pages: Readonly<Record<PageName, Load>> = {
  'both ways': () => import('./hand/BothWays.svelte'),
  night: () => import('./night/NightPage.svelte'),
  auditions: () => import('./auditions/AuditionsPage.svelte'),
  round: () => import('./lessons/RoundPage.svelte'),
};

/** What stands over the line while it is more than the walked line of the study. */
export const heads = {
  lesson: () => import('./stage/LessonHead.svelte'),
  own: () => import('./stage/OwnHead.svelte'),
  auditions: () => import('./auditions/AuditionHead.svelte'),
  drawing: () => import('./wishes/DrawingBar.svelte'),
} satisfies Record<string, Load>;

/** Parts of the drawn line that are there for some work on it only. */
export const inTheLine = { ...fetched, drawnHeights: () => import('./wishes/DrawnHeights.svelte') };

/** Fetches everything that may be opened; what fails is tried again when it is opened. */
export function fetchAhead(): void {
  const parts = [drawers, sheets, dialogs, pages, larges, heads].flatMap((some) => Object.values<Load>(some));
  for (const load of [...parts, ...Object.values(inTheLine)]) load().catch(() => undefined);
}
