// The computations by the names they are asked for.
import { planNight, type NightCaches } from '../night';
import {
  carriedTo,
  emptyCaches,
  explain,
  fingerBothWays,
  makeLesson,
  makeRound,
  readChartFile,
  readGivenLine,
  walk,
  waysInto,
} from '../pipeline';
import type { Doers, OnProgress } from './protocol';

/** Computations that remember what the request before left: an edit costs what it changes. */
export function makeDoers(): Doers {
  const caches = emptyCaches();
  const lessons = emptyCaches();
  const nights: NightCaches = new Map();
  const watchedBy = (onprogress: OnProgress): typeof caches => {
    caches.watch = (pass, done) => onprogress({ pass, done });
    return caches;
  };
  return {
    walk: (request, onprogress) => walk(request, undefined, watchedBy(onprogress)),
    explain: ({ request, result, room }, onprogress) =>
      explain(request, result, { room }, watchedBy(onprogress)),
    read: ({ source, part }) => readChartFile(source, part ?? undefined),
    bothWays: ({ notes, request }) => fingerBothWays(notes, request),
    ways: ({ request, into, on }, onprogress) => ({
      found: waysInto(request, into, on, watchedBy(onprogress)),
    }),
    readLine: ({ file, part }) => readGivenLine(file, part ?? undefined),
    lesson: ({ request, wish, from }) => {
      const before = from && makeLesson(request, { ...wish, layer: from }, null, lessons);
      const isMade = before === null || before.line !== null;
      return { before, lesson: isMade ? makeLesson(request, wish, before?.line ?? null, lessons) : before };
    },
    round: ({ request, wish }, onprogress) =>
      makeRound(request, wish, (done) => onprogress({ pass: 'round', done }), lessons),
    carry: ({ request, line, timeline, key }) => ({ carried: carriedTo(request, line, timeline, key) }),
    night: (request, onprogress) => planNight(request, (done) => onprogress({ pass: 'night', done }), nights),
  };
}

export const doers: Doers = makeDoers();
