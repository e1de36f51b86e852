// The computation in a thread of its own, so that typing and playing never wait for it.
import { doers } from './doers';
import { reply, type ToWorker } from './protocol';

self.addEventListener('message', (event: MessageEvent<ToWorker>) => {
  self.postMessage(reply(event.data, doers));
});
