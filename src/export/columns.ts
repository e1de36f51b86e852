// Tables of plain text: lists that wrap inside their column.

export interface TextColumn {
  readonly heading: string;
  /** Items of a cell stay whole; a cell with more than fit here goes on in the next line. */
  readonly widest: number;
  readonly gap: string;
}

/** One cell: its items in order. */
export type TextCell = readonly string[];

/** Items in lines of at most `widest` characters; an item stays whole even when it is longer. */
export function wrapItems(items: TextCell, widest: number, gap = ' '): string[] {
  const lines: string[] = [];
  for (const item of items) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + gap.length + item.length <= widest) {
      lines[lines.length - 1] = `${last}${gap}${item}`;
    } else {
      lines.push(item);
    }
  }
  return lines;
}

/** Breaks running text into lines of at most `widest` characters where a blank allows it. */
export const wrapText = (text: string, widest: number): string[] => wrapItems(text.split(' '), widest);

/**
 * Lays out rows under headings. A row given as a string stands across the whole table.
 * @returns lines without trailing blanks
 */
export function inColumns(
  columns: readonly TextColumn[],
  rows: readonly (readonly TextCell[] | string)[],
): string[] {
  const wrapped = rows.map((row) =>
    typeof row === 'string'
      ? row
      : row.map((cell, index) => wrapItems(cell, columns[index]!.widest, columns[index]!.gap)),
  );
  const widths = columns.map(({ heading }, index) =>
    wrapped.reduce(
      (widest, row) =>
        typeof row === 'string' ? widest : Math.max(widest, ...row[index]!.map((line) => line.length)),
      heading.length,
    ),
  );
  const join = (cells: readonly string[]): string =>
    cells
      .map((text, index) => text.padEnd(widths[index]!))
      .join('  ')
      .trimEnd();
  const lines = [join(columns.map(({ heading }) => heading))];
  for (const row of wrapped) {
    if (typeof row === 'string') {
      lines.push(row);
      continue;
    }
    const height = Math.max(1, ...row.map((cell) => cell.length));
    for (let line = 0; line < height; line += 1) lines.push(join(row.map((cell) => cell[line] ?? '')));
  }
  return lines;
}
