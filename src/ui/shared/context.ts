// What every panel works with, handed down from the root.
import { getContext } from 'svelte';
import type {
  AuditionSheet,
  Beside,
  ChartOpener,
  Demo,
  Focus,
  LessonSheet,
  Library,
  Notices,
  Playing,
  Settings,
  Studio,
  TextStorage,
} from '../../state';
import type { Auditions, ConnectDraw } from '../../state/auditions';
import type { ConnectBothWays, ConnectLine } from '../../state/both-ways';
import type { ConnectLessons, ConnectWays } from '../../state/lessons';
import type { EveningParts } from '../../state/evening';
import type { Night } from '../../state/night';
import type { ExtraPaper } from './extra-paper.svelte';
import type { Panels } from './panels.svelte';

export interface Ramble {
  readonly studio: Studio;
  readonly playing: Playing;
  readonly focus: Focus;
  readonly settings: Settings;
  readonly library: Library;
  readonly notices: Notices;
  readonly demos: readonly Demo[];
  readonly panels: Panels;
  readonly extraPaper: ExtraPaper;
  readonly beside: Beside;
  readonly opener: ChartOpener;
  /** Reads files that hold a line. */
  readonly connectLine: ConnectLine;
  /** Has given lines fingered both ways. */
  readonly connectBothWays: ConnectBothWays;
  /** Has ways into a note worked out. */
  readonly connectWays: ConnectWays;
  /** Has lessons made. */
  readonly connectLessons: ConnectLessons;
  /** The lesson that lies on the sheet. */
  readonly lessonSheet: LessonSheet;
  /** Where lessons are kept, and the day as the person counts it. */
  readonly lessonsPlace: { readonly storage: TextStorage | null; readonly today: () => string };
  /** What takes are drawn with, and those of the last visit to their page. */
  readonly auditionParts: { readonly connect: ConnectDraw; held: Auditions | null };
  /** Two of them on the sheet. */
  readonly auditionSheet: AuditionSheet;
  /** What the night is kept and planned with, and the night that a link brought: it is taken once. */
  readonly nightParts: Pick<EveningParts, 'connect' | 'now' | 'newId' | 'tab'> & {
    readonly take: () => Night | null;
  };
}

const key = Symbol('ramble');

/** The context to mount the screen with. */
export const rambleContext = (ramble: Ramble): Map<symbol, Ramble> => new Map([[key, ramble]]);
export const useRamble = (): Ramble => getContext<Ramble>(key);
