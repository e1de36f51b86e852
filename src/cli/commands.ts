// The commands: a line for a chart, the chart as it is understood, a fingering for a given line.
import { positionName, defaultInstrument } from '../instrument';
import {
  chartOf,
  explain,
  fingerLine,
  importFile,
  makeTimeline,
  parseNotes,
  printChart,
  walk,
  type Chart,
  type Explanation,
  type Problem,
  type Timeline,
  type WalkRequest,
  type WalkResult,
} from '../pipeline';
import { chartToAbc, chartToJson, chartToMusicXml, toJson, toMidi, toMusicXml, toText } from '../export';
import { ticks } from '../music';
import type { ChartCommand, ChartFormat, FingerCommand, WalkCommand, WalkFormat } from './arguments';

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

/** A chart as it came in: read from a file of any kind we know, with what is wrong in it. */
function readInput(
  bytes: Uint8Array,
): Pick<WalkRequest, 'chartText' | 'chart'> & { readonly problems: readonly Problem[] } {
  const reading = importFile(bytes);
  // Chart text is read by the pipeline itself, so that its problems are told once.
  if (reading.kind === 'text') return { chartText: new TextDecoder('utf-8').decode(bytes), problems: [] };
  return { chartText: '', chart: reading.chart, problems: reading.problems };
}

function formatted(
  result: WalkResult,
  format: WalkFormat,
  explanation: Explanation | null,
): string | Uint8Array {
  const { timeline, line } = result;
  if (!timeline || !line) return '';
  switch (format) {
    case 'json':
      return toJson(result, { positionName }, explanation);
    case 'musicxml':
      return toMusicXml(timeline, line, { positionName });
    case 'midi':
      return toMidi(timeline, line);
    case 'text':
      return toText(timeline, line, { positionName });
  }
}

/** @param name how the chart is called in messages */
export function walkOutcome(input: Uint8Array, name: string, command: WalkCommand): Outcome {
  const { problems, ...source } = readInput(input);
  const request: WalkRequest = {
    ...source,
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
    feel: command.feel,
    density: command.density,
    ending: command.ending,
    take: { seed: command.seed, temperature: command.temperature },
  };
  const walked = walk(request);
  const result = { ...walked, problems: [...problems, ...walked.problems] };
  const messages = result.problems.map((problem) => problemLine(name, problem));
  if (result.impossible) return failed([...messages, `${name}: ${result.impossible.message}`]);
  if (!result.line) return failed([...messages, `${name}: nothing in this chart can be played.`]);
  const explanation = command.explain ? explain(request, result, { room: true }) : null;
  return { output: formatted(result, command.format, explanation), messages, exitCode: 0 };
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

/** The notes of a given line, from note names or from the bass part of a file. */
function readLine(input: Uint8Array): ReturnType<typeof parseNotes> {
  const reading = importFile(input);
  if (reading.kind === 'text') return parseNotes(new TextDecoder('utf-8').decode(input));
  const starts: number[] = [];
  reading.chart.bars.reduce((tick, bar) => {
    starts.push(tick);
    return tick + bar.chords.reduce((sum, chord) => sum + chord.length, 0);
  }, 0);
  const notes = (reading.line ?? []).map((note) => ({
    midi: note.midi,
    tick: ticks((starts[note.bar] ?? 0) + note.offset),
    ticks: ticks(note.ticks),
    name: note.pitch.name,
  }));
  return { notes, problems: reading.problems };
}

/** @param name how the line is called in messages */
export function fingerOutcome(input: Uint8Array, name: string, command: FingerCommand): Outcome {
  const { notes, problems } = readLine(input);
  const result = fingerLine(notes, {
    instrument: defaultInstrument,
    hand: command.hand,
    tempo: command.tempo,
    limits: { barredPositions: command.avoid },
    way: command.way,
  });
  const all = [...problems, ...result.problems];
  const messages = all.map((problem) => problemLine(name, problem));
  if (result.impossible) return failed([...messages, `${name}: ${result.impossible.message}`]);
  if (!result.line) return failed([...messages, `${name}: there is no note to finger.`]);
  const { chart } = chartOf({ chartText: '', key: null });
  const asWalk: WalkResult = { ...result, chart, problems: all, timings: {} };
  return { output: formatted(asWalk, command.format, null), messages, exitCode: 0 };
}
