// Reads the tab-separated check tables of the project's shared folder. A column that no test reads fails the run.
import { readFileSync } from 'node:fs';
import { expect } from 'vitest';

/** One row; `at` marks its column as read. */
export interface TableRow {
  at(column: string): string;
  number(column: string): number;
}

export interface Table {
  readonly rows: readonly TableRow[];
  /** Fails when a column has been read by nobody. */
  expectAllRead(): void;
}

/** @param name file name within shared/, with its folder */
export function readTable(name: string): Table {
  const text = readFileSync(new URL(`../shared/${name}`, import.meta.url), 'utf8');
  const lines = text.split('\n').filter((line) => line !== '' && !line.startsWith('#'));
  const columns = lines[0]!.split('\t');
  const read = new Set<string>();
  const rows = lines.slice(1).map((line): TableRow => {
    const cells = line.split('\t');
    const at = (column: string): string => {
      const index = columns.indexOf(column);
      if (index < 0) throw new Error(`${name} has no column ${column}`);
      read.add(column);
      return cells[index] ?? '';
    };
    return { at, number: (column) => Number(at(column)) };
  });
  return { rows, expectAllRead: () => expect([...read].sort()).toEqual([...columns].sort()) };
}
