// The hand report in words, with the cautions that belong beside it.
import { effortText, type HandReport } from '../pipeline/5-line';
import { inColumns, wrapItems, wrapText, type TextColumn } from './columns';
import { rounded } from './names';
import type { PositionNamer } from './position-marks';

export interface ReportOptions extends PositionNamer {
  /** The hand of the line has been calibrated: its moves are told in seconds. */
  readonly isCalibrated?: boolean;
}

const cautions =
  'These figures estimate geometry, not the risk of injury. Stop when something hurts. Pain, numbness, tingling or ' +
  'weakness that lasts or returns is for a clinician; posture and fingering are for a teacher. Rest often.';

const beatsText = (beats: number): string => `${rounded(beats, 2)} ${beats === 1 ? 'beat' : 'beats'}`;

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

const shareColumns: readonly TextColumn[] = [
  { heading: 'Region', widest: 14, gap: ' ' },
  { heading: 'Beats', widest: 8, gap: ' ' },
  { heading: 'Share', widest: 8, gap: ' ' },
];

function moveText(report: HandReport, naming: ReportOptions): string {
  const hardest = report.hardestMove;
  if (hardest === null) return 'Hardest move: none, the hand stays where it is.';
  const { move } = hardest;
  const distance = `${counted(Math.abs(hardest.semitones), 'semitone', 'semitones')}, ${Math.round(move.distance)} mm`;
  return (
    `Hardest move: bar ${hardest.bar}, beat ${rounded(hardest.beat, 2)}, a ${move.kind} from ` +
    `${naming.positionName(move.from)} to ${naming.positionName(move.to)} (${distance}), ${effortText(move, naming.isCalibrated ?? false)}.`
  );
}

function stayText({ longestStay }: HandReport): string {
  if (longestStay === null) return 'Longest stay: none.';
  const { region, beats, fromBar } = longestStay;
  return `Longest stay: ${beatsText(beats)} in the ${region} region from bar ${fromBar}.`;
}

/** The sentence of positions in pieces that stay whole. */
function positionItems({ byPosition }: HandReport, naming: PositionNamer): string[] {
  if (byPosition.length === 0) return ['Positions: none.'];
  return byPosition.map(({ position, beats }, index) => {
    const start = index === 0 ? 'Positions: ' : '';
    const end = index === byPosition.length - 1 ? '.' : ',';
    return `${start}${naming.positionName(position)} ${beatsText(beats)}${end}`;
  });
}

/** Lines of the report, at most `widest` characters each. */
export function reportLines(report: HandReport, naming: ReportOptions, widest: number): string[] {
  const rows = report.byRegion
    .filter(({ beats }) => beats > 0)
    .map(({ region, beats, share }) => [
      [region === 'open' ? 'open strings' : region],
      [String(rounded(beats, 2))],
      [`${Math.round(share * 100)} %`],
    ]);
  const shifts =
    `${counted(report.bareShifts, 'bare shift', 'bare shifts')} ` +
    `(${report.sameFingerShifts} with the same finger along one string), ` +
    `${counted(report.coveredShifts, 'covered shift', 'covered shifts')}, ` +
    `${counted(report.pivots, 'pivot', 'pivots')}, ${counted(report.stretches, 'stretch', 'stretches')}.`;
  return [
    'Hand report',
    '',
    ...inColumns(shareColumns, rows),
    '',
    ...wrapItems(positionItems(report, naming), widest),
    ...wrapText(shifts, widest),
    ...wrapText(stayText(report), widest),
    ...wrapText(moveText(report, naming), widest),
    '',
    ...wrapText(cautions, widest),
  ];
}
