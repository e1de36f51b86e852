// The charts that come with the program, in the order they are offered.
import table from '../../shared/charts/charts.json' with { type: 'json' };
import { newStudy, studyDefaults, type Study } from './document';
import { titleOf } from './titles';

export interface Demo {
  /** Name of the file without its ending. */
  readonly id: string;
  readonly title: string;
  /** A sentence on what it is good for; empty when there is none. */
  readonly about: string;
  readonly text: string;
  /** Seed of the take it opens on. */
  readonly seed: number;
}

interface DemoRow {
  readonly id: string;
  readonly about: string;
  readonly take: number;
}

/** Makes the list of demos from files by path: first those of the table, in its order, then any others by name. */
export function demosOf(
  files: Readonly<Record<string, string>>,
  rows: readonly DemoRow[] = table.charts,
): readonly Demo[] {
  const texts = new Map(
    Object.entries(files).map(([path, text]) => [path.replace(/^.*\//, '').replace(/\.txt$/, ''), text]),
  );
  const others = [...texts.keys()].filter((id) => !rows.some((row) => row.id === id)).sort();
  return [...rows, ...others.map((id) => ({ id, about: '', take: studyDefaults.seed }))].flatMap(
    ({ id, about, take }) => {
      const text = texts.get(id);
      return text === undefined ? [] : [{ id, title: titleOf(text) ?? id, about, text, seed: take }];
    },
  );
}

/** A new study of a demo, on the take it is offered with. */
export const studyOf = ({ text, seed }: Pick<Demo, 'text' | 'seed'>): Study => newStudy(text, { seed });
