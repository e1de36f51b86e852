// A tab of the browser as the library sees it, with everything it touches brought along.
import { newStudy, setChartText, type Study } from '../../src/state/document';
import { Library } from '../../src/state/library.svelte';
import type { LinkView } from '../../src/state/links';
import { Notices } from '../../src/state/notices.svelte';
import type { Shelf } from '../../src/state/persistence';
import type { StudyRecord } from '../../src/state/records';
import { memoryShelf, type memoryStorage } from './memory-shelf';

interface Tab {
  readonly shelf?: Shelf;
  readonly openShelf?: () => Promise<Shelf>;
  readonly remembered?: Map<string, string>;
  readonly journal?: ReturnType<typeof memoryStorage> | null;
}

let count = 0;

/** A tab: a desk with a study, a library over a shelf, what the browser remembers for the tab and keeps for all pages. */
export function openTab({
  shelf = memoryShelf(),
  openShelf,
  remembered = new Map(),
  journal = null,
}: Tab = {}) {
  const notices = new Notices();
  const desk = {
    study: newStudy('Title: Demo\n| F7 |'),
    open(study: Study) {
      this.study = study;
    },
    setChartText(text: string) {
      this.study = setChartText(this.study, text);
      library.touch();
    },
  };
  const tab = {
    getItem: (key: string) => remembered.get(key) ?? null,
    setItem: (key: string, value: string) => void remembered.set(key, value),
    removeItem: (key: string) => void remembered.delete(key),
  };
  const files: { title: string; text: string }[] = [];
  const views: LinkView[] = [];
  const library: Library = new Library({
    desk,
    notices,
    now: () => Date.now(),
    newId: () => `id${++count}`,
    tab,
    openShelf: openShelf ?? (() => Promise.resolve(shelf)),
    journal,
    onview: (view) => void views.push(view),
    giveFile: (title, text) => void files.push({ title, text }),
  });
  const codes = () => notices.list.map(({ message }) => message.code);
  return { desk, library, notices, codes, shelf, remembered, journal, files, views };
}

/** A shelf each of whose answers takes so long. */
export function slow(shelf: Shelf, milliseconds: number): Shelf {
  const later = async <Value>(answer: () => Promise<Value>): Promise<Value> => {
    await new Promise((resolve) => setTimeout(resolve, milliseconds));
    return answer();
  };
  return {
    all: () => later(() => shelf.all()),
    get: (id) => later(() => shelf.get(id)),
    update: (id, decide) => later(() => shelf.update(id, decide)),
    putBack: (raw) => later(() => shelf.putBack(raw)),
    take: (key) => later(() => shelf.take(key)),
  };
}

export const texts = async (shelf: Shelf): Promise<unknown[]> =>
  ((await shelf.all()) as readonly StudyRecord[]).map(({ envelope }) => envelope.study.chartText).sort();
