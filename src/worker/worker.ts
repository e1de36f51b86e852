// The computation in a thread of its own, so that typing and playing never wait for it.
import { doers } from './doers';
import { reply, throttled, type FromWorker, type ToWorker } from './protocol';

/** Milliseconds between two messages of progress: often enough for a moving bar. */
const interval = 100;

const post = (message: FromWorker): void => {
  self.postMessage(message);
};

self.addEventListener('message', ({ data }: MessageEvent<ToWorker>) => {
  const tell = throttled(
    (progress) => post({ kind: 'progress', id: data.id, progress }),
    interval,
    () => performance.now(),
  );
  post(reply(data, doers, tell));
});
