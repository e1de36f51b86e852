// The computation in a thread of its own, so that typing and playing never wait for it.
import { walk } from '../pipeline';
import { answer, type FromWorker, type ToWorker } from './protocol';

self.addEventListener('message', (event: MessageEvent<ToWorker>) => {
  const reply: FromWorker = answer(event.data, walk);
  self.postMessage(reply);
});
