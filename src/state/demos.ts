// The charts that come with the program, in the order they are offered.
import table from '../../shared/charts/charts.json' with { type: 'json' };
import { titleOf } from './titles';

export interface Demo {
  /** Name of the file without its ending. */
  readonly id: string;
  readonly title: string;
  /** A sentence on what it is good for; empty when there is none. */
  readonly about: string;
  readonly text: string;
}

interface DemoRow {
  readonly id: string;
  readonly about: string;
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
  return [...rows, ...others.map((id) => ({ id, about: '' }))].flatMap(({ id, about }) => {
    const text = texts.get(id);
    return text === undefined ? [] : [{ id, title: titleOf(text) ?? id, about, text }];
  });
}
