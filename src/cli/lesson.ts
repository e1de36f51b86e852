// ramble lesson and ramble round: a layer on a ground, one change at a time; one study through twelve keys and the whole neck.
import { practicalKeys, printKey, type Key } from '../music';
import {
  carriedTo,
  chartOf,
  emptyCaches,
  layerOf,
  makeLesson,
  makeRound,
  roundKeys,
  walk,
  type CarriedLine,
  type LayerId,
  type Lesson,
  type Caches,
  type WalkRequest,
} from '../pipeline';
import {
  asJson,
  carriedObject,
  carriedToText,
  lessonObject,
  lessonToText,
  roundObject,
  roundToText,
  type ToldLesson,
} from '../export';
import type { LessonCommand, RoundCommand } from './lesson-arguments';
import { namesOn } from './naming';
import { failed, problemLine, readInput, type Outcome } from './outcome';

/** The request that both commands make of a chart, and what was wrong in it. */
function requestOf(
  input: Uint8Array,
  name: string,
  command: LessonCommand | RoundCommand,
): { readonly request: WalkRequest; readonly messages: readonly string[] } {
  const { problems, ...source } = readInput(input);
  const request: WalkRequest = {
    ...source,
    key: null,
    tempo: command.tempo,
    choruses: 1,
    instrument: command.player.instrument,
    hand: command.player.hand,
    limits: { barredPositions: command.avoid, ...command.player.where },
    take: { seed: command.seed, temperature: 1 },
  };
  const read = chartOf(request).problems;
  return { request, messages: [...problems, ...read].map((problem) => problemLine(name, problem)) };
}

/** The layers of one key: each made from the one before it, or all from one that was named. */
function lessonsIn(
  request: WalkRequest,
  { layers, from, ground }: LessonCommand,
  caches: Caches,
): readonly ToldLesson[] {
  const make = (layer: LayerId, before: Lesson | null): Lesson =>
    makeLesson(request, { layer, ground }, before?.line ?? null, caches);
  const named = from === null ? null : make(from, null);
  if (named && !named.line) return [{ lesson: named, from: null }];
  let before = named;
  return layers.map((layer) => {
    const lesson = make(layer, before);
    const told = { lesson, from: lesson.changes && before ? layerOf(before.layer).name : null };
    if (named === null && lesson.line) before = lesson;
    return told;
  });
}

/** All twelve, from the chart's own on; or the one asked for, or the chart's. */
function keysOf(request: WalkRequest, asked: LessonCommand['key']): readonly (Key | null)[] {
  if (asked !== 'all') return [asked];
  const own = chartOf(request).chart.header.key ?? practicalKeys('major')[6]!;
  return roundKeys(own, 'fourths', 0);
}

/** @param name how the chart is called in messages */
export function lessonOutcome(input: Uint8Array, name: string, command: LessonCommand): Outcome {
  const { request, messages } = requestOf(input, name, command);
  const caches = emptyCaches();
  const told = keysOf(request, command.key).flatMap((key) => lessonsIn({ ...request, key }, command, caches));
  if (told.every(({ lesson }) => lesson.timeline === null))
    return failed([...messages, `${name}: nothing in this chart can be played.`]);
  const missing = told.flatMap(({ lesson }) =>
    lesson.impossible
      ? [
          `${name}: ${layerOf(lesson.layer).name}, ${lesson.timeline ? printKey(lesson.timeline.key) : ''}: ${lesson.impossible.message}`,
        ]
      : [],
  );
  const naming = namesOn(request.instrument);
  const objects = told.map((one) => lessonObject(one, naming));
  const isOne = command.key !== 'all' && command.layers.length === 1;
  const output =
    command.format === 'json'
      ? asJson(isOne ? objects[0] : { lessons: objects })
      : told.map((one) => lessonToText(one, namesOn(request.instrument))).join('\n');
  const isNothing = told.every(({ lesson }) => lesson.line === null);
  return { output, messages: [...messages, ...missing], exitCode: isNothing ? 1 : 0 };
}

/** One take of the chart through all keys, its notes moved and fingered anew. */
function carriedOutcome(
  request: WalkRequest,
  name: string,
  command: RoundCommand,
  messages: readonly string[],
): Outcome {
  const { line, timeline, impossible, chart } = walk(request);
  if (!line || !timeline)
    return failed([...messages, `${name}: ${impossible?.message ?? 'nothing in this chart can be played.'}`]);
  const own = chart.header.key ?? timeline.key;
  const carried = roundKeys(own, command.order, command.seed)
    .map((key) => carriedTo(request, line, timeline, key))
    .filter((one): one is CarriedLine => typeof one !== 'string');
  const naming = namesOn(request.instrument);
  const output =
    command.format === 'json'
      ? asJson({ keys: carried.map((one) => carriedObject(one, naming)) })
      : carried.map((one) => carriedToText(one, namesOn(request.instrument))).join('\n');
  return { output, messages, exitCode: 0 };
}

/**
 * @param name how the chart is called in messages
 * @param told how far it has come, from 0 to 1
 */
export function roundOutcome(
  input: Uint8Array,
  name: string,
  command: RoundCommand,
  told: (done: number) => void,
): Outcome {
  const { request, messages } = requestOf(input, name, command);
  if (command.carry) return carriedOutcome(request, name, command, messages);
  const round = makeRound(request, { layer: command.layer, order: command.order }, told);
  if (round.problem === 'nothing to play')
    return failed([...messages, `${name}: nothing in this chart can be played.`]);
  const missing = round.missing.map(
    ({ key, ground, message }) => `${name}: ${printKey(key)}, ${ground}: ${message}`,
  );
  if (round.problem !== null)
    return failed([
      ...messages,
      ...missing,
      `${name}: the keys cannot be shared out so that each ground comes three times.`,
    ]);
  const naming = namesOn(request.instrument);
  const output = command.format === 'json' ? asJson(roundObject(round, naming)) : roundToText(round, naming);
  return { output, messages: [...messages, ...missing], exitCode: 0 };
}
