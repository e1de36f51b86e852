// Requests for tests: the default bass and hand unless a test says otherwise.
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defaultHand, defaultInstrument, parsePosition, type HandPosition } from '../../src/instrument';
import {
  emptyCaches,
  forgetSolved,
  walk,
  type Line,
  type Caches,
  type Timeline,
  type WalkRequest,
  type WalkResult,
} from '../../src/pipeline';

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

/** How many players' tables are kept beside each other. */
const mostKept = 6;
const kept = new Map<string, Caches>();

/**
 * What bass, hand and tempo decide for a request, worked out once a file, as the page and the command line do it, too: the
 * answer is the same (memory.test.ts), and tests that are not about beginning from nothing need not begin there.
 */
export function memoryFor({
  instrument,
  hand,
  comfort,
  limits,
  chartText: text,
  tempo,
}: WalkRequest): Caches {
  const written = /^Tempo:.*$/m.exec(text)?.[0];
  const key = JSON.stringify([instrument, hand, comfort, limits.stay, limits.place, tempo ?? written]);
  const caches = kept.get(key) ?? emptyCaches();
  kept.delete(key);
  kept.set(key, caches);
  if (kept.size > mostKept) kept.delete(kept.keys().next().value!);
  forgetSolved(caches);
  return caches;
}

/** As `walk`, with the tables of the player at hand. */
export const walkKept = (request: WalkRequest): WalkResult => walk(request, undefined, memoryFor(request));

/** A result that has a line. */
export interface Walked extends WalkResult {
  readonly line: Line;
  readonly timeline: Timeline;
}

/** Walks, and fails the test in words when there is no line. */
export function walked(text: string, changes: Partial<WalkRequest> = {}): Walked {
  const result = walkKept(requestFor(text, changes));
  if (!result.line || !result.timeline) {
    throw new Error(
      `no line: ${result.impossible?.message ?? result.problems.map((one) => one.message).join(' ')}`,
    );
  }
  return result as Walked;
}
