// ramble devices: what the notes of a line are and do, for a take of a chart or for a line of one's own over changes.
import { defaultHand, defaultInstrument } from '../instrument';
import {
  chartOf,
  countDevices,
  labelGiven,
  makeTimeline,
  readGivenLine,
  walk,
  type LabelledLine,
  type Problem,
  type Timeline,
  type WalkResult,
  plainPart,
} from '../pipeline';
import { countsToJson, countsToText, devicesToJson, devicesToText } from '../export';
import type { DevicesCommand } from './lesson-arguments';
import { failed, problemLine, readInput, type Outcome } from './outcome';

function told(
  command: DevicesCommand,
  line: LabelledLine,
  timeline: Timeline,
  problems: readonly Problem[],
  messages: readonly string[],
): Outcome {
  const output = command.format === 'json' ? devicesToJson(line, timeline, problems) : devicesToText(line);
  return { output, messages, exitCode: 0 };
}

/** A take of the chart, as `walk` gives it. */
function walkOf(
  input: Uint8Array,
  command: DevicesCommand,
): { readonly result: WalkResult; readonly problems: readonly Problem[] } {
  const { problems, ...source } = readInput(input);
  const result = walk({
    ...source,
    key: command.key,
    ...plainPart(command, 'request'),
    instrument: defaultInstrument,
    hand: defaultHand,
    limits: { barredPositions: [] },
    wishes: plainPart(command, 'wishes'),
    take: { seed: command.seed, temperature: command.temperature },
  });
  return { result, problems: [...problems, ...result.problems] };
}

/** A take of the chart, note by note. */
function ofChart(input: Uint8Array, name: string, command: DevicesCommand): Outcome {
  const { result, problems: all } = walkOf(input, command);
  const messages = all.map((problem) => problemLine(name, problem));
  if (!result.line || !result.timeline)
    return failed([...messages, `${name}: nothing in this chart can be played.`]);
  return told(command, result.line, result.timeline, all, messages);
}

const mostChoruses = 64;

/** Several takes counted together, beside people's figures. */
function ofTakes(
  input: Uint8Array,
  name: string,
  command: DevicesCommand,
  takes: readonly number[],
): Outcome {
  const walks = takes.map((seed) => walkOf(input, { ...command, seed }));
  const [first] = walks;
  const messages = (first?.problems ?? []).map((problem) => problemLine(name, problem));
  const lines = walks.flatMap(({ result: { line, timeline } }) =>
    line && timeline ? [{ notes: line.notes, devices: line.devices, bars: timeline.bars.length }] : [],
  );
  if (lines.length === 0) return failed([...messages, `${name}: nothing in this chart can be played.`]);
  const counts = countDevices(lines);
  const output = command.format === 'json' ? countsToJson(counts, takes) : countsToText(counts, takes);
  return { output, messages, exitCode: 0 };
}

/** A line of one's own, laid over the changes from their first bar on, as often round as it takes. */
function ofLine(
  input: Uint8Array,
  name: string,
  changes: { readonly input: Uint8Array; readonly name: string },
  command: DevicesCommand,
): Outcome {
  const { notes, problems } = readGivenLine(input);
  const source = readInput(changes.input);
  const { chart, problems: read } = chartOf({ ...source, key: command.key });
  const once = makeTimeline(chart, { choruses: 1, tempo: null });
  const end = notes.at(-1)?.tick ?? 0;
  const choruses = Math.min(mostChoruses, Math.floor(end / Math.max(1, once.timeline?.ticks ?? 1)) + 1);
  const { timeline } = choruses > 1 ? makeTimeline(chart, { choruses, tempo: null }) : once;
  const messages = [
    ...problems.map((problem) => problemLine(name, problem)),
    ...[...source.problems, ...read, ...once.problems].map((problem) => problemLine(changes.name, problem)),
  ];
  if (!timeline) return failed([...messages, `${changes.name}: no bar of this chart can be played.`]);
  if (notes.length === 0) return failed([...messages, `${name}: there is no note to label.`]);
  const line = labelGiven(notes, timeline);
  const left = notes.length - line.notes.length;
  const more = left > 0 ? [`${name}: ${left} notes lie beyond the changes and were left out.`] : [];
  return told(command, line, timeline, problems, [...messages, ...more]);
}

/** @param changes the chart under a line of one's own; null where the input is a chart itself */
export const devicesOutcome = (
  input: Uint8Array,
  name: string,
  changes: { readonly input: Uint8Array; readonly name: string } | null,
  command: DevicesCommand,
): Outcome => {
  if (changes) return ofLine(input, name, changes, command);
  return command.takes ? ofTakes(input, name, command, command.takes) : ofChart(input, name, command);
};
