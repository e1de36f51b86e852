// The two commands: a line for a chart, and the chart as it is understood.
import { positionName, defaultInstrument } from '../instrument';
import {
  chartOf,
  explain,
  makeTimeline,
  printChart,
  walk,
  type Problem,
  type WalkRequest,
  type WalkResult,
} from '../pipeline';
import { chartToJson, toJson, toMidi, toMusicXml, toText } from '../export';
import type { ChartCommand, WalkCommand } from './arguments';

/** What a command leaves: bytes or text for the output, lines for the person, and the exit code. */
export interface Outcome {
  readonly output: string | Uint8Array;
  readonly messages: readonly string[];
  readonly exitCode: 0 | 1;
}

/** `chart.txt:3:14: warning: …`, the form in which editors find a place. */
export const problemLine = (name: string, problem: Problem): string =>
  `${name}:${problem.line}:${problem.column}: ${problem.severity}: ${problem.message} [${problem.code}]`;

const failed = (messages: readonly string[]): Outcome => ({ output: '', messages, exitCode: 1 });

function formatted(request: WalkRequest, result: WalkResult, command: WalkCommand): string | Uint8Array {
  const { timeline, line } = result;
  if (!timeline || !line) return '';
  switch (command.format) {
    case 'json':
      return toJson(
        result,
        { positionName },
        command.explain ? explain(request, result, { room: true }) : null,
      );
    case 'musicxml':
      return toMusicXml(timeline, line, { positionName });
    case 'midi':
      return toMidi(timeline, line);
    case 'text':
      return toText(timeline, line, { positionName });
  }
}

/** @param name how the chart is called in messages */
export function walkOutcome(chartText: string, name: string, command: WalkCommand): Outcome {
  const request: WalkRequest = {
    chartText,
    key: command.key,
    tempo: command.tempo,
    choruses: command.choruses,
    instrument: defaultInstrument,
    hand: command.hand,
    limits: {
      barredPositions: command.avoid,
      shares: command.shares,
      ...(command.stay ? { stay: command.stay } : {}),
    },
    pins: command.pins,
    comfort: command.comfort,
    take: { seed: command.seed, temperature: command.temperature },
  };
  const result = walk(request);
  const messages = result.problems.map((problem) => problemLine(name, problem));
  if (result.impossible) return failed([...messages, `${name}: ${result.impossible.message}`]);
  if (!result.line) return failed([...messages, `${name}: nothing in this chart can be played.`]);
  return { output: formatted(request, result, command), messages, exitCode: 0 };
}

/** @param name how the chart is called in messages */
export function chartOutcome(chartText: string, name: string, command: ChartCommand): Outcome {
  const { chart, problems } = chartOf({ chartText, key: null });
  const made = makeTimeline(chart, { choruses: 1, tempo: null });
  const all = [...problems, ...made.problems];
  const messages = all.map((problem) => problemLine(name, problem));
  const output = command.format === 'json' ? chartToJson(chart, made.timeline, all) : printChart(chart);
  if (!made.timeline)
    return { output, messages: [...messages, `${name}: no bar of this chart can be played.`], exitCode: 1 };
  return { output, messages, exitCode: 0 };
}
