// What a command leaves, and how charts come in and problems are told.
import { decodeText, importFile, isRefused, type Problem, type WalkRequest } from '../pipeline';

/** Bytes or text for the output, lines for the person, and the exit code. */
export interface Outcome {
  readonly output: string | Uint8Array;
  readonly messages: readonly string[];
  readonly exitCode: 0 | 1;
}

/** `chart.txt:3:14: warning: …`, the form in which editors find a place. */
export const problemLine = (name: string, problem: Problem): string =>
  `${name}:${problem.line}:${problem.column}: ${problem.severity}: ${problem.message} [${problem.code}]`;

export const failed = (messages: readonly string[]): Outcome => ({ output: '', messages, exitCode: 1 });

/** A chart as it came in: read from a file of any kind we know, with what is wrong in it. */
export function readInput(
  bytes: Uint8Array,
): Pick<WalkRequest, 'chartText' | 'chart'> & { readonly problems: readonly Problem[] } {
  const reading = importFile(bytes);
  // Chart text is read by the pipeline itself, so that its problems are told once.
  if (reading.kind === 'text' && !isRefused(reading)) return { chartText: decodeText(bytes), problems: [] };
  return { chartText: '', chart: reading.chart, problems: reading.problems };
}
