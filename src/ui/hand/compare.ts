// The figures of two hand reports, row by row.
import type { HandReport } from '../../pipeline';
import {
  armWords,
  countWords,
  hardestShort,
  metresText,
  timeWords,
  longestStayText,
  words,
} from '../report/words';

export interface ComparedRow {
  readonly name: string;
  readonly values: readonly [usual: string, open: string];
  /** Which of the two asks less of the hand, where that can be said by a number. */
  readonly lighter: 0 | 1 | null;
}

const lighterOf = (a: number, b: number): ComparedRow['lighter'] => (a === b ? null : a < b ? 0 : 1);

function row(
  name: string,
  reports: readonly [HandReport, HandReport],
  value: (report: HandReport) => number,
  text: (value: number) => string = String,
): ComparedRow {
  const [a, b] = [value(reports[0]), value(reports[1])];
  return { name, values: [text(a), text(b)], lighter: lighterOf(a, b) };
}

const plain = (
  name: string,
  reports: readonly [HandReport, HandReport],
  text: (report: HandReport) => string,
): ComparedRow => ({ name, values: [text(reports[0]), text(reports[1])], lighter: null });

const percent = (share: number): string => `${Math.round(share * 100)} %`;

/**
 * Rows of a table with a column for each of two ways to finger the same notes.
 * @param isCalibrated whether times of moves are told in seconds
 */
export function compared(usual: HandReport, open: HandReport, isCalibrated: boolean): readonly ComparedRow[] {
  const both = [usual, open] as const;
  const shareOf = (report: HandReport, region: HandReport['byRegion'][number]['region']): number =>
    report.byRegion.find((one) => one.region === region)?.share ?? 0;
  const zones = [...usual.byArm, ...open.byArm].map(({ zone }) => zone);
  return [
    row(countWords.bareShifts, both, (one) => one.bareShifts),
    row(words.bareWay, both, (one) => one.bareDistance.total, metresText),
    plain(countWords.coveredShifts, both, (one) => String(one.coveredShifts)),
    row(countWords.sameFingerShifts, both, (one) => one.sameFingerShifts),
    row(countWords.stretches, both, (one) => one.stretches),
    row(countWords.crossings, both, (one) => one.crossings),
    row(countWords.pivots, both, (one) => one.pivots),
    row(countWords.heelJumps, both, (one) => one.heelJumps),
    row(words.lowShare, both, (one) => shareOf(one, 'low'), percent),
    plain(timeWords.open, both, (one) => percent(shareOf(one, 'open'))),
    ...[...new Set(zones)].map((zone) =>
      plain(armWords[zone], both, (one) => percent(one.byArm.find((arm) => arm.zone === zone)?.share ?? 0)),
    ),
    plain(words.longestStay, both, ({ longestStay }) => longestStayText(longestStay)),
    plain(words.hardestMove, both, ({ hardestMove }) => hardestShort(hardestMove, isCalibrated)),
  ];
}
