// Requests for tests: the default bass and hand unless a test says otherwise.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defaultHand, defaultInstrument, parsePosition, type HandPosition } from '../../src/instrument';
import { walk, type Line, type Timeline, type WalkRequest, type WalkResult } from '../../src/pipeline';

// A path, as the page's own URL is none of a file.
const charts = join(dirname(fileURLToPath(import.meta.url)), '../../shared/charts');

/** File names of the charts that come with the program. */
export const chartNames: readonly string[] = readdirSync(charts).filter((name) => name.endsWith('.txt'));

export const chartText = (name: string): string => readFileSync(join(charts, name), 'utf8');

export const positions = (...names: string[]): HandPosition[] => names.map((name) => parsePosition(name)!);

/** The best line in one chorus with nothing barred, changed by what the test gives. */
export const requestFor = (text: string, changes: Partial<WalkRequest> = {}): WalkRequest => ({
  chartText: text,
  key: null,
  tempo: null,
  choruses: 1,
  instrument: defaultInstrument,
  hand: defaultHand,
  limits: { barredPositions: [] },
  take: { seed: 1, temperature: 0 },
  ...changes,
});

/** A result that has a line. */
export interface Walked extends WalkResult {
  readonly line: Line;
  readonly timeline: Timeline;
}

/** Walks, and fails the test in words when there is no line. */
export function walked(text: string, changes: Partial<WalkRequest> = {}): Walked {
  const result = walk(requestFor(text, changes));
  if (!result.line || !result.timeline) {
    throw new Error(
      `no line: ${result.impossible?.message ?? result.problems.map((one) => one.message).join(' ')}`,
    );
  }
  return result as Walked;
}
