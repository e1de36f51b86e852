// Fingers and strings that a given line came with, beside the ones that were found.
import type { StringNumber } from '../instrument';
import { scientificName } from '../music';
import { isAsPrinted, saysNothing, type Line, type PrintedPlace } from '../pipeline';

type Names = (string: StringNumber) => string;

/** "E.1", "1", "E.": the main finger first, others after it in brackets. */
function printedText({ string, finger, otherFingers }: PrintedPlace, nameOf: Names): string {
  const place = string === null ? '' : `${nameOf(string as StringNumber)}.`;
  const others = otherFingers.length === 0 ? '' : ` (${otherFingers.join(', ')})`;
  return `${place}${finger ?? ''}${others}`;
}

/**
 * A table with a line for each note that came with a finger or a string, and how many of them are as found. Empty when
 * none did. `printed` goes with the notes of the line one by one.
 */
export function printedTable(line: Line, printed: readonly PrintedPlace[], nameOf: Names): string {
  const rows = line.notes.flatMap((note, index) => {
    const given = printed[index];
    if (given === undefined || saysNothing(given)) return [];
    const { string, finger } = note.placement;
    return [
      {
        cells: [
          `${note.bar}.${Number(note.beat.toFixed(2))}`,
          scientificName(note.pitch),
          `${nameOf(string)}.${finger}`,
          printedText(given, nameOf),
        ],
        isSame: isAsPrinted(given, note.placement),
      },
    ];
  });
  if (rows.length === 0) return '';
  const head = ['beat', 'note', 'ours', 'given'];
  const table = [head, ...rows.map(({ cells }) => cells)];
  const widths = head.map((_, column) => Math.max(...table.map((cells) => cells[column]!.length)));
  const lines = table.map((cells, index) => {
    const text = cells.map((cell, column) => cell.padEnd(widths[column]!)).join('  ');
    return `${text}${index > 0 && !rows[index - 1]!.isSame ? '  *' : ''}`.trimEnd();
  });
  const same = rows.filter(({ isSame }) => isSame).length;
  return ['', `Given with the line: ${same} of ${rows.length} as ours, * where they differ`, ...lines].join(
    '\n',
  );
}
