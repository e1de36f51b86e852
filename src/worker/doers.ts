// The computations by the names they are asked for.
import { planNight } from '../night';
import {
  emptyMemory,
  explain,
  fingerBothWays,
  importFile,
  importText,
  readGivenLine,
  walk,
  waysInto,
} from '../pipeline';
import type { Doers, OnProgress } from './protocol';

/** Computations that remember what the request before left: an edit costs what it changes. */
export function makeDoers(): Doers {
  const memory = emptyMemory();
  const watchedBy = (onprogress: OnProgress): typeof memory => {
    memory.watch = (pass, done) => onprogress({ pass, done });
    return memory;
  };
  return {
    walk: (request, onprogress) => walk(request, undefined, watchedBy(onprogress)),
    explain: ({ request, result, room }, onprogress) =>
      explain(request, result, { room }, watchedBy(onprogress)),
    read: (source) => (typeof source === 'string' ? importText(source) : importFile(source)),
    bothWays: ({ notes, request }) => fingerBothWays(notes, request),
    ways: ({ request, into, on }, onprogress) => ({
      found: waysInto(request, into, on, watchedBy(onprogress)),
    }),
    readLine: (file) => readGivenLine(file),
    night: (request, onprogress) => planNight(request, (done) => onprogress({ pass: 'night', done })),
  };
}

export const doers: Doers = makeDoers();
