// The commands: a line for a chart, the chart as it is understood, a fingering for a given line.
import { positionName } from '../instrument';
import {
  chartOf,
  explain,
  fingerLine,
  makePattern,
  makeTimeline,
  plainPart,
  printChart,
  readGivenLine,
  walk,
  type Chart,
  type Explanation,
  type GivenNote,
  type GivenRequest,
  type LineFrame,
  type PrintedPlace,
  type Problem,
  type Timeline,
  type WalkRequest,
  type WalkResult,
} from '../pipeline';
import {
  chartToAbc,
  chartToJson,
  chartToMusicXml,
  toChat,
  toJson,
  toMidi,
  toMusicXml,
  toText,
  type FingeredFor,
} from '../export';
import { bpm } from '../music';
import { toPrintable, toSvg, type PagePaper } from '../page';
import type { ChartCommand, FingerCommand, ScaleCommand, WalkCommand } from './arguments';
import type { ChartFormat, WalkFormat } from './formats';
import { failed, problemLine, readInput, type Outcome } from './outcome';
import { namesOn } from './naming';
import { pinsOutside } from './wishes';
import { printedTable } from './printed';

interface Formatting {
  readonly format: WalkFormat;
  readonly paper: PagePaper;
  readonly withDevices?: boolean;
}

function formatted(
  result: WalkResult,
  { format, paper, withDevices = false }: Formatting,
  explanation: Explanation | null,
  fingeredFor: FingeredFor,
): string | Uint8Array {
  const { timeline, line } = result;
  if (!timeline || !line) return '';
  const { instrument } = fingeredFor;
  const names = namesOn(instrument);
  switch (format) {
    case 'json':
      return toJson(result, { positionName }, explanation, fingeredFor);
    case 'musicxml':
      return toMusicXml(timeline, line, { positionName, withDevices });
    case 'midi':
      return toMidi(timeline, line);
    case 'chat':
      return toChat(timeline, line, names);
    case 'text':
      return toText(timeline, line, names);
    case 'svg':
      return toSvg(timeline, line, { instrument, paper, withDevices });
    case 'pdf':
      // A browser makes the PDF of it: that takes its time, and is asked for where files are written.
      return toPrintable(timeline, line, { instrument, paper, withDevices });
  }
}

/** @param name how the chart is called in messages */
export function walkOutcome(input: Uint8Array, name: string, command: WalkCommand): Outcome {
  const { problems, ...source } = readInput(input);
  const request: WalkRequest = {
    ...source,
    key: command.key,
    ...plainPart(command, 'request'),
    instrument: command.player.instrument,
    hand: command.player.hand,
    limits: {
      barredPositions: command.avoid,
      ...command.player.where,
      ...plainPart(command, 'limits'),
      shares: command.shares,
      ...(command.stay ? { stay: command.stay } : {}),
    },
    pins: command.pins,
    wishes: { ...plainPart(command, 'wishes'), shapes: command.shapes },
    take: { seed: command.seed, temperature: command.temperature },
  };
  const walked = walk(request);
  const result = { ...walked, problems: [...problems, ...walked.problems] };
  const outside = result.timeline ? pinsOutside(command.pins, result.timeline) : [];
  const messages = [...result.problems.map((problem) => problemLine(name, problem)), ...outside];
  if (result.impossible) return failed([...messages, `${name}: ${result.impossible.message}`]);
  if (!result.line) return failed([...messages, `${name}: nothing in this chart can be played.`]);
  const explanation = command.explain ? explain(request, result, { room: true }) : null;
  return {
    output: formatted(result, command, explanation, request),
    messages,
    exitCode: 0,
  };
}

function chartFormatted(
  chart: Chart,
  timeline: Timeline | null,
  problems: readonly Problem[],
  format: ChartFormat,
): string {
  switch (format) {
    case 'json':
      return chartToJson(chart, timeline, problems);
    case 'musicxml':
      return chartToMusicXml(chart);
    case 'abc':
      return chartToAbc(chart);
    case 'text':
      return printChart(chart);
  }
}

/** @param name how the chart is called in messages */
export function chartOutcome(input: Uint8Array, name: string, command: ChartCommand): Outcome {
  const source = readInput(input);
  const { chart, problems } = chartOf({ ...source, key: command.key });
  const made = makeTimeline(chart, { choruses: 1, tempo: null });
  const all = [...source.problems, ...problems, ...made.problems];
  const messages = all.map((problem) => problemLine(name, problem));
  const output = chartFormatted(chart, made.timeline, all, command.format);
  if (made.timeline) return { output, messages, exitCode: 0 };
  return {
    output: command.format === 'json' ? output : '',
    messages: [...messages, `${name}: no bar of this chart can be played.`],
    exitCode: 1,
  };
}

/** @param name how the line is called in messages */
export function fingerOutcome(input: Uint8Array, name: string, command: FingerCommand): Outcome {
  const { notes, problems, frame, printed } = readGivenLine(input, command.track ?? undefined);
  return fingered(notes, problems, name, command, frame, printed ?? []);
}

export function scaleOutcome(command: ScaleCommand): Outcome {
  const { pattern, problem } = makePattern(command.pattern, command.player.instrument);
  if (pattern === null) return failed([`scale: ${problem}`]);
  return fingered(pattern.notes, [], 'scale', command, { key: pattern.key, title: pattern.title });
}

/** Where neither the person nor the file names one. */
const usualFingerTempo = bpm(120);

function fingered(
  notes: readonly GivenNote[],
  problems: readonly Problem[],
  name: string,
  command: Omit<FingerCommand, 'command' | 'line'>,
  { tempo = null, ...frame }: LineFrame,
  printed: readonly PrintedPlace[] = [],
): Outcome {
  const request: GivenRequest = {
    instrument: command.player.instrument,
    hand: command.player.hand,
    tempo: command.tempo ?? tempo ?? usualFingerTempo,
    limits: { barredPositions: command.avoid, ...command.player.where },
    way: command.way,
    ...frame,
  };
  const result = fingerLine(notes, request);
  const all = [...problems, ...result.problems];
  const messages = all.map((problem) => problemLine(name, problem));
  if (result.impossible) return failed([...messages, `${name}: ${result.impossible.message}`]);
  if (!result.line) return failed([...messages, `${name}: there is no note to finger.`]);
  const { chart } = chartOf({ chartText: '', key: null });
  const titled = { ...chart, header: { ...chart.header, title: frame.title ?? chart.header.title } };
  const asWalk: WalkResult = { ...result, chart: titled, problems: all, timings: {} };
  const output = formatted(asWalk, command, null, request);
  const table =
    command.format === 'text'
      ? printedTable(result.line, printed, namesOn(request.instrument).stringName)
      : '';
  return { output: table === '' ? output : `${String(output).trimEnd()}\n${table}`, messages, exitCode: 0 };
}
